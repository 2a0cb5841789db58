"use client";

import { useEffect, useState } from "react";

const workerScript = "/serwist/sw.js";
const lookAgainMs = 60 * 60_000;

interface Waiting {
  worker: ServiceWorker;
  /** Whether it waited already when the page was opened. */
  sinceOpening: boolean;
}

function activate(waiting: ServiceWorker): void {
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.postMessage({ type: "SKIP_WAITING" });
}

/**
 * Has this browser keep the field screens, so that they open without home. A version that was waiting when the page was
 * opened is used at once where nothing is open; one that comes later waits for the next opening or for `useNew`.
 *
 * @param open whether a walk is under way, in this tab or another; null while that is not known.
 */
export function useWorker(open: boolean | null): { newWaits: boolean; useNew(): void } {
  const [waiting, setWaiting] = useState<Waiting | null>(null);

  useEffect(() => {
    // There only over HTTPS or on this machine; the development server changes too fast to be kept.
    const { serviceWorker } = navigator;
    if (!serviceWorker || process.env.NODE_ENV !== "production") return;
    let registration: ServiceWorkerRegistration | undefined;
    let lookedMs = Date.now();
    const lookAgain = () => {
      if (document.visibilityState !== "visible" || Date.now() - lookedMs < lookAgainMs) return;
      lookedMs = Date.now();
      registration?.update().catch(() => undefined);
    };
    const watch = (coming: ServiceWorker | null) =>
      coming?.addEventListener("statechange", () => {
        if (coming.state === "installed" && serviceWorker.controller)
          setWaiting({ worker: coming, sinceOpening: false });
      });
    document.addEventListener("visibilitychange", lookAgain);
    serviceWorker
      .register(workerScript, { scope: "/", updateViaCache: "none" })
      .then((registered) => {
        registration = registered;
        if (registered.waiting) setWaiting({ worker: registered.waiting, sinceOpening: true });
        // One may be on its way already when the page asks.
        watch(registered.installing);
        registered.addEventListener("updatefound", () => watch(registered.installing));
      })
      // Without home there is nothing new; what is kept here goes on working.
      .catch(() => undefined);
    return () => document.removeEventListener("visibilitychange", lookAgain);
  }, []);

  useEffect(() => {
    if (!waiting?.sinceOpening || open === null) return;
    // The end of a walk that was open must not load the page anew by itself.
    if (open) setWaiting({ ...waiting, sinceOpening: false });
    else activate(waiting.worker);
  }, [open, waiting]);

  return {
    newWaits: waiting !== null && open === false,
    useNew: () => waiting && activate(waiting.worker),
  };
}

"use client";

import { useEffect } from "react";

/** Keeps the screen lit while a walk is on it, where the browser can: a dark screen needs a dry finger to wake it. */
export function useWakeLock(): void {
  useEffect(() => {
    const lamp = navigator.wakeLock as WakeLock | undefined;
    let held: WakeLockSentinel | null = null;
    let over = false;
    const hold = async () => {
      if (document.visibilityState !== "visible" || !lamp) return;
      // Refused when the battery is low: the walk goes on without it.
      const sentinel = await lamp.request("screen").catch(() => null);
      if (over) await sentinel?.release();
      else held = sentinel;
    };
    void hold();
    document.addEventListener("visibilitychange", hold);
    return () => {
      over = true;
      document.removeEventListener("visibilitychange", hold);
      void held?.release();
    };
  }, []);
}

"use client";

import { usePathname } from "next/navigation";
import { useEffect, useState } from "react";
import { useDeviceState } from "../_field/use-device";
import styles from "./offline.module.css";
import { useWorker } from "./use-worker";

/** The page that was asked for and could not be had from home, taken out of the address. */
function takeAsked(): string | null {
  const address = new URL(location.href);
  const asked = address.searchParams.get("asked");
  if (asked === null) return null;
  address.searchParams.delete("asked");
  history.replaceState(history.state, "", address);
  return asked;
}

/**
 * Keeps the field screens on the phone. Says when another page was asked for that only home has, when home
 * wants somebody signed in, and when a newer version of the screens may be used.
 */
export function KeepOffline() {
  const { ready, kept, trouble } = useDeviceState();
  const path = usePathname();
  const { newWaits, useNew } = useWorker(ready ? kept.walk !== null && !kept.walk.ended : null);
  const [asked, setAsked] = useState<string | null>(null);
  useEffect(() => {
    const found = takeAsked();
    if (found !== null) setAsked(found);
  }, []);
  return (
    <>
      {asked !== null && (
        <p className={styles.line} role="status">
          Home cannot be reached, and only home has that page. The walkabout and the weigh-in work without it.
        </p>
      )}
      {trouble === "sign in" && (
        <p className={styles.line}>
          Home does not know this phone, or its session has ended. What is recorded here stays here until
          somebody signs in.{" "}
          <a className={styles.use} href={`/sign-in?to=${path}`}>
            Sign in
          </a>
        </p>
      )}
      {newWaits && (
        <p className={styles.line}>
          Home has a newer version of these screens. What is kept on this phone stays.{" "}
          <button type="button" className={styles.use} onClick={useNew}>
            Use the new version
          </button>
        </p>
      )}
    </>
  );
}

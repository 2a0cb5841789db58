"use client";

import { useEffect, useState } from "react";

/** The present moment in milliseconds, drawn anew twice a minute; null until the page is in a browser. */
export function useNowMs(): number | null {
  const [nowMs, setNowMs] = useState<number | null>(null);
  useEffect(() => {
    const tell = () => setNowMs(Date.now());
    tell();
    const clock = setInterval(tell, 30_000);
    document.addEventListener("visibilitychange", tell);
    return () => {
      clearInterval(clock);
      document.removeEventListener("visibilitychange", tell);
    };
  }, []);
  return nowMs;
}

"use client";

import { useSaid } from "./said";

/** What was done last, and what was ignored; read out when it changes. */
export function StatusLine({ className }: { className?: string }) {
  const said = useSaid();
  return (
    <p role="status" className={className}>
      {said}
    </p>
  );
}

"use client";

import { useEffect, useRef } from "react";
import type { Fault } from "@/lib/words/fault";

/** The id of the field of a place in a form: `entries.2.variety` becomes `entries-2-variety`. */
export function fieldId(place: string): string {
  return place.replaceAll(".", "-");
}

/** What is wrong at one place, in a sentence. */
export function sayFault({ found, wanted }: Fault): string {
  return found === "nothing" ? `Needs ${wanted}.` : `Found ${found}; needs ${wanted}.`;
}

/**
 * Every fault of a form at its top, each a link to its field. It takes the focus when it comes, so that it is heard
 * and seen; nothing that was typed is touched.
 */
export function ErrorSummary({ faults, labelOf }: { faults: Fault[]; labelOf: (place: string) => string }) {
  const holder = useRef<HTMLElement>(null);
  useEffect(() => {
    if (faults.length > 0) holder.current?.focus();
  }, [faults]);
  if (faults.length === 0) return null;
  return (
    <section
      ref={holder}
      className="error-summary"
      role="alert"
      tabIndex={-1}
      aria-labelledby="what-is-wrong"
    >
      <h2 id="what-is-wrong">
        {faults.length === 1 ? "One thing needs mending" : `${faults.length} things need mending`}
      </h2>
      <ul>
        {faults.map((fault) => (
          <li key={`${fault.place} ${fault.wanted}`}>
            <a href={`#${fieldId(fault.place)}`}>{labelOf(fault.place)}</a>: {sayFault(fault)}
          </li>
        ))}
      </ul>
    </section>
  );
}

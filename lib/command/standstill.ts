import type { Pages } from "./gated";

/** Lets requests through to the pages and counts those under way, so that something can be done while there are none. */
export interface Standstill {
  through(pages: Pages): Pages;
  /**
   * Answers new requests with the holding page, waits until those under way have ended, does the work, and lets requests
   * through again. False, with nothing done, when they do not end in time.
   */
  during(work: () => Promise<void>, withinMs: number): Promise<boolean>;
}

/** See `Standstill`. */
export function standstill(holding: Pages): Standstill {
  let underWay = 0;
  let isHeld = false;
  let whenNone = () => {};
  return {
    through: (pages) => (request, answer) => {
      if (isHeld) return holding(request, answer);
      underWay += 1;
      answer.once("close", () => {
        underWay -= 1;
        if (underWay === 0) whenNone();
      });
      pages(request, answer);
    },
    async during(work, withinMs) {
      isHeld = true;
      try {
        const inTime = await new Promise<boolean>((resolve) => {
          const late = setTimeout(() => resolve(false), withinMs);
          whenNone = () => {
            clearTimeout(late);
            resolve(true);
          };
          if (underWay === 0) whenNone();
        });
        if (inTime) await work();
        return inTime;
      } finally {
        whenNone = () => {};
        isHeld = false;
      }
    },
  };
}

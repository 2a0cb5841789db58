import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";

const phone = "00000000-0000-7000-8000-00000000000a";

/** The `count`-th id, in the form of the real ones. */
export function idOf(count: number): string {
  return `00000000-0000-7000-9000-${String(count).padStart(12, "0")}`;
}

/** Makes facts for one test: each call is the next fact of the phone, with an id of its own. */
export function factMaker(plotId = "plot-1") {
  let made = 0;
  return (seenOn: string, kind: Observation["kind"], rest: Partial<Observation> = {}): Observation => {
    made += 1;
    return {
      id: idOf(made),
      deviceId: phone,
      deviceSequence: made,
      walkaboutId: null,
      plotId,
      cohortOn: null,
      kind,
      cause: null,
      trait: null,
      part: null,
      amount: null,
      unit: "plants",
      seenOn: seenOn as Day,
      recordedAt: `${seenOn}T18:00:00.000Z` as Instant,
      replaces: null,
      by: "Ina",
      note: null,
      ...rest,
    };
  };
}

import type * as z from "zod/mini";
import type { bedFactSchema } from "./bed-fact-schema";
import type { Day } from "./day";
import type { Instant } from "./instant";
import type { Observation } from "./observation";
import { sayTenthsC } from "./temperature";
import { sayWeightG } from "./weight";

/**
 * What can be said of a whole bed, whether a trial stands in it or not. `looked`: seen, nothing to tell. `cover`: how the
 * cover stands (`what` is shut, open or off). `lowest`: the lowest temperature since the last look. `ready` and `harvest`
 * are of a crop in words; a harvest of 0 g is *nothing to pick*, without an amount *not picked*.
 */
export const bedFactKinds = [
  "looked",
  "not-seen",
  "cover",
  "lowest",
  "treatment",
  "condition",
  "pest",
  "ready",
  "harvest",
  "note",
  "withdrawn",
] as const;
export type BedFactKind = (typeof bedFactKinds)[number];

export const bedFactUnits = ["g", "tenths-c"] as const;
export type BedFactUnit = (typeof bedFactUnits)[number];

export type Reach = "whole" | "part";

export const coverStates = ["shut", "open", "off"] as const;
export type CoverState = (typeof coverStates)[number];

/** What is done to a bed on a walk, in its fixed order; anything else is a note. */
export const treatments = [
  "watered",
  "fed",
  "slugs gathered",
  "weeded",
  "earthed up",
  "mulched",
  "cover mended",
] as const;

/** See `bedFactSchema`. */
export type BedFact = Omit<z.infer<typeof bedFactSchema>, "seenOn" | "recordedAt"> & {
  seenOn: Day;
  recordedAt: Instant;
};

/** Anything that a device records: of a plot or of a bed. */
export type Fact = Observation | BedFact;

/** Whether a fact is of a bed; every other is of a plot. */
export function isBedFact<Some extends object>(fact: Some): fact is Extract<Some, { bedId: string }> {
  return "bedId" in fact;
}

const coverWords: Record<CoverState, string> = { shut: "cover shut", open: "cover open", off: "cover off" };

/** What a bed fact says, without its bed, day and person: *cover open*, *lowest −3.5 °C*, *watered*. */
export function sayBedFact(fact: Pick<BedFact, "kind" | "what" | "reach" | "amount" | "note">): string {
  const { kind, what, amount, note } = fact;
  switch (kind) {
    case "looked":
      return "looked over";
    case "not-seen":
      return "could not look";
    case "cover":
      return coverWords[what as CoverState] ?? `cover ${what}`;
    case "lowest":
      return `lowest ${sayTenthsC(amount ?? 0)}`;
    case "treatment":
      return fact.reach === "part" ? `${what}, part of the bed only` : `${what}`;
    case "pest":
      return `${what} seen`;
    case "ready":
      return `${what} ready to pick`;
    case "harvest":
      if (amount === null) return `${what}: not picked`;
      return amount === 0 ? `${what}: nothing to pick` : `${what}: ${sayWeightG(amount)} picked`;
    case "condition":
    case "note":
      return note ?? "";
    case "withdrawn":
      return `taken back: ${note}`;
  }
}

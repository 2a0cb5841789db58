import * as z from "zod/mini";
import type { Day } from "./day";
import type { Instant } from "./instant";
import { clockSkewSchema, daySchema, instantSchema, type Observation } from "./observation";
import { pictureName } from "./picture";
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

const shortText = z.string().check(z.minLength(1), z.maxLength(120));

/** One fact of a bed, as it is recorded and kept; never edited. Its common parts are those of `Observation`. */
export const bedFactSchema = z.object({
  id: z.uuid(),
  deviceId: z.uuid(),
  deviceSequence: z.int().check(z.minimum(0), z.maximum(Number.MAX_SAFE_INTEGER)),
  walkaboutId: z.nullable(z.uuid()),
  bedId: z.string().check(z.minLength(1), z.maxLength(80)),
  kind: z.enum(bedFactKinds),
  what: z.nullable(shortText),
  /** A treatment of the whole bed or of part of it; null for every other kind. */
  reach: z.nullable(z.enum(["whole", "part"])),
  amount: z.nullable(z.int().check(z.minimum(-1_000), z.maximum(1_000_000))),
  unit: z.nullable(z.enum(bedFactUnits)),
  seenOn: daySchema,
  recordedAt: instantSchema,
  clockSkewS: clockSkewSchema,
  replaces: z.nullable(z.uuid()),
  picture: z.nullable(pictureName),
  by: z.string().check(z.maxLength(120)),
  note: z.nullable(z.string().check(z.maxLength(10_000))),
});

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

const named: readonly BedFactKind[] = ["cover", "treatment", "pest", "ready", "harvest"];

/** The reason why a bed fact's own parts do not fit together, or null when they do. */
export function bedFactMisfit(fact: BedFact): { field: keyof BedFact; wanted: string } | null {
  const { kind, what, amount, unit } = fact;
  if (named.includes(kind) && what === null) return { field: "what", wanted: "the name of what it is of" };
  if (kind === "cover" && !coverStates.some((state) => state === what))
    return { field: "what", wanted: "shut, open or off" };
  if (kind === "lowest" && (amount === null || unit !== "tenths-c"))
    return { field: "amount", wanted: "tenths of a degree" };
  if (kind === "lowest" && Math.abs(amount as number) > 600)
    return { field: "amount", wanted: "from −60 to 60 °C" };
  if (kind === "harvest" && (unit !== "g" || (amount !== null && amount < 0)))
    return { field: "amount", wanted: "whole grams" };
  if ((kind === "condition" || kind === "note") && !fact.note) return { field: "note", wanted: "the words" };
  if (kind === "withdrawn" && (!fact.replaces || !fact.note))
    return { field: "note", wanted: "the fact withdrawn, and why" };
  return null;
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

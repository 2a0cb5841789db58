import * as z from "zod/mini";
import { type BedFact, type BedFactKind, bedFactKinds, bedFactUnits, coverStates } from "./bed-fact";
import { clockSkewSchema, daySchema, instantSchema } from "./observation";
import { pictureName } from "./picture";

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

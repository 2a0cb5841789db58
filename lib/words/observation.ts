import * as z from "zod/mini";
import { type Day, isDay } from "./day";
import { growthStage, lastGrowthStage } from "./growth-stage";
import { harvestParts } from "./harvest-part";
import { type Instant, isInstant } from "./instant";
import { pictureName } from "./picture";

export { type HarvestPart, harvestParts } from "./harvest-part";

export const daySchema = z.string().check(z.refine(isDay, "a day such as 2027-03-04"));
export const instantSchema = z
  .string()
  .check(z.refine(isInstant, "a UTC instant such as 2027-03-04T08:10:00.000Z"));
/** By how many seconds the device's clock was ahead of home's, where it knew. */
export const clockSkewSchema = z.nullable(z.int().check(z.minimum(-3_200_000_000), z.maximum(3_200_000_000)));
const wholeNumber = z.int().check(z.minimum(0), z.maximum(100_000));
const shortText = z.string().check(z.maxLength(120));

/**
 * The kinds of fact. `harvest` with amount 0 is *nothing to pick*; with amount null it is *not picked* (missing).
 * `withdrawn` takes back the fact that it replaces and says why. `count` is of a trait (first flower stems, say).
 */
export const observationKinds = [
  "stand",
  "loss",
  "removed",
  "added",
  "regrew",
  "doubtful",
  "not-seen",
  "score",
  "count",
  "harvest",
  "ended",
  "note",
  "withdrawn",
] as const;
export type ObservationKind = (typeof observationKinds)[number];

export const observationUnits = ["plants", "g", "score", "percent", "count"] as const;
export type ObservationUnit = (typeof observationUnits)[number];

/**
 * One fact from a walkabout or the kitchen, as it is recorded and as it is kept; never edited afterwards.
 *
 * - `id`: a UUIDv7 made where the fact is recorded. `deviceSequence` counts up on that device: facts fold in the order
 *   (`seenOn`, `deviceId`, `deviceSequence`), never in the order in which they arrive.
 * - `plotId`: a trial plot. `cohortOn`: the day on which the plants concerned were set out; null means the plot's
 *   planting. A plot's later gap-filling is another cohort, named by its own day.
 * - `cause`: a loss's cause, a removal's reason, a harvest's or score's cause when it is of damage; otherwise null.
 * - `amount`: plants for stand, loss, removed, added, regrew, doubtful; the figure for score, count and harvest; null
 *   where there is none.
 * - `replaces`: the id of the fact that this one corrects or withdraws; both stay in the history.
 * - `clockSkewS` and `picture` came with the second version of the contract and are left out where there are none.
 */
export const observationSchema = z.object({
  id: z.uuid(),
  deviceId: z.uuid(),
  deviceSequence: z.int().check(z.minimum(0), z.maximum(Number.MAX_SAFE_INTEGER)),
  walkaboutId: z.nullable(z.uuid()),
  plotId: z.string().check(z.minLength(1), z.maxLength(80)),
  cohortOn: z.nullable(daySchema),
  kind: z.enum(observationKinds),
  cause: z.nullable(shortText),
  trait: z.nullable(shortText),
  part: z.nullable(z.enum(harvestParts)),
  amount: z.nullable(z.number().check(z.minimum(0), z.maximum(1_000_000))),
  unit: z.nullable(z.enum(observationUnits)),
  seenOn: daySchema,
  recordedAt: instantSchema,
  replaces: z.nullable(z.uuid()),
  by: shortText,
  note: z.nullable(z.string().check(z.maxLength(10_000))),
  clockSkewS: z.optional(clockSkewSchema),
  picture: z.optional(z.nullable(pictureName)),
});

type ObservationShape = z.infer<typeof observationSchema>;

/** See `observationSchema`. */
export type Observation = Omit<ObservationShape, "seenOn" | "recordedAt" | "cohortOn"> & {
  seenOn: Day;
  recordedAt: Instant;
  cohortOn: Day | null;
};

/** What each kind of fact must carry besides its place and day. Whole numbers of plants; a score is 0 to 9. */
const plantKinds: readonly ObservationKind[] = ["stand", "loss", "removed", "added", "regrew", "doubtful"];

/** The reason why a fact's own parts do not fit together, or null when they do. Knows nothing of other facts. */
export function observationMisfit(fact: Observation): { field: string; wanted: string } | null {
  const { kind, amount, unit } = fact;
  if (plantKinds.includes(kind)) {
    if (amount === null || !wholeNumber.safeParse(amount).success)
      return { field: "amount", wanted: "a whole number of plants" };
    if (unit !== "plants") return { field: "unit", wanted: "plants" };
  }
  if (kind === "loss" && !fact.cause) return { field: "cause", wanted: "a cause; unknown is one" };
  if (kind === "removed" && !fact.cause)
    return { field: "cause", wanted: "a reason such as cut, thinned or moved" };
  if (kind === "score" || kind === "count") {
    if (!fact.trait) return { field: "trait", wanted: "what the figure is of" };
    if (amount === null) return { field: "amount", wanted: "a figure" };
  }
  if (kind === "score" && unit === "score" && (amount as number) > 9)
    return { field: "amount", wanted: "a score from 0 to 9" };
  if (kind === "score" && unit === "percent" && (amount as number) > 100)
    return { field: "amount", wanted: "0 to 100 percent" };
  if (kind === "score" && unit !== "score" && unit !== "percent")
    return { field: "unit", wanted: "score or percent" };
  if (kind === "count" && (unit !== "count" || !wholeNumber.safeParse(amount).success))
    return { field: "amount", wanted: "a whole count" };
  if (kind === "count" && fact.trait === growthStage && (amount as number) > lastGrowthStage)
    return { field: "amount", wanted: "a growth stage (BBCH) from 00 to 99" };
  if (kind === "harvest" && unit !== "g" && unit !== "count") return { field: "unit", wanted: "g or count" };
  if (kind === "harvest" && amount !== null && !Number.isInteger(amount))
    return { field: "amount", wanted: "whole grams" };
  if (kind === "withdrawn" && (!fact.replaces || !fact.note))
    return { field: "note", wanted: "the fact withdrawn, and why" };
  return null;
}

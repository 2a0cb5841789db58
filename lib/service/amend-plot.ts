import * as z from "zod/mini";
import { inOneAct } from "@/db/open";
import { appendAmendment } from "@/db/queries/append-amendment";
import { listAmendments } from "@/db/queries/list-amendments";
import { listEntries } from "@/db/queries/list-entries";
import { listPlots } from "@/db/queries/list-plots";
import type { Day } from "@/lib/words/day";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { daySchema } from "@/lib/words/observation";
import type { House } from "./house";
import { readForm } from "./read-form";
import { sameName } from "./same-name";

const amendmentSchema = z.object({
  trialId: z.string(),
  plotId: z.string().check(z.minLength(1)),
  /** `excluded`: out of the reckoning, by a person's judgement; `missing`: nothing there to be judged. */
  /** `another variety`: planted with one that was not dealt to it; it counts for neither from then on. */
  kind: z.enum(["excluded", "missing", "another variety"]),
  /** The name of that variety, and of none but that. */
  plantedVariety: z.optional(z.string().check(z.trim(), z.maxLength(80))),
  fromOn: daySchema,
  reason: z.string().check(z.trim(), z.minLength(1), z.maxLength(10_000)),
  by: z.string().check(z.trim(), z.maxLength(120)),
});

/**
 * Takes a plot out of the reckoning from a day on, with the reason that the analysis will show. Sent twice it is written
 * down once.
 */
export function amendPlot(house: House, input: unknown): Outcome<{ amendmentId: string }> {
  const form = readForm(amendmentSchema, input);
  if (!form.ok) return form;
  const { database } = house;
  const { trialId, plotId, kind } = form.value;
  const planted = kind === "another variety" ? form.value.plantedVariety || null : null;
  if (kind === "another variety" && planted === null)
    return refusal([
      { place: "plantedVariety", found: "nothing", wanted: "the variety that was planted there" },
    ]);
  return inOneAct(database, () => {
    const plot = listPlots(database, trialId).find((row) => row.id === plotId);
    if (!plot) return refusal([{ place: "plotId", found: plotId, wanted: "a plot of this trial" }]);
    const entry = planted && listEntries(database, trialId).find((row) => sameName(row.variety, planted));
    if (entry && entry.id === plot.entryId) {
      const wanted = "another variety than the one that was dealt to the plot";
      return refusal([{ place: "plantedVariety", found: entry.variety, wanted }]);
    }
    const fromOn = form.value.fromOn as Day;
    const written = listAmendments(database, trialId).find(
      (row) =>
        row.plotId === plotId &&
        row.kind === kind &&
        row.plantedVariety === (entry ? entry.variety : planted) &&
        row.fromOn === fromOn &&
        row.reason === form.value.reason,
    );
    if (written) return success({ amendmentId: written.id });
    const amendmentId = house.newId();
    appendAmendment(database, {
      id: amendmentId,
      ...form.value,
      fromOn,
      madeAt: house.now(),
      plantedVariety: entry ? entry.variety : planted,
      plantedEntryId: entry ? entry.id : null,
    });
    return success({ amendmentId });
  });
}

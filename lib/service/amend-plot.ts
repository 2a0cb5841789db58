import * as z from "zod/mini";
import { inOneAct } from "@/db/open";
import { appendAmendment } from "@/db/queries/append-amendment";
import { findPlot } from "@/db/queries/find-plot";
import { listAmendments } from "@/db/queries/list-amendments";
import type { Day } from "@/lib/words/day";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { daySchema } from "@/lib/words/observation";
import type { House } from "./house";
import { readForm } from "./read-form";

const amendmentSchema = z.object({
  trialId: z.string(),
  plotId: z.string().check(z.minLength(1)),
  /** `excluded`: out of the reckoning, by a person's judgement; `missing`: nothing there to be judged. */
  kind: z.enum(["excluded", "missing"]),
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
  const { trialId, plotId } = form.value;
  return inOneAct(database, () => {
    if (findPlot(database, plotId)?.trialId !== trialId) {
      return refusal([{ place: "plotId", found: plotId, wanted: "a plot of this trial" }]);
    }
    const fromOn = form.value.fromOn as Day;
    const written = listAmendments(database, trialId).find(
      (row) =>
        row.plotId === plotId &&
        row.kind === form.value.kind &&
        row.fromOn === fromOn &&
        row.reason === form.value.reason,
    );
    if (written) return success({ amendmentId: written.id });
    const amendmentId = house.newId();
    appendAmendment(database, { id: amendmentId, ...form.value, fromOn, madeAt: house.now() });
    return success({ amendmentId });
  });
}

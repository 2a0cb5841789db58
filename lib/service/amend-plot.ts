import * as z from "zod/mini";
import { inOneAct } from "@/db/open";
import { appendAmendment } from "@/db/queries/append-amendment";
import { findPlot } from "@/db/queries/find-plot";
import type { Day } from "@/lib/words/day";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { daySchema } from "@/lib/words/observation";
import type { House } from "./house";
import { readForm } from "./read-form";

const amendmentSchema = z.object({
  trialId: z.string(),
  plotId: z.string(),
  /** `excluded`: out of the reckoning, by a person's judgement; `missing`: nothing there to be judged. */
  kind: z.enum(["excluded", "missing"]),
  fromOn: daySchema,
  reason: z.string().check(z.trim(), z.minLength(1), z.maxLength(10_000)),
  by: z.string().check(z.trim(), z.maxLength(120)),
});

/** Takes a plot out of the reckoning from a day on, with the reason that the analysis will show. */
export function amendPlot(house: House, input: unknown): Outcome<{ amendmentId: string }> {
  const form = readForm(amendmentSchema, input);
  if (!form.ok) return form;
  const { database } = house;
  const { trialId, plotId } = form.value;
  return inOneAct(database, () => {
    if (findPlot(database, plotId)?.trialId !== trialId) {
      return refusal([{ place: "plotId", found: plotId, wanted: "a plot of this trial" }]);
    }
    const amendmentId = house.newId();
    const fromOn = form.value.fromOn as Day;
    appendAmendment(database, { id: amendmentId, ...form.value, fromOn, madeAt: house.now() });
    return success({ amendmentId });
  });
}

import * as z from "zod/mini";
import { inOneAct } from "@/db/open";
import { appendAmendment } from "@/db/queries/append-amendment";
import { closeTrialRow } from "@/db/queries/close-trial-row";
import { findTrial } from "@/db/queries/find-trial";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import type { House } from "./house";
import { readForm } from "./read-form";
import { todayAt } from "./today-at";

const closingSchema = z.object({
  reason: z.string().check(z.trim(), z.minLength(1), z.maxLength(10_000)),
  by: z.string().check(z.trim(), z.maxLength(120)),
});

/** Ends a trial today, with its reason. Facts that arrive late are still taken; the layout and record stay. */
export function closeTrial(house: House, trialId: string, input: unknown): Outcome<null> {
  const form = readForm(closingSchema, input);
  if (!form.ok) return form;
  const { database } = house;
  return inOneAct(database, () => {
    const trial = findTrial(database, trialId);
    if (!trial) return refusal([{ place: "trialId", found: trialId, wanted: "a trial of this garden" }]);
    if (trial.closedOn !== null) {
      return refusal([{ place: "trialId", found: `closed on ${trial.closedOn}`, wanted: "an open trial" }]);
    }
    const closedOn = todayAt(house);
    closeTrialRow(database, trialId, closedOn);
    appendAmendment(database, {
      id: house.newId(),
      trialId,
      plotId: null,
      kind: "closed",
      fromOn: closedOn,
      ...form.value,
      madeAt: house.now(),
    });
    return success(null);
  });
}

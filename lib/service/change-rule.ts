import * as z from "zod/mini";
import { inOneAct } from "@/db/open";
import { appendRule } from "@/db/queries/append-rule";
import { findTrial } from "@/db/queries/find-trial";
import { listRules } from "@/db/queries/list-rules";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { trialPlanSchema } from "@/lib/words/trial-plan";
import type { House } from "./house";
import { readForm } from "./read-form";

const changeSchema = z.extend(trialPlanSchema.shape.rule, {
  reason: z.string().check(z.trim(), z.minLength(1), z.maxLength(10_000)),
});

/** Sets a new version of the decision rule beside the old ones. The reason is asked for always. */
export function changeRule(house: House, trialId: string, input: unknown): Outcome<{ version: number }> {
  const form = readForm(changeSchema, input);
  if (!form.ok) return form;
  const { database } = house;
  return inOneAct(database, () => {
    if (!findTrial(database, trialId)) {
      return refusal([{ place: "trialId", found: trialId, wanted: "a trial of this garden" }]);
    }
    const version = (listRules(database, trialId).at(-1)?.version ?? 0) + 1;
    appendRule(database, { trialId, version, ...form.value, setAt: house.now() });
    return success({ version });
  });
}

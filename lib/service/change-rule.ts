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
  /** The version that was in force where the change was begun, so that sending it twice changes the rule once. */
  after: z.optional(z.int()),
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
    const { after, ...change } = form.value;
    const last = listRules(database, trialId).at(-1);
    const lastVersion = last?.version ?? 0;
    if (after !== undefined && after !== lastVersion) {
      const isSame =
        last?.reason === change.reason &&
        last.survivalFloor === change.survivalFloor &&
        last.yieldFloor === change.yieldFloor &&
        last.sureness === change.sureness;
      if (isSame) return success({ version: lastVersion });
      const wanted = "a change begun from the rule as it stands now; look at it and begin again";
      return refusal([{ place: "after", found: "the rule was changed in the meantime", wanted }]);
    }
    const version = lastVersion + 1;
    appendRule(database, { trialId, version, ...change, setAt: house.now() });
    return success({ version });
  });
}

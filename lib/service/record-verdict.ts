import * as z from "zod/mini";
import { inOneAct } from "@/db/open";
import { appendVerdict } from "@/db/queries/append-verdict";
import { listVerdicts } from "@/db/queries/list-verdicts";
import type { TrialFindings } from "@/lib/analysis/finding";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import type { House } from "./house";
import { readForm } from "./read-form";
import type { Use, VerdictFigures } from "./trial-verdicts";
import { trialView } from "./trial-view";
import { verdictFindings } from "./verdict-findings";

const verdictSchema = z.object({
  trialId: z.string(),
  entryId: z.string(),
  choice: z.enum(["grow again", "try once more", "drop"]),
  reason: z.string().check(z.trim(), z.minLength(1), z.maxLength(10_000)),
  by: z.string().check(z.trim(), z.maxLength(120)),
  /** What the crop is wanted for, where it is not the trial's own purpose. */
  purpose: z.optional(z.string().check(z.trim(), z.maxLength(120))),
});

function figuresFor(
  findings: TrialFindings | null,
  variety: string,
  ruleVersion: number | null,
): VerdictFigures {
  const mean = findings?.yield?.value.varieties.find((row) => row.variety === variety);
  return {
    asOf: findings?.at ?? null,
    ruleVersion,
    survival: findings?.survival?.value.varieties.find((row) => row.variety === variety) ?? null,
    yield:
      mean && findings?.yield
        ? { ...mean, per: findings.yield.value.per, unit: findings.yield.value.unit }
        : null,
    proposal: findings?.proposals?.value.find((row) => row.variety === variety) ?? null,
  };
}

/**
 * Writes down a person's verdict on an entry, beside the figures and the proposal as they stand. A later verdict on the
 * same entry is another row; the earlier one stays. The same verdict sent again on its day is written down once.
 */
export function recordVerdict(house: House, input: unknown): Outcome<{ verdictId: string }> {
  const form = readForm(verdictSchema, input);
  if (!form.ok) return form;
  const { trialId, entryId, choice, reason, by, purpose } = form.value;
  return inOneAct(house.database, () => {
    const trial = trialView(house, trialId);
    const entry = trial?.entries.find((row) => row.id === entryId);
    if (!trial || !entry)
      return refusal([{ place: "entryId", found: entryId, wanted: "a variety of this trial" }]);
    const last = listVerdicts(house.database, trialId)
      .filter((row) => row.entryId === entryId)
      .at(-1);
    if (
      last?.decidedOn === trial.today &&
      last.choice === choice &&
      last.reason === reason &&
      last.by === by &&
      (last.use as Use).purpose === (purpose ?? trial.purpose)
    )
      return success({ verdictId: last.id });
    const figures = figuresFor(
      verdictFindings(house, trialId)?.findings ?? null,
      entry.variety,
      trial.rule?.version ?? null,
    );
    const use: Use = {
      crop: trial.crop,
      variety: entry.variety,
      covers: trial.covers.map((cover) => cover.name),
      sownOn: trial.sownOn,
      plantedOn: trial.plantedOn,
      purpose: purpose ?? trial.purpose,
    };
    const verdictId = house.newId();
    appendVerdict(house.database, {
      id: verdictId,
      trialId,
      entryId,
      use,
      proposal: figures.proposal?.choice ?? null,
      figures,
      choice,
      reason,
      by,
      decidedOn: trial.today,
      decidedAt: house.now(),
    });
    return success({ verdictId });
  });
}

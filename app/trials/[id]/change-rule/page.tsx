import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { Section } from "@/app/_ui/section";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";
import { sayRule } from "../_parts/say-rule";
import { ChangeRuleForm } from "./_parts/change-rule-form";

export const metadata: Metadata = { title: "Change the rule" };

function percent(share: number | null): string {
  return share === null ? "" : String(Number((share * 100).toFixed(2)));
}

/** The rule may be changed, beside what it was and with its reason; the verdict shows both. */
export default async function ChangeRulePage({ params }: { params: Promise<{ id: string }> }) {
  const trial = trialView(openHouse(), (await params).id);
  if (!trial) notFound();
  const { rule } = trial;
  const values: Record<string, string> = {
    trialId: trial.id,
    after: String(rule?.version ?? 0),
    "rule.survivalFloor": percent(rule?.survivalFloor ?? null),
    "rule.yieldFloor": percent(rule?.yieldFloor ?? null),
    "rule.sureness": percent(rule?.sureness ?? null),
    "rows.qualities": String(rule?.qualities.length ?? 0),
  };
  rule?.qualities.forEach(({ trait, weight }, row) => {
    values[`rule.qualities.${row}.trait`] = trait;
    values[`rule.qualities.${row}.weight`] = weight;
  });
  return (
    <Section title="Change the rule">
      {rule && <p>As it stands: {sayRule(rule, trial.decidingAssessment)}</p>}
      <p>
        A rule that is changed after the plants have spoken proves less. The old one stays beside the new,
        with your reason, wherever a verdict is shown.
      </p>
      <ChangeRuleForm values={values} />
    </Section>
  );
}

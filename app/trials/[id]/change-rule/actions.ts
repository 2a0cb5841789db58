"use server";

import { redirect } from "next/navigation";
import { type FormAnswer, fieldFaults, typedValues } from "@/app/_ui/field-fault";
import { readRuleForm, withQuality } from "@/app/trials/_parts/read-rule-form";
import { ruleWords } from "@/app/trials/_parts/rule-words";
import { changeRule } from "@/lib/service/change-rule";
import { openHouse } from "@/lib/service/house";

function words(field: string) {
  if (field === "reason") return { label: "The reason", ask: "Enter why the rule is changed" };
  return ruleWords(field) ?? { label: "This change" };
}

export async function changeTheRule(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const { act, ...values } = typedValues(form);
  const turn = before.turn + 1;
  if (act === "more-qualities") return { values: withQuality(values), faults: [], turn };
  const read = readRuleForm(values);
  const input = { ...read.rule, reason: values.reason ?? "", after: Number(values.after) };
  const changed = changeRule(openHouse(), values.trialId ?? "", input);
  if (changed.ok) redirect(`/trials/${values.trialId}`);
  const placed = changed.faults.map((fault) => {
    const place = `rule.${fault.place}`;
    const field = read.fields.get(place) ?? place;
    return { ...fault, place: ruleWords(field) ? field : fault.place };
  });
  return { values, faults: fieldFaults([...read.faults, ...placed], values, words), turn };
}

"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { TextArea } from "@/app/_ui/field";
import styles from "@/app/_ui/page.module.css";
import { RuleFields } from "@/app/trials/_parts/rule-fields";
import { changeTheRule } from "../actions";

export function ChangeRuleForm({ values }: { values: Record<string, string> }) {
  const [answer, act] = useActionState(changeTheRule, { values, faults: [], turn: 0 });
  return (
    <form action={act} noValidate key={answer.turn}>
      {/* Enter in a field presses the first button of a form: this one, and not the one that adds a row. */}
      <button type="submit" name="act" value="" className={styles.hidden} tabIndex={-1} aria-hidden="true">
        Change the rule
      </button>
      {["trialId", "after", "rows.qualities"].map((name) => (
        <input key={name} type="hidden" name={name} defaultValue={answer.values[name] ?? ""} />
      ))}
      <ErrorSummary faults={answer.faults} turn={answer.turn} />
      <RuleFields values={answer.values} faults={answer.faults} />
      <TextArea
        name="reason"
        label="Why is it changed?"
        faults={answer.faults}
        value={answer.values.reason ?? ""}
      />
      <SendButton manner="main">Change the rule</SendButton>
    </form>
  );
}

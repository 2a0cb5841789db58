import { SendButton } from "@/app/_ui/button";
import { SelectField, TextField } from "@/app/_ui/field";
import type { FieldFault } from "@/app/_ui/field-fault";
import formStyles from "@/app/_ui/form.module.css";
import { qualityCount } from "./read-rule-form";
import { ruleWords } from "./rule-words";

/** The fields of a decision rule: floors, how sure, and what else counts. */
export function RuleFields({ values, faults }: { values: Record<string, string>; faults: FieldFault[] }) {
  const field = (name: string) => ({
    name,
    label: ruleWords(name)?.label ?? name,
    faults,
    value: values[name] ?? "",
  });
  return (
    <>
      <div className={formStyles.pair}>
        <TextField
          {...field("rule.survivalFloor")}
          suffix="% of its plants"
          hint="At the look that decides"
          width="short"
          inputMode="decimal"
        />
        <TextField
          {...field("rule.yieldFloor")}
          suffix="% of the check"
          hint="100 is as much as the check"
          width="short"
          inputMode="decimal"
        />
        <TextField
          {...field("rule.sureness")}
          suffix="%"
          hint="50 to 99, of each floor"
          width="short"
          inputMode="decimal"
        />
      </div>
      <fieldset className={formStyles.group}>
        <legend>Other qualities that count</legend>
        {Array.from({ length: qualityCount(values) }, (_, row) => (
          <div key={row} className={formStyles.pair}>
            <TextField
              {...field(`rule.qualities.${row}.trait`)}
              hint={row === 0 ? "Colour, texture, bitterness, taste" : undefined}
              width="medium"
            />
            <SelectField
              {...field(`rule.qualities.${row}.weight`)}
              value={values[`rule.qualities.${row}.weight`] ?? "noted"}
              hint={row === 0 ? "Whoever decides judges it" : undefined}
              options={[
                { value: "must", words: "must be right" },
                { value: "counts for", words: "counts for" },
                { value: "noted", words: "is noted" },
              ]}
            />
          </div>
        ))}
        <SendButton act="more-qualities" manner="quiet">
          Add a quality
        </SendButton>
      </fieldset>
    </>
  );
}

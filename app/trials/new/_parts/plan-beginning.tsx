"use client";

import { type ReactNode, useState } from "react";
import { SendButton } from "@/app/_ui/button";
import { CheckboxTiles, FieldGroup } from "@/app/_ui/choice-tiles";
import { SelectField, TextField } from "@/app/_ui/field";
import type { FieldFault } from "@/app/_ui/field-fault";
import formStyles from "@/app/_ui/form.module.css";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import type { PlanningChoices } from "@/lib/service/planning-choices";
import { sayLengthMm } from "@/lib/words/length";
import { EntryList } from "./entry-list";
import { checkRow, firstTrialRow, rowCount, sowingRows, tenderRow } from "./plan-rows";
import { planWords } from "./plan-words";

export interface PlanParts {
  values: Record<string, string>;
  faults: FieldFault[];
  choices: PlanningChoices;
}

/** What a field of the plan shows. */
export function fieldOf({ values, faults }: PlanParts, name: string) {
  return { name, label: planWords(name).label, faults, value: values[name] ?? "" };
}

function span(from: number, count: number): number[] {
  return Array.from({ length: Math.max(0, count - from) }, (_, index) => from + index);
}

/** The beginning of a plan: what is asked, where, with what, under what, when. */
export function PlanBeginning({
  bedsInUse,
  children,
  ...parts
}: PlanParts & { bedsInUse: string[]; children?: ReactNode }) {
  const { values, faults, choices } = parts;
  const [crop, setCrop] = useState(values.crop ?? "");
  const field = (name: string) => fieldOf(parts, name);
  const known = Object.entries(choices.varietiesByCrop).find(
    ([name]) => name.toLowerCase() === crop.trim().toLowerCase(),
  );
  const varieties = known?.[1].map((variety) => variety.name);
  return (
    <>
      <Section title="The question">
        <TextField
          {...field("question")}
          label="What do you want to find out?"
          hint="For instance: which of these five stand the winter under fleece?"
        />
        <TextField
          {...field("purpose")}
          label="What is it wanted for?"
          hint="The use that the verdict is for: base of a mix, baby leaf, the hungry gap. It may be left empty."
        />
      </Section>

      <Section title="The bed">
        {choices.beds.length > 0 && (
          <CheckboxTiles
            name="beds"
            legend="Which bed is it for?"
            hint="Tick more than one where one is too small: whole blocks go in each."
            faults={faults}
            choices={choices.beds.map((bed) => ({
              value: `beds.known.${bed.name}`,
              words: bed.name,
              more: `${sayLengthMm(bed.widthMm)} × ${sayLengthMm(bed.lengthMm)}${bed.potMm === undefined ? "" : `, pots of ${sayLengthMm(bed.potMm)}`}${bedsInUse.includes(bed.name) ? ", holds a trial" : ""}`,
              checked: values[`beds.known.${bed.name}`] === "on",
            }))}
          />
        )}
        <FieldGroup
          name={choices.beds.length === 0 ? "beds" : "beds.new"}
          legend={choices.beds.length === 0 ? "Which bed is it for?" : "A bed that is not named here yet"}
          faults={faults}
        >
          {span(0, rowCount(values, "newBeds")).map((row) => (
            <div key={row} className={formStyles.pair}>
              <TextField {...field(`beds.new.${row}.name`)} label="Name" grow />
              <TextField
                {...field(`beds.new.${row}.widthMm`)}
                label="Width, across from the path"
                hint="120 cm, or 1.2 m"
                width="short"
                inputMode="text"
              />
              <TextField
                {...field(`beds.new.${row}.lengthMm`)}
                label="Length, along the path"
                hint="480 cm, or 4.8 m"
                width="short"
              />
              <TextField
                {...field(`beds.new.${row}.potMm`)}
                label="Size of one pot"
                hint="Only for a row of pots: each is a plot"
                width="short"
              />
            </div>
          ))}
          <SendButton act="more-beds" manner="quiet">
            {rowCount(values, "newBeds") === 0 ? "Add a bed" : "Add another bed"}
          </SendButton>
        </FieldGroup>
      </Section>

      <Section title="Crop and varieties">
        <div onInput={(event) => readCrop(event.target, setCrop)}>
          <TextField {...field("crop")} width="medium" options={choices.crops} />
        </div>
        <VarietyRow
          parts={parts}
          row={checkRow}
          varieties={varieties}
          legend="The check"
          hint="A variety that you know here and would grow anyway. The others are measured against it."
        />
        <VarietyRow
          parts={parts}
          row={tenderRow}
          varieties={varieties}
          legend="The tender check"
          hint="For a question about hardiness: one that a real winter kills. Where it stands, the winter tested nothing. It may be left empty."
        />
        <FieldGroup
          name="entries"
          legend="The varieties on trial"
          hint="What the packet promises is set beside what the bed proves; word for word is best. For a variety that is known here already it may be left empty."
          faults={faults}
        >
          {span(firstTrialRow, rowCount(values, "entries")).map((row) => (
            <div key={row} className={formStyles.pair}>
              <TextField {...field(`entries.${row}.variety`)} options={varieties} width="medium" />
              <TextField
                {...field(`entries.${row}.packetClaim`)}
                label={`What packet ${row - 1} says`}
                grow
              />
            </div>
          ))}
          <SendButton act="more-entries" manner="quiet">
            Add a variety
          </SendButton>
        </FieldGroup>
        <EntryList {...parts} />
      </Section>

      <Section title="Covers">
        <p className={styles.soft}>
          What stands over the whole trial, outermost first. With nothing here it is open ground.
        </p>
        {span(0, rowCount(values, "covers")).map((row) => (
          <div key={row} className={formStyles.pair}>
            <TextField {...field(`covers.${row}.kind`)} options={choices.coverKinds} width="medium" />
            <TextField
              {...field(`covers.${row}.name`)}
              label="Which one"
              hint="If there are several"
              options={choices.covers.map((cover) => cover.name)}
              width="medium"
            />
            <TextField
              {...field(`covers.${row}.fromOn`)}
              label="On from"
              hint="Empty: from planting"
              width="day"
            />
            <TextField
              {...field(`covers.${row}.untilOn`)}
              label="Off on"
              hint="Empty: not set yet"
              width="day"
            />
          </div>
        ))}
        <SendButton act="more-covers" manner="quiet">
          Add another cover
        </SendButton>
      </Section>

      <Section title="Compared besides">
        <Working
          summary="Compare covers, sowing dates or a companion as well as varieties"
          isOpen={isCompared(parts)}
        >
          <FieldGroup
            name="levels"
            legend="Covers to be compared"
            hint="Each stands over a whole stretch of every block, with all varieties under it. Two to four; one of them may be: open ground. What stands over everything belongs under Covers."
            faults={faults}
          >
            {span(0, rowCount(values, "levels")).map((row) => (
              <div key={row} className={formStyles.pair}>
                <TextField
                  {...field(`levels.${row}.kind`)}
                  options={["open ground", ...choices.coverKinds]}
                  width="medium"
                />
                <TextField {...field(`levels.${row}.name`)} hint="If there are several" width="medium" />
                <TextField {...field(`levels.${row}.fromOn`)} hint="Empty: from planting" width="day" />
                <TextField {...field(`levels.${row}.untilOn`)} hint="Empty: not set yet" width="day" />
              </div>
            ))}
            <SendButton act="more-levels" manner="quiet">
              Compare one more
            </SendButton>
          </FieldGroup>
          <FieldGroup
            name="sowings"
            legend="Or sowing dates"
            hint="Besides the sowing date below. All are planted out on one day."
            faults={faults}
          >
            <div className={formStyles.pair}>
              {span(0, sowingRows).map((row) => (
                <TextField key={row} {...field(`sowings.${row}.sownOn`)} width="day" />
              ))}
            </div>
          </FieldGroup>
          <FieldGroup
            name="among"
            legend="Or a companion"
            hint="Another crop between the plants on one whole stretch of every block, and none on another. What is to stand between all plants alike belongs further down."
            faults={faults}
          >
            <CompanionRow parts={parts} row="among.0" />
          </FieldGroup>
        </Working>
      </Section>

      <Section title="Sowing and planting">
        <div className={formStyles.pair}>
          <TextField
            {...field("sownOn")}
            label="When is it sown?"
            hint="Empty: reckoned back from planting, for a crop whose usual time is known"
            width="day"
          />
          <TextField
            {...field("plantedOn")}
            label="When is it planted out?"
            hint="Such as 18 Sep 2027; sown in place, the same day"
            width="day"
          />
        </div>
        {values.sownWhy && <p className={styles.soft}>{values.sownWhy}</p>}
        <input type="hidden" name="sownWhy" defaultValue={values.sownWhy ?? ""} />
        <TextField
          {...field("plantsToHand")}
          label="How many plants of one variety will there be at most?"
          hint="Empty: as many as are wanted"
          width="short"
          inputMode="numeric"
        />
        {children}
      </Section>
    </>
  );
}

/** Whether anything stands in the fields of what is compared, or is wrong there. */
function isCompared({ values, faults }: PlanParts): boolean {
  const names = /^(levels|sowings|among)\b/;
  return (
    Object.entries(values).some(
      ([name, value]) => names.test(name) && !name.endsWith(".habit") && value.trim() !== "",
    ) || faults.some((fault) => names.test(fault.at))
  );
}

/** The fields of one companion. */
export function CompanionRow({ parts, row }: { parts: PlanParts; row: string }) {
  return (
    <div className={formStyles.pair}>
      <TextField {...fieldOf(parts, `${row}.name`)} width="medium" />
      <SelectField
        {...fieldOf(parts, `${row}.habit`)}
        options={[
          { value: "slow and upright", words: "slow and upright" },
          { value: "quick", words: "quick" },
        ]}
      />
      <TextField {...fieldOf(parts, `${row}.sownOn`)} hint="Such as 1 Aug 2027" width="day" />
      <TextField {...fieldOf(parts, `${row}.betweenPlantsMm`)} hint="Such as 10 cm" width="short" />
    </div>
  );
}

function readCrop(target: EventTarget, setCrop: (crop: string) => void): void {
  if (target instanceof HTMLInputElement && target.name === "crop") setCrop(target.value);
}

function VarietyRow({
  parts,
  row,
  varieties,
  legend,
  hint,
}: {
  parts: PlanParts;
  row: number;
  varieties: string[] | undefined;
  legend: string;
  hint: string;
}) {
  return (
    <FieldGroup name={`entries.${row}`} legend={legend} hint={hint} faults={parts.faults}>
      <div className={formStyles.pair}>
        <TextField
          {...fieldOf(parts, `entries.${row}.variety`)}
          label="Variety"
          options={varieties}
          width="medium"
        />
        <TextField {...fieldOf(parts, `entries.${row}.packetClaim`)} label="What its packet says" grow />
      </div>
    </FieldGroup>
  );
}

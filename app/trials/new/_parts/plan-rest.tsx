"use client";

import { useState } from "react";
import { SendButton } from "@/app/_ui/button";
import { FieldGroup, RadioTiles } from "@/app/_ui/choice-tiles";
import { DataTable } from "@/app/_ui/data-table";
import { TextArea, TextField } from "@/app/_ui/field";
import { FigureWithTable } from "@/app/_ui/figure";
import formStyles from "@/app/_ui/form.module.css";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import { reachFigure } from "@/lib/figure/reach-figure";
import type { TrialSketch } from "@/lib/service/sketch-trial";
import { assessmentNames, type Design, designs } from "@/lib/words/trial";
import { RuleFields } from "../../_parts/rule-fields";
import type { Drawn } from "../actions";
import { CompanionRow, fieldOf, type PlanParts } from "./plan-beginning";
import { type RowList, rowCount } from "./plan-rows";
import { PlannedLayout } from "./planned-layout";
import { Simulation } from "./simulation";

const lookHints: Record<(typeof assessmentNames)[number], string> = {
  took: "Three weeks after planting: what is gone by then is lost to transplanting, not to winter.",
  "before hard cold": "So that autumn’s losses are not put down to winter.",
  midwinter: "A look on the way; nothing is called dead yet.",
  regrowth: "When growth has started again: a plant that looks dead in January may come from the crown.",
  end: "The last look, before the bed is cleared.",
};

const designChoices: Record<Design, { words: string; more: string }> = {
  rcbd: { words: "In blocks", more: "each variety once in each block" },
  crd: { words: "Completely at random", more: "for a bed that is alike all over" },
  latin: { words: "Latin square", more: "each variety once in each row and each column" },
  "split-plot": { words: "Split plot", more: "what is compared besides on whole stretches of a block" },
  augmented: { words: "Look-see bed", more: "new varieties once, the checks in every block" },
  "incomplete-blocks": { words: "Small blocks", more: "for more varieties than a block should hold" },
};

const blockHints: Record<Design, string> = {
  rcbd: "So many plots of each variety",
  crd: "So many plots of each variety",
  latin: "As many as varieties",
  "split-plot": "So many stretches of each that is compared",
  augmented: "So many plots of each check",
  "incomplete-blocks": "Replicates: so many plots of each variety",
};

const designWhys: Record<Design, string> = {
  rcbd: "Every variety stands in every block once, on its own plot, in an order that chance deals. A block is a stretch of bed that is much alike; with several, one bad corner cannot decide for or against a variety.",
  crd: "Chance deals every plot of the bed alike, with no blocks. It is fair; but only a bed that is much alike all over lets small differences be seen.",
  latin:
    "Every variety stands once in each row across the bed and once in each column along it, so ground that changes both ways favours none.",
  "split-plot":
    "In every block each cover, sowing date or companion gets a whole stretch, and every variety stands once in each stretch.",
  augmented:
    "New varieties stand once each, the checks in every block. Such a bed tells dead from alive; it does not rank.",
  "incomplete-blocks":
    "Every variety stands once in each replicate, and a replicate is made of small blocks that are each much alike; chance mixes the varieties anew each time.",
};

/** The rest of a plan, proposed and to be changed: plots, what they can tell, the layout, looks, rule, end. */
export function PlanRest({ drawn, ...parts }: PlanParts & { drawn: Drawn | null }) {
  const { values } = parts;
  const field = (name: string) => fieldOf(parts, name);
  const sketch = drawn?.sketch ?? null;
  const [design, setDesign] = useState<Design>(designs.find((one) => one === values.design) ?? "rcbd");
  return (
    <>
      <Section title="Plots" id="plots">
        <p>{values.designWhy || designWhys[design]}</p>
        <div className={formStyles.pair}>
          <TextField {...field("blocks")} hint={blockHints[design]} width="short" inputMode="numeric" />
          <TextField {...field("plantsPerPlot")} width="short" inputMode="numeric" />
          <TextField {...field("betweenPlantsMm")} width="short" />
          <TextField {...field("betweenRowsMm")} width="short" />
        </div>
        <p className={styles.soft}>Spacing: {values.spacingFrom}. A bare number is taken as centimetres.</p>
        <div onInput={(event) => readDesign(event.target, setDesign)}>
          <RadioTiles
            {...field("design")}
            legend="How the plots are dealt"
            choices={designs.map((one) => ({ value: one, ...designChoices[one] }))}
          />
        </div>
        {design === "incomplete-blocks" && (
          <TextField
            {...field("plotsPerBlock")}
            hint="The most; never more than there are blocks in a replicate, so that two varieties seldom meet twice."
            width="short"
            inputMode="numeric"
          />
        )}
        <RadioTiles
          {...field("gradient")}
          legend="Which way does the ground change?"
          hint="Shade, slope, wind, the end where the slugs are. Blocks are laid one after another that way."
          choices={[
            { value: "", words: "Not that I know" },
            { value: "along", words: "Along the bed", more: "one end is better than the other" },
            { value: "across", words: "Across it", more: "one long side is better than the other" },
          ]}
        />
        <RadioTiles
          {...field("pathSide")}
          legend="Where does the path run?"
          hint="As you stand at the end where you begin and look along the bed. The first plot of every line lies on that side; the drawing, the papers and the walk follow it."
          choices={[
            { value: "", words: "At the left hand", more: "or on both sides" },
            { value: "right", words: "At the right hand" },
            {
              value: "between",
              words: "Between two beds",
              more: "which lie side by side, the first at the left",
            },
          ]}
        />
        <TextField
          {...field("guardRows")}
          hint="Plants all round the trial that are not counted, against edges that grow better or are eaten first. Empty: none."
          width="short"
          inputMode="numeric"
        />
        <Working summary="Something fixed is in the way" isOpen={isFilled(parts, /^inTheWay\b/)}>
          <FieldGroup
            name="inTheWay"
            legend="What is in the way"
            hint="A post, a tap, a bush: from where to where along the bed, measured from the path end."
            faults={parts.faults}
          >
            {rowsOf(values, "inTheWay").map((row) => (
              <div key={row} className={formStyles.pair}>
                <TextField {...field(`inTheWay.${row}.fromMm`)} hint="Such as 2 m" width="short" />
                <TextField
                  {...field(`inTheWay.${row}.toMm`)}
                  label="Where it ends"
                  hint="Such as 2.4 m"
                  width="short"
                />
                <TextField {...field(`inTheWay.${row}.bed`)} hint="Empty: the first bed" width="medium" />
              </div>
            ))}
            <SendButton act="more-inTheWay" manner="quiet">
              Something else too
            </SendButton>
          </FieldGroup>
        </Working>
        <Working summary="Another crop stands between the plants" isOpen={isFilled(parts, /^companions\b/)}>
          <FieldGroup
            name="companions"
            legend="Companions"
            hint="The same in every plot; to find out what one does, compare it instead, further up. Slow upright ones, such as onions, should be some two to three weeks older than the spreading crop they stand among; quick ones go in on the same day and are out before it closes (common practice)."
            faults={parts.faults}
          >
            {rowsOf(values, "companions").map((row) => (
              <CompanionRow key={row} parts={parts} row={`companions.${row}`} />
            ))}
            <SendButton act="more-companions" manner="quiet">
              Another companion
            </SendButton>
          </FieldGroup>
        </Working>
        <Working summary="The seed of the deal">
          <TextField
            {...field("seed")}
            width="short"
            inputMode="numeric"
            hint="The same number deals the same layout on any machine, and it is kept with the trial. Deal once and keep it: to choose among deals is to choose places for your favourites."
          />
        </Working>
        <div className={formStyles.buttons}>
          <SendButton act="draw">Draw it</SendButton>
          <SendButton act="propose" manner="quiet">
            Propose blocks and plants again for this bed
          </SendButton>
          <SendButton act="propose-design" manner="quiet">
            Propose how they are dealt, too
          </SendButton>
        </div>
      </Section>

      <Section title="What it can tell" id="tells">
        {sketch ? (
          <Tells sketch={sketch} values={values} />
        ) : (
          <p>This can be said once the plots fit the bed.</p>
        )}
      </Section>

      <PlannedLayout drawn={drawn} values={values} />

      <Section title="When it is looked at" id="looks">
        <p className={styles.soft}>
          The days are proposed from the planting date (common practice). Empty a field for a look that you do
          not want.
        </p>
        {assessmentNames.map((name, row) => (
          <TextField
            key={name}
            {...field(`assessments.${row}.dueOn`)}
            label={`${name.charAt(0).toUpperCase()}${name.slice(1)}`}
            hint={lookHints[name]}
            width="day"
          />
        ))}
        <RadioTiles
          {...field("decidingAssessment")}
          legend="On which look does the rule decide?"
          choices={assessmentNames.map((name) => ({ value: name, words: name }))}
        />
        <SendButton act="propose-days" manner="quiet">
          Propose the days again from the planting date
        </SendButton>
      </Section>

      <Section title="Picking">
        <TextArea
          {...field("pickingRule")}
          hint="The same for every plot, or the weights cannot be compared."
          rows={3}
        />
      </Section>

      <Section title="The rule" id="rule">
        <p>
          Set before the trial begins, so that nobody has to argue with the result afterwards. It can be
          changed later, with a reason that stays beside it. The figures are a proposal: move them to what is
          worth its ground to you. A field left empty does not decide.
        </p>
        <RuleFields values={parts.values} faults={parts.faults} />
      </Section>

      <Section title="The end">
        <div className={formStyles.pair}>
          <TextField
            {...field("clearBy")}
            label="The bed is wanted by"
            hint="What is picked after that day does not count. It may be left empty."
            width="day"
          />
          <TextField
            {...field("fallbackOn")}
            label="If it fails, something else goes in by"
            hint="The last day for another crop to make something of the bed. It may be left empty."
            width="day"
          />
        </div>
      </Section>

      <Section title="Save">
        <p>
          Until the first thing is recorded nothing is fixed for good; from then on a change needs a reason.
        </p>
        <div className={formStyles.buttons}>
          <SendButton act="save" manner="main">
            Save the trial
          </SendButton>
        </div>
      </Section>
    </>
  );
}

function readDesign(target: EventTarget, setDesign: (design: Design) => void): void {
  const chosen =
    target instanceof HTMLInputElement && target.name === "design"
      ? designs.find((one) => one === target.value)
      : undefined;
  if (chosen) setDesign(chosen);
}

/** Whether anything stands in these fields, or is wrong there; a choice that is made beforehand does not count. */
function isFilled({ values, faults }: PlanParts, names: RegExp): boolean {
  return (
    Object.entries(values).some(
      ([name, value]) => names.test(name) && !name.endsWith(".habit") && value.trim() !== "",
    ) || faults.some((fault) => names.test(fault.at))
  );
}

function rowsOf(values: Record<string, string>, list: RowList): number[] {
  return Array.from({ length: rowCount(values, list) }, (_, row) => row);
}

/** What one step more of either kind would tell. */
function OneMore({ sketch }: { sketch: TrialSketch }) {
  const { tells, oneMore } = sketch;
  const points = (seen: number | null) => (seen === null ? "none" : `${Math.round(seen * 100)} points`);
  const inYield = (seen: number | null) =>
    seen === null || seen >= 1 ? "none" : `${Math.round(seen * 100)} in 100`;
  const plans = [
    { words: "As it stands", tells },
    ...(oneMore.block ? [{ words: "One more block", tells: oneMore.block.tells }] : []),
    { words: "Two more plants a plot", tells: oneMore.twoPlants.tells },
  ];
  return (
    <Working summary="What one more block would buy, or two more plants a plot">
      <DataTable
        caption="Differences to the check that would be seen, and what is left to judge the scatter by"
        columns={[
          { heading: "Plan" },
          { heading: "Survival, four times in five", numeric: true },
          { heading: "Survival, once in four", numeric: true },
          { heading: "Yield, four times in five", numeric: true },
          { heading: "Residual degrees of freedom", numeric: true },
          { heading: "Smallest p of a re-dealing test", numeric: true },
        ]}
        rows={plans.map((plan) => [
          plan.words,
          points(plan.tells.oftenSeen),
          points(plan.tells.seldomSeen),
          inYield(plan.tells.yieldOftenSeen),
          plan.tells.residualDf,
          plan.tells.smallestP === null ? "not counted" : plan.tells.smallestP.toPrecision(2),
        ])}
      />
    </Working>
  );
}

function Tells({ sketch, values }: { sketch: TrialSketch; values: Record<string, string> }) {
  const hundredth = (share: number) => Math.round(share * 100);
  return (
    <>
      {sketch.cautions.map((caution) => (
        <p key={caution} className={styles.caution}>
          {caution}
        </p>
      ))}
      <ul>
        {sketch.tells.sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <Working summary="What was taken for this, and where it comes from">
        <p>{sketch.tells.taken}</p>
      </Working>
      <FigureWithTable
        draw={(widthPx) => reachFigure(sketch.reach, { of: "survival", widthPx })}
        tableUnder="The same as a table"
      />
      {sketch.oneMore.sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <Simulation />
      <OneMore sketch={sketch} />
      {sketch.reach.some((point) => point.yield !== null) && (
        <Working summary="The same for yield, over numbers of blocks">
          <FigureWithTable draw={(widthPx) => reachFigure(sketch.reach, { of: "yield", widthPx })} />
        </Working>
      )}
      {sketch.plans.length > 0 && (
        <Working summary="Other plans that fit this bed">
          <DataTable
            caption="If about three in four of a variety’s plants stand, what the trial would leave possible"
            columns={[
              { heading: values.design === "crd" ? "Plots each × plants" : "Blocks × plants a plot" },
              { heading: "Plants in all", numeric: true },
              { heading: "Stands, in 100", numeric: true },
              { heading: "Shows clearly, points", numeric: true },
              { heading: "Choice" },
            ]}
            rows={sketch.plans.map(({ blocks, plantsPerPlot, plants, tells }) => [
              `${blocks}\u00a0×\u00a0${plantsPerPlot}`,
              plants,
              `${hundredth(tells.low)} to ${hundredth(tells.high)}`,
              tells.clearDifference === null ? "none" : hundredth(tells.clearDifference),
              <SendButton key="take" act={`take ${blocks} ${plantsPerPlot}`} manner="quiet">
                Take {blocks} × {plantsPerPlot}
              </SendButton>,
            ])}
          />
        </Working>
      )}
    </>
  );
}

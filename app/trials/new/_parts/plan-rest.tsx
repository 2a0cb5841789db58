"use client";

import { BedSheet } from "@/app/_ui/bed-sheet";
import { SendButton } from "@/app/_ui/button";
import { RadioTiles } from "@/app/_ui/choice-tiles";
import { DataTable } from "@/app/_ui/data-table";
import { TextArea, TextField } from "@/app/_ui/field";
import formStyles from "@/app/_ui/form.module.css";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import type { TrialSketch } from "@/lib/service/sketch-trial";
import { assessmentNames } from "@/lib/words/trial";
import { RuleFields } from "../../_parts/rule-fields";
import type { Drawn } from "../actions";
import { fieldOf, type PlanParts } from "./plan-beginning";

const lookHints: Record<(typeof assessmentNames)[number], string> = {
  took: "Three weeks after planting: what is gone by then is lost to transplanting, not to winter.",
  "before hard cold": "So that autumn’s losses are not put down to winter.",
  midwinter: "A look on the way; nothing is called dead yet.",
  regrowth: "When growth has started again: a plant that looks dead in January may come from the crown.",
  end: "The last look, before the bed is cleared.",
};

/** The rest of a plan, proposed and to be changed: plots, what they can tell, the layout, looks, rule, end. */
export function PlanRest({ drawn, ...parts }: PlanParts & { drawn: Drawn | null }) {
  const { values } = parts;
  const field = (name: string) => fieldOf(parts, name);
  const sketch = drawn?.sketch ?? null;
  return (
    <>
      <Section title="Plots" id="plots">
        <p>
          Every variety stands in every block once, on its own plot, in an order that chance deals. A block is
          a stretch of bed that is much alike; with several, one bad corner cannot decide for or against a
          variety.
        </p>
        <div className={formStyles.pair}>
          <TextField
            {...field("blocks")}
            hint="So many plots of each variety"
            width="short"
            inputMode="numeric"
          />
          <TextField {...field("plantsPerPlot")} width="short" inputMode="numeric" />
          <TextField {...field("betweenPlantsMm")} width="short" />
          <TextField {...field("betweenRowsMm")} width="short" />
        </div>
        <p className={styles.soft}>Spacing: {values.spacingFrom}. A bare number is taken as centimetres.</p>
        <RadioTiles
          {...field("design")}
          legend="How the plots are dealt"
          choices={[
            { value: "rcbd", words: "In blocks", more: "each variety once in each block" },
            { value: "crd", words: "Completely at random", more: "for a bed that is alike all over" },
          ]}
        />
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
        </div>
      </Section>

      <Section title="What it can tell" id="tells">
        {sketch ? (
          <Tells sketch={sketch} values={values} />
        ) : (
          <p>This can be said once the plots fit the bed.</p>
        )}
      </Section>

      <Section title="The layout" id="layout">
        <div aria-live="polite">
          {drawn && drawn.whyNot.length > 0 && (
            <div className={styles.caution}>
              <p>
                <strong>It cannot be drawn as it stands.</strong>
              </p>
              <ul>
                {drawn.whyNot.map((words) => (
                  <li key={words}>{words}</li>
                ))}
              </ul>
            </div>
          )}
        </div>
        {sketch && (
          <>
            <p className={styles.soft}>
              To scale; standing at the path end and looking along the bed, the first plot lies at your left
              hand. The check has the heavy rim. Dealt from seed {values.seed}.
            </p>
            {sketch.beds.map((bed) => (
              <BedSheet
                key={bed.id}
                bed={bed}
                plots={sketch.plots.filter((plot) => plot.bedId === bed.id)}
                isTableOpen={false}
              />
            ))}
          </>
        )}
      </Section>

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

function Tells({ sketch, values }: { sketch: TrialSketch; values: Record<string, string> }) {
  const hundredth = (share: number) => Math.round(share * 100);
  return (
    <>
      <ul>
        {sketch.tells.sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
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

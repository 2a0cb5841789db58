"use server";

import { redirect } from "next/navigation";
import { type FieldFault, type FormAnswer, fieldFaults, typedValues } from "@/app/_ui/field-fault";
import { createTrial } from "@/lib/service/create-trial";
import { openHouse } from "@/lib/service/house";
import { ownScatter } from "@/lib/service/own-scatter";
import { planningChoices } from "@/lib/service/planning-choices";
import { proposeTrial, type TrialProposal } from "@/lib/service/propose-trial";
import { readEntryList } from "@/lib/service/read-entry-list";
import { type SimulatedBatch, simulateTrial } from "@/lib/service/simulate-trial";
import { sketchTrial, type TrialSketch } from "@/lib/service/sketch-trial";
import { trialView } from "@/lib/service/trial-view";
import { usualSowing } from "@/lib/service/usual-sowing";
import { parseDay, writeDay } from "@/lib/words/day";
import type { Fault } from "@/lib/words/fault";
import { sayLengthMm } from "@/lib/words/length";
import { assessmentNames } from "@/lib/words/trial";
import { qualityCount, withQuality } from "../_parts/read-rule-form";
import { restFrom } from "./_parts/begin-from";
import { firstTrialRow, type RowList, withEntries, withRow } from "./_parts/plan-rows";
import { planWords } from "./_parts/plan-words";
import { type ReadPlan, readPlanForm } from "./_parts/read-plan-form";

type Values = Record<string, string>;

/** The layout as the plan stands, or why there is none. */
export interface Drawn {
  sketch: TrialSketch | null;
  /** In the words of the fields at fault; empty when it could be drawn. */
  whyNot: string[];
}

export interface PlanAnswer extends FormAnswer {
  drawn: Drawn | null;
  /** Where the cursor goes when there is nothing to mend. */
  goTo: string | null;
}

function said(read: ReadPlan, faults: readonly Fault[], values: Values): FieldFault[] {
  const placed = faults.map((fault) => ({ ...fault, place: read.fieldOf(fault.place) }));
  return fieldFaults([...read.faults, ...placed], values, planWords);
}

function drawn(read: ReadPlan, values: Values): Drawn {
  const sketch = sketchTrial(read.input, ownScatter(openHouse(), values.crop ?? ""));
  if (sketch.ok) return { sketch: sketch.value, whyNot: [] };
  const places = new Set(sketch.faults.map((fault) => read.fieldOf(fault.place)));
  const whyNot = said(read, sketch.faults, values).filter((fault) => places.has(fault.at));
  return { sketch: null, whyNot: whyNot.map((fault) => fault.words) };
}

function usualDays(proposal: TrialProposal): Values {
  const days: Values = {
    decidingAssessment: proposal.decidingAssessment,
    clearBy: writeDay(proposal.clearBy),
    fallbackOn: writeDay(proposal.fallbackOn),
  };
  assessmentNames.forEach((name, row) => {
    const look = proposal.assessments.find((assessment) => assessment.name === name);
    days[`assessments.${row}.dueOn`] = look ? writeDay(look.dueOn) : "";
  });
  return days;
}

function usualRest({ betweenPlantsMm, betweenRowsMm, pickingRule, rule }: TrialProposal): Values {
  const percent = (share: number | null) => (share === null ? "" : String(Math.round(share * 100)));
  return {
    betweenPlantsMm: sayLengthMm(betweenPlantsMm),
    betweenRowsMm: sayLengthMm(betweenRowsMm),
    pickingRule,
    "rule.survivalFloor": percent(rule.survivalFloor),
    "rule.yieldFloor": percent(rule.yieldFloor),
    "rule.sureness": percent(rule.sureness),
  };
}

/** The typed values with a sowing date reckoned back from planting, where none was typed and the crop's time is known. */
function withSowing(values: Values): Values {
  const planted = parseDay(values.plantedOn ?? "", "plantedOn");
  const sowing = planted.ok ? usualSowing(values.crop ?? "", planted.value) : null;
  if ((values.sownOn ?? "").trim() !== "" || !sowing) return values;
  return { ...values, sownOn: writeDay(sowing.sownOn), sownWhy: sowing.why };
}

/** The typed values with the proposal in them: all of it at first, afterwards only what was asked for anew. */
function withProposal(values: Values, proposal: TrialProposal, wanted: "all" | "plots" | "days"): Values {
  const [{ blocks, plantsPerPlot }] = proposal.plans;
  const plots = {
    blocks: String(blocks),
    plantsPerPlot: String(plantsPerPlot),
    spacingFrom: proposal.spacingFrom,
    design: proposal.design,
    designWhy: proposal.why,
    plotsPerBlock: proposal.plotsPerBlock === null ? "" : String(proposal.plotsPerBlock),
  };
  if (wanted === "plots") return { ...values, ...plots };
  if (wanted === "days") return { ...values, ...usualDays(proposal) };
  return { ...values, ...usualRest(proposal), ...usualDays(proposal), ...plots, stage: "whole" };
}

const rowLists: Record<string, { list: RowList; goTo: (row: number) => string }> = {
  "more-entries": { list: "entries", goTo: (row) => `entries.${row}.variety` },
  "more-beds": { list: "newBeds", goTo: (row) => `beds.new.${row}.name` },
  "more-covers": { list: "covers", goTo: (row) => `covers.${row}.kind` },
  "more-levels": { list: "levels", goTo: (row) => `levels.${row}.kind` },
  "more-inTheWay": { list: "inTheWay", goTo: (row) => `inTheWay.${row}.fromMm` },
  "more-companions": { list: "companions", goTo: (row) => `companions.${row}.name` },
};

/** Answers the planning form: one row more, a proposal, a drawing, or the trial itself. */
export async function answerPlan(before: PlanAnswer, form: FormData): Promise<PlanAnswer> {
  const house = openHouse();
  const { act, ...typed } = typedValues(form);
  const values = (act ?? "").startsWith("more-") || act === "take-list" ? typed : withSowing(typed);
  const turn = before.turn + 1;
  const isWhole = values.stage === "whole";
  const { beds } = planningChoices(house);
  const readAgain = (next: Values) => readPlanForm(next, beds);
  const read = readAgain(values);

  const more = rowLists[act];
  if (more) {
    const next = withRow(values, more.list);
    const row = Number(next[`rows.${more.list}`]) - 1;
    const faults: FieldFault[] = [];
    return { values: next, faults, turn, drawn: isWhole ? drawn(read, values) : null, goTo: more.goTo(row) };
  }

  if (act === "take-list") {
    const list = readEntryList(values.entryList ?? "");
    const next = list.ok ? withEntries(values, list.value) : values;
    const faults = list.ok
      ? []
      : list.faults.map(({ place, found, wanted }) => ({
          at: "entryList",
          words: `List, ${place}: ${found}. What would do: ${wanted}.`,
        }));
    return {
      values: next,
      faults,
      turn,
      drawn: isWhole ? drawn(readAgain(next), next) : null,
      goTo: `entries.${firstTrialRow}.variety`,
    };
  }

  if (act === "more-qualities") {
    const next = withQuality(values);
    const goTo = `rule.qualities.${qualityCount(next) - 1}.trait`;
    return { values: next, faults: [], turn, drawn: drawn(read, values), goTo };
  }

  if (act === "save" && isWhole) {
    const made = createTrial(house, read.input);
    if (made.ok) redirect(`/trials/${made.value.trialId}`);
    return {
      values,
      faults: said(read, made.faults, values),
      turn,
      drawn: drawn(read, values),
      goTo: null,
    };
  }

  if (act === "propose" || act === "propose-design" || act === "propose-days" || !isWhole) {
    const asked = act === "propose-design" ? { ...read.input, design: undefined } : read.input;
    const proposal = proposeTrial(house, asked);
    if (!proposal.ok) {
      const faults = said(read, proposal.faults, values);
      return { values, faults, turn, drawn: isWhole ? drawn(read, values) : null, goTo: null };
    }
    const wanted = !isWhole ? "all" : act === "propose-days" ? "days" : "plots";
    const old = wanted === "all" && values.from ? trialView(house, values.from) : null;
    const next = { ...withProposal(values, proposal.value, wanted), ...(old && restFrom(old)) };
    const goTo = wanted === "days" ? "looks-heading" : "plots-heading";
    return { values: next, faults: [], turn, drawn: drawn(readAgain(next), next), goTo };
  }

  const taken = /^take (\d+) (\d+)$/.exec(act ?? "");
  if (taken) {
    const next = { ...values, blocks: taken[1], plantsPerPlot: taken[2] };
    return { values: next, faults: [], turn, drawn: drawn(readAgain(next), next), goTo: "layout-heading" };
  }

  return { values, faults: [], turn, drawn: drawn(read, values), goTo: "layout-heading" };
}

/** Draws the plan as it stands, for a form whose figures have changed. */
export async function drawPlan(values: Values): Promise<Drawn> {
  const read = readPlanForm(values, planningChoices(openHouse()).beds);
  return drawn(read, values);
}

/** One batch of made-up trials like the plan; null when the plan cannot be tried as it stands. */
export async function simulatePlan(values: Values, batch: number): Promise<SimulatedBatch | null> {
  const read = readPlanForm(values, planningChoices(openHouse()).beds);
  const simulated = simulateTrial(read.input, Number(batch), ownScatter(openHouse(), values.crop ?? ""));
  return simulated.ok ? simulated.value : null;
}

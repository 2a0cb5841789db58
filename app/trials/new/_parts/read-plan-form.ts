import { parseDay } from "@/lib/words/day";
import type { Fault, Outcome } from "@/lib/words/fault";
import { parseLengthMm } from "@/lib/words/length";
import { parseNumber } from "@/lib/words/number";
import { assessmentNames } from "@/lib/words/trial";
import { readRuleForm } from "../../_parts/read-rule-form";
import { checkRow, rowCount, tenderRow } from "./plan-rows";

type Values = Record<string, string>;

export interface ReadPlan {
  /** The plan as the services take it. What could not be read stands in it as it was typed, and is refused by them. */
  input: Record<string, unknown>;
  faults: Fault[];
  /** The field of the form that a place in the plan came from: rows left empty are not in the plan. */
  fieldOf(place: string): string;
}

function span(count: number): number[] {
  return Array.from({ length: count }, (_, index) => index);
}

/** Names of the known beds that are ticked. */
function tickedBeds(values: Values): string[] {
  return Object.keys(values)
    .filter((name) => name.startsWith("beds.known."))
    .map((name) => name.slice("beds.known.".length));
}

/** Reads the planning form as it was typed. Judges nothing but whether figures and dates can be read. */
export function readPlanForm(
  values: Values,
  knownBeds: readonly { name: string; widthMm: number; lengthMm: number }[],
): ReadPlan {
  const faults: Fault[] = [];
  const fields = new Map<string, string>();
  const typed = (field: string) => (values[field] ?? "").trim();

  const take = (outcome: Outcome<unknown>, field: string): unknown => {
    if (outcome.ok) return outcome.value;
    faults.push(...outcome.faults);
    return typed(field);
  };
  const day = (field: string) => take(parseDay(typed(field), field), field);
  const dayOrNone = (field: string) => (typed(field) === "" ? null : day(field));
  const length = (field: string) => take(parseLengthMm(typed(field), field), field);
  const whole = (field: string) => take(parseNumber(typed(field), { place: field, whole: true }), field);
  /** The rows of a list that hold anything, read one by one, each of its parts tied to its field. */
  const rows = <Row>(list: string, kept: number[], parts: string[], readRow: (row: number) => Row): Row[] =>
    kept.map((row, position) => {
      for (const part of parts) fields.set(`${list}.${position}.${part}`, `${list}.${row}.${part}`);
      return readRow(row);
    });

  const holds = (row: string, parts: string[]) => parts.some((part) => typed(`${row}.${part}`) !== "");
  const entryParts = ["variety", "packetClaim"];
  const entries = rows(
    "entries",
    span(rowCount(values, "entries")).filter((row) => holds(`entries.${row}`, entryParts)),
    [...entryParts, "role"],
    (row) => ({
      variety: typed(`entries.${row}.variety`),
      packetClaim: typed(`entries.${row}.packetClaim`) || null,
      role: row === checkRow ? "check" : row === tenderRow ? "tender-check" : "entry",
    }),
  );

  const bedParts = ["name", "widthMm", "lengthMm"];
  const ticked = tickedBeds(values).flatMap((name) => knownBeds.filter((bed) => bed.name === name));
  ticked.forEach((_, position) => {
    for (const part of bedParts) fields.set(`beds.${position}.${part}`, "beds");
  });
  const newRows = span(rowCount(values, "newBeds")).filter((row) => holds(`beds.new.${row}`, bedParts));
  const newBeds = newRows.map((row, position) => {
    for (const part of bedParts)
      fields.set(`beds.${ticked.length + position}.${part}`, `beds.new.${row}.${part}`);
    return {
      name: typed(`beds.new.${row}.name`),
      widthMm: length(`beds.new.${row}.widthMm`),
      lengthMm: length(`beds.new.${row}.lengthMm`),
    };
  });

  const coverParts = ["kind", "name", "fromOn", "untilOn"];
  const covers = rows(
    "covers",
    span(rowCount(values, "covers")).filter((row) => holds(`covers.${row}`, ["kind", "name"])),
    coverParts,
    (row) => ({
      kind: typed(`covers.${row}.kind`),
      name: typed(`covers.${row}.name`) || typed(`covers.${row}.kind`),
      fromOn: typed(`covers.${row}.fromOn`) === "" ? day("plantedOn") : day(`covers.${row}.fromOn`),
      untilOn: dayOrNone(`covers.${row}.untilOn`),
    }),
  );

  const assessments = rows(
    "assessments",
    span(assessmentNames.length).filter((row) => typed(`assessments.${row}.dueOn`) !== ""),
    ["dueOn", "name"],
    (row) => ({ name: assessmentNames[row], dueOn: day(`assessments.${row}.dueOn`) }),
  );

  covers.forEach((_, position) => {
    const from = fields.get(`covers.${position}.fromOn`) ?? "";
    if (typed(from) === "") fields.set(`covers.${position}.fromOn`, "plantedOn");
  });
  fields.set("entries.check", `entries.${checkRow}.variety`);

  const read = readRuleForm(values);
  const isWhole = values.stage === "whole";
  const beginning = {
    question: typed("question"),
    purpose: typed("purpose"),
    crop: typed("crop"),
    entries,
    beds: [...ticked.map(({ name, widthMm, lengthMm }) => ({ name, widthMm, lengthMm })), ...newBeds],
    covers,
    sownOn: day("sownOn"),
    plantedOn: day("plantedOn"),
  };
  const rest = () => ({
    id: values.trialId,
    design: values.design,
    seed: whole("seed"),
    blocks: whole("blocks"),
    plantsPerPlot: whole("plantsPerPlot"),
    betweenPlantsMm: length("betweenPlantsMm"),
    betweenRowsMm: length("betweenRowsMm"),
    assessments,
    decidingAssessment: values.decidingAssessment,
    pickingRule: typed("pickingRule"),
    clearBy: dayOrNone("clearBy"),
    fallbackOn: dayOrNone("fallbackOn"),
    rule: read.rule,
  });
  return {
    input: isWhole ? { ...beginning, ...rest() } : beginning,
    faults: isWhole ? [...faults, ...read.faults] : faults,
    fieldOf: (place) => fields.get(place) ?? read.fields.get(place) ?? place,
  };
}

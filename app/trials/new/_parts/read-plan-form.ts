import { parseDay } from "@/lib/words/day";
import type { Fault, Outcome } from "@/lib/words/fault";
import { parseLengthMm } from "@/lib/words/length";
import { parseNumber } from "@/lib/words/number";
import { assessmentNames } from "@/lib/words/trial";
import { readRuleForm } from "../../_parts/read-rule-form";
import { checkRow, rowCount, sowingRows, tenderRow } from "./plan-rows";

type Values = Record<string, string>;

export interface ReadPlan {
  /** The plan as the services take it. What could not be read stands in it as it was typed, and is refused by them. */
  input: Record<string, unknown>;
  faults: Fault[];
  /** The field of the form that a place in the plan came from: rows left empty are not in the plan. */
  fieldOf(place: string): string;
}

const companionParts = ["name", "habit", "sownOn", "betweenPlantsMm"];

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
  knownBeds: readonly { name: string; widthMm: number; lengthMm: number; potMm?: number }[],
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

  const bedParts = ["name", "widthMm", "lengthMm", "potMm"];
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
      ...(typed(`beds.new.${row}.potMm`) === "" ? {} : { potMm: length(`beds.new.${row}.potMm`) }),
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

  const levelParts = ["kind", "name", "fromOn", "untilOn"];
  const levelRows = span(rowCount(values, "levels")).filter((row) => holds(`levels.${row}`, levelParts));
  const levels = levelRows.map((row, position) => {
    const kind = typed(`levels.${row}.kind`);
    const place = `mainPlots.levels.${position}`;
    for (const part of ["cover", "cover.kind", "kind"]) fields.set(`${place}.${part}`, `levels.${row}.kind`);
    fields.set(`${place}.cover.name`, `levels.${row}.name`);
    for (const part of ["fromOn", "untilOn"]) fields.set(`${place}.${part}`, `levels.${row}.${part}`);
    const isOpen = /^(open ground|open|none|nothing)$/i.test(kind);
    return {
      cover: isOpen ? null : { kind, name: typed(`levels.${row}.name`) || kind },
      fromOn: dayOrNone(`levels.${row}.fromOn`),
      untilOn: dayOrNone(`levels.${row}.untilOn`),
    };
  });
  const laterSowings = span(sowingRows).filter((row) => typed(`sowings.${row}.sownOn`) !== "");
  laterSowings.forEach((row, position) => {
    fields.set(`mainPlots.levels.${position + 1}.sownOn`, `sowings.${row}.sownOn`);
  });
  for (const place of ["mainPlots", "mainPlots.levels"]) fields.set(place, "levels");
  const readCompanion = (row: string) => ({
    name: typed(`${row}.name`),
    habit: values[`${row}.habit`],
    sownOn: day(`${row}.sownOn`),
    betweenPlantsMm: length(`${row}.betweenPlantsMm`),
  });
  const isCompanion = holds("among.0", ["name", "sownOn", "betweenPlantsMm"]);
  const mainPlots = () => {
    if ([levels.length > 0, laterSowings.length > 0, isCompanion].filter((some) => some).length > 1)
      faults.push({ place: "sowings", found: "several things to compare", wanted: "one of them" });
    if (levels.length > 0) return { factor: "cover", levels };
    if (isCompanion) {
      for (const part of companionParts)
        fields.set(`mainPlots.levels.0.companion.${part}`, `among.0.${part}`);
      fields.set("mainPlots.levels.0.companion", "among.0.name");
      return { factor: "companion", levels: [{ companion: readCompanion("among.0") }, { companion: null }] };
    }
    if (laterSowings.length === 0) return null;
    fields.set("mainPlots.levels.0.sownOn", "sownOn");
    const later = laterSowings.map((row) => ({ sownOn: day(`sowings.${row}.sownOn`) }));
    return { factor: "sowing", levels: [{ sownOn: day("sownOn") }, ...later] };
  };

  const wayParts = ["fromMm", "toMm", "bed"];
  const wayRows = span(rowCount(values, "inTheWay")).filter((row) => holds(`inTheWay.${row}`, wayParts));
  const fromEnd = (field: string) => (/^0*$/.test(typed(field)) ? 0 : length(field));
  const takenUp = wayRows.map((row) => ({
    row,
    bed: typed(`inTheWay.${row}.bed`).toLowerCase(),
    fromMm: fromEnd(`inTheWay.${row}.fromMm`),
    toMm: length(`inTheWay.${row}.toMm`),
  }));
  const bedsWithGround = () => {
    const beds = [...ticked, ...newBeds];
    const inBed = (name: string, isFirst: boolean) =>
      takenUp.filter(({ bed }) => (bed === "" ? isFirst : bed === name.toLowerCase()));
    for (const { bed, row } of takenUp)
      if (bed !== "" && !beds.some((one) => one.name.toLowerCase() === bed))
        faults.push({ place: `inTheWay.${row}.bed`, found: bed, wanted: "one of the beds of this trial" });
    return beds.map((bed, index) => {
      const own = inBed(bed.name, index === 0);
      own.forEach(({ row }, position) => {
        for (const part of ["fromMm", "toMm"])
          fields.set(`beds.${index}.takenUp.${position}.${part}`, `inTheWay.${row}.${part}`);
      });
      return own.length === 0 ? bed : { ...bed, takenUp: own.map(({ fromMm, toMm }) => ({ fromMm, toMm })) };
    });
  };

  const companions = rows(
    "companions",
    span(rowCount(values, "companions")).filter((row) =>
      holds(`companions.${row}`, ["name", "sownOn", "betweenPlantsMm"]),
    ),
    companionParts,
    (row) => readCompanion(`companions.${row}`),
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
    beds: bedsWithGround(),
    covers,
    mainPlots: mainPlots(),
    sownOn: day("sownOn"),
    plantedOn: day("plantedOn"),
    plantsToHand: typed("plantsToHand") === "" ? undefined : whole("plantsToHand"),
  };
  const rest = () => ({
    id: values.trialId,
    design: values.design,
    seed: whole("seed"),
    blocks: whole("blocks"),
    plantsPerPlot: whole("plantsPerPlot"),
    betweenPlantsMm: length("betweenPlantsMm"),
    betweenRowsMm: length("betweenRowsMm"),
    plotsPerBlock: typed("plotsPerBlock") === "" ? null : whole("plotsPerBlock"),
    gradient: typed("gradient") || null,
    pathSide: typed("pathSide") || null,
    guardRows: typed("guardRows") === "" ? 0 : whole("guardRows"),
    companions,
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

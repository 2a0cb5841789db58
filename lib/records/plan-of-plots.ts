import type { Day } from "@/lib/words/day";
import type { Fault } from "@/lib/words/fault";
import type { Instant } from "@/lib/words/instant";
import { sayCompanionLevel } from "@/lib/words/say-under";
import { blocksFromReplicates, designFaults, designOfColumns } from "./design-of-columns";
import type { PlotRow } from "./read-plots";
import type { TrialFolder, TrialPlanTold } from "./read-trial-folder";

/** What plots alone do not say, as the person who brings them says it. */
export interface TrialDetails {
  question: string;
  crop: string;
  /** Blank where there is none. */
  check: string;
}

/** Files carry no seed of a deal, so that one is fixed: the same files always give the same figures. */
export const seedForFiles = 1;
/** Ground for a plant where a file does not say how much it had. */
const usualM2 = 0.09;
/** What is written on a stake. */
const longestCode = 12;
const openGround = "open ground";

function distinct<Value>(values: readonly Value[]): Value[] {
  return [...new Set(values)];
}

/** The value that most have; the first of those that tie. */
function commonest(values: readonly number[]): number {
  const tally = new Map<number, number>();
  for (const value of values) tally.set(value, (tally.get(value) ?? 0) + 1);
  return [...tally].sort((one, other) => other[1] - one[1])[0]?.[0] ?? 1;
}

function squareMm(areaM2: number, plants: number): number {
  return Math.min(5_000, Math.max(10, Math.round(Math.sqrt(areaM2 / plants) * 1000)));
}

/** Plots one beside the other by row and column, or one behind the other where those are not told. */
function placesOf(plots: readonly PlotRow[], bed: string, under: (plot: PlotRow) => string | null) {
  const isPlaced = plots.every((plot) => plot.row !== null && plot.column !== null);
  const sizes = plots.map((plot) => plot.areaM2 ?? (plot.plants ?? 1) * usualM2);
  // A metre wide, so that the area comes out again to the thousandth of a square metre.
  const widthMm = 1000;
  const longestMm = Math.max(...sizes.map((areaM2) => Math.max(1, Math.round(areaM2 * 1000))));
  const places = plots.map((plot, index) => {
    const [row, column] = isPlaced ? [plot.row ?? 1, plot.column ?? 1] : [index + 1, 1];
    return {
      plot: plot.plot,
      bed,
      xMm: (column - 1) * widthMm,
      yMm: (row - 1) * longestMm,
      widthMm,
      lengthMm: Math.max(1, Math.round(sizes[index] * 1000)),
      plantRows: Math.ceil(Math.sqrt(plot.plants ?? 1)),
      under: under(plot),
    };
  });
  const reach = (of: "xMm" | "yMm", by: number) => Math.max(...places.map((place) => place[of])) + by;
  return {
    places,
    beds: [
      { bed, widthMm: reach("xMm", widthMm), lengthMm: Math.max(100, reach("yMm", longestMm)), potMm: null },
    ],
  };
}

/** The one day that plots share; faults where one has none or they differ. */
function plantingDay(
  plots: readonly PlotRow[],
  place: (plot: PlotRow, column: string) => string,
  faults: Fault[],
) {
  const [first] = plots;
  for (const plot of plots) {
    if (plot.plantedOn === null)
      faults.push({
        place: place(plot, "planted_on"),
        found: "nothing",
        wanted: "the day on which it was planted",
      });
    else if (first.plantedOn !== null && plot.plantedOn !== first.plantedOn)
      faults.push({
        place: place(plot, "planted_on"),
        found: plot.plantedOn,
        wanted: `${first.plantedOn}, as the first plot: a trial is planted on one day`,
      });
    if (plot.plants === null)
      faults.push({ place: place(plot, "plants"), found: "nothing", wanted: "how many plants were set out" });
  }
  return first.plantedOn;
}

/** What differs between plots beside the variety: main plots may be dealt it, and then it makes the levels. */
function levelsOf(
  plots: readonly PlotRow[],
  plantedOn: Day,
  isSplit: boolean,
  refuse: (plot: PlotRow, column: string, wanted: string) => void,
): Pick<TrialPlanTold, "covers" | "levels"> & { companions: string[]; under(plot: PlotRow): string | null } {
  const covers = distinct(plots.map((plot) => plot.cover));
  const sowings = distinct(plots.map((plot) => plot.sownOn ?? plantedOn));
  const among = distinct(plots.map((plot) => plot.companion));
  const companions = among.filter((name) => name !== null);
  const blank = { cover: null, kind: null, fromOn: null, untilOn: null, sownOn: null, companion: null };
  const differing = <Key extends "cover" | "sownOn" | "companion">(key: Key, column: string) => {
    const odd = plots.find((plot) => plot[key] !== plots[0][key]);
    if (odd) refuse(odd, column, "the same for the whole trial, unless whole main plots were dealt it");
  };
  const byCover = isSplit && covers.length > 1;
  const bySowing = isSplit && !byCover && sowings.length > 1;
  const byCompanion = isSplit && !byCover && !bySowing && among.length > 1;
  if (!byCover && covers.length > 1) differing("cover", "cover");
  if (!bySowing && sowings.length > 1) differing("sownOn", "sown_on");
  if (!byCompanion && among.length > 1) differing("companion", "companion");
  const [only] = covers;
  const whole = {
    covers: only === null ? [] : [{ cover: only, kind: "cover", fromOn: plantedOn, untilOn: null }],
  };
  if (byCover)
    return {
      covers: [],
      levels: covers.map((cover) => ({
        ...blank,
        level: cover ?? openGround,
        factor: "cover",
        cover,
        kind: cover === null ? null : "cover",
        fromOn: cover === null ? null : plantedOn,
      })),
      companions,
      under: (plot) => plot.cover ?? openGround,
    };
  if (byCompanion)
    return {
      ...whole,
      levels: among.map((companion) => ({
        ...blank,
        level: sayCompanionLevel(companion),
        factor: "companion",
        companion,
      })),
      companions,
      under: (plot) => sayCompanionLevel(plot.companion),
    };
  return {
    ...whole,
    companions,
    levels: bySowing ? sowings.map((sownOn) => ({ ...blank, level: sownOn, factor: "sowing", sownOn })) : [],
    under: (plot) => (bySowing ? (plot.sownOn ?? plantedOn) : null),
  };
}

/**
 * Makes a trial's plan of its plots alone: what a file of plots cannot say stands as plainly as can be. No rule was set
 * before such a trial, so none proposes anything.
 *
 * @param lastSeenOn the last day in its observations; its end is put there
 */
export function planOfPlots(
  folder: TrialFolder,
  details: TrialDetails,
  lastSeenOn: Day | null,
  faults: { add(faults: readonly Fault[]): void },
): TrialPlanTold | null {
  const { plots, plotsFile, description } = folder;
  const found: Fault[] = [];
  const place = (plot: PlotRow, column: string) => `${plotsFile}:${plot.line}:${column}`;
  const refuse = (plot: PlotRow, column: string, wanted: string) => {
    const value = column === "cover" ? plot.cover : column === "companion" ? plot.companion : plot.sownOn;
    found.push({ place: place(plot, column), found: value ?? "nothing", wanted });
  };
  const question = details.question || description?.title || "";
  const varieties = distinct(plots.map((plot) => plot.variety));
  if (question === "")
    found.push({ place: "question", found: "nothing", wanted: "the question that the trial answers" });
  if (details.crop === "") found.push({ place: "crop", found: "nothing", wanted: "the crop’s name" });
  if (details.check !== "" && !varieties.includes(details.check))
    found.push({ place: "check", found: details.check, wanted: `one of ${varieties.join(", ")}` });
  for (const plot of plots)
    if (plot.plot.length > longestCode)
      found.push({ place: place(plot, "plot"), found: plot.plot, wanted: `at most ${longestCode} letters` });
  if (varieties.length < 2)
    found.push({ place: place(plots[0], "variety"), found: varieties[0], wanted: "two varieties at least" });
  const design = description?.design ?? designOfColumns(plots);
  found.push(...designFaults(plots, design, plotsFile));
  const plantedOn = plantingDay(plots, place, found);
  if (!plantedOn) {
    faults.add(found);
    return null;
  }
  const { covers, levels, companions, under } = levelsOf(plots, plantedOn, design === "split-plot", refuse);
  faults.add(found);
  if (found.length > 0) return null;

  const [first] = plots;
  const plantsPerPlot = commonest(plots.map((plot) => plot.plants ?? 1));
  const apartMm = squareMm(
    first.areaM2 ?? plantsPerPlot * usualM2,
    first.areaM2 === null ? plantsPerPlot : (first.plants ?? 1),
  );
  const blocks = distinct(
    blocksFromReplicates(plots, design).map((plot) => `${plot.replicate} / ${plot.block}`),
  );
  return {
    id: description?.id ?? null,
    question,
    purpose: null,
    crop: details.crop,
    design,
    seed: seedForFiles,
    blocks: blocks.length,
    plantsPerPlot,
    betweenPlantsMm: apartMm,
    betweenRowsMm: apartMm,
    sownOn: plots.map((plot) => plot.sownOn ?? plantedOn).sort()[0],
    plantedOn,
    decidingAssessment: "end",
    pickingRule: null,
    clearBy: null,
    fallbackOn: null,
    closedOn: null,
    plotsPerBlock: null,
    gradient: null,
    guardRows: null,
    pathSide: null,
    entries: varieties.map((variety) => ({
      variety,
      role: variety === details.check ? "check" : "entry",
      packetClaim: null,
    })),
    ...placesOf(plots, `${details.crop} bed, planted ${plantedOn}`.slice(0, 80), under),
    takenUp: [],
    covers,
    levels,
    // A file of plots says no more of a companion than its name.
    companions: companions.map((name) => ({
      name,
      habit: "quick",
      sownOn: plantedOn,
      betweenPlantsMm: apartMm,
    })),
    assessments: [
      { name: "end", dueOn: lastSeenOn !== null && lastSeenOn > plantedOn ? lastSeenOn : plantedOn },
    ],
    rules: [
      {
        version: 1,
        survivalFloor: null,
        yieldFloor: null,
        sureness: 0.8,
        qualities: [],
        reason: null,
        setAt: `${plantedOn}T00:00:00.000Z` as Instant,
      },
    ],
    amendments: [],
    verdicts: [],
  };
}

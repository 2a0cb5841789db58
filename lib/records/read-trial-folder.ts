import type { Day } from "@/lib/words/day";
import type { Fault } from "@/lib/words/fault";
import type { Instant } from "@/lib/words/instant";
import {
  type Assessment,
  type AssessmentName,
  type Companion,
  type Design,
  designs,
  type EntryRole,
  type Gradient,
  type MainFactor,
  type PathSide,
  type Rule,
  type VerdictChoice,
} from "@/lib/words/trial";
import type { FileManner } from "./cell-reader";
import { decodeChunks } from "./encoding";
import { exactRows } from "./exact-rows";
import type { SourceFile } from "./open-table";
import { type PackageRow, readPackageTable, refuseStrangers } from "./read-package-table";
import { type PlotRow, plotColumns, plotReader } from "./read-plots";
import { type TrialTableName, trialTables } from "./trial-tables";

/** A trial as a folder tells it, by names instead of ids. Its observations are read after it, against its plots. */
export interface TrialPlanTold {
  id: string | null;
  question: string;
  purpose: string | null;
  crop: string;
  design: Design;
  seed: number;
  blocks: number;
  plantsPerPlot: number;
  betweenPlantsMm: number;
  betweenRowsMm: number;
  sownOn: Day;
  plantedOn: Day;
  decidingAssessment: AssessmentName;
  pickingRule: string | null;
  clearBy: Day | null;
  fallbackOn: Day | null;
  closedOn: Day | null;
  plotsPerBlock: number | null;
  gradient: Gradient | null;
  guardRows: number | null;
  pathSide: PathSide | null;
  entries: { variety: string; role: EntryRole; packetClaim: string | null }[];
  beds: { bed: string; widthMm: number; lengthMm: number; potMm: number | null }[];
  places: {
    plot: string;
    bed: string;
    xMm: number;
    yMm: number;
    widthMm: number;
    lengthMm: number;
    plantRows: number;
    under: string | null;
  }[];
  takenUp: { bed: string; fromMm: number; toMm: number }[];
  covers: { cover: string; kind: string; fromOn: Day; untilOn: Day | null }[];
  levels: {
    level: string;
    factor: MainFactor;
    cover: string | null;
    kind: string | null;
    fromOn: Day | null;
    untilOn: Day | null;
    sownOn: Day | null;
    companion: string | null;
  }[];
  companions: Companion[];
  assessments: Assessment[];
  rules: Rule[];
  amendments: {
    plot: string | null;
    kind: string;
    fromOn: Day;
    reason: string;
    by: string | null;
    madeAt: Instant;
  }[];
  verdicts: {
    variety: string;
    purpose: string | null;
    proposal: VerdictChoice | null;
    choice: VerdictChoice;
    reason: string;
    by: string | null;
    decidedOn: Day;
    decidedAt: Instant;
  }[];
}

export interface TrialFolder {
  plots: PlotRow[];
  plotsFile: string;
  /** The trial as its own tables tell it; null where there are only plots and observations. */
  plan: TrialPlanTold | null;
  observations: SourceFile | null;
  weather: SourceFile | null;
  /** What `datapackage.json` says, where there is one. */
  description: { id: string | null; title: string; design: Design | null } | null;
  decimalComma: boolean;
  /** Columns and files that no table of a trial knows. */
  unknown: string[];
}

interface Faults {
  add(faults: readonly Fault[]): void;
}

const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** A file's name without its folders and its ending, in small letters. */
function stemOf(name: string): string {
  return (name.split(/[\\/]/).at(-1) ?? "").replace(/\.(csv|tsv|txt|json)$/i, "").toLowerCase();
}

function camelled(values: Record<string, unknown>): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(values).map(([name, value]) => [
      name.replace(/_([a-z])/g, (_, letter: string) => letter.toUpperCase()),
      value,
    ]),
  );
}

/** What the description says of the whole; faults where it is none. */
function readDescription(file: SourceFile | undefined, faults: Faults): TrialFolder["description"] {
  if (!file) return null;
  try {
    const told: unknown = JSON.parse([...decodeChunks(file.chunks(), "utf-8")].join(""));
    const { id, title, design } = (told ?? {}) as Record<string, unknown>;
    return {
      id: typeof id === "string" && uuid.test(id) ? id : null,
      title: typeof title === "string" ? title.slice(0, 300) : "",
      design: designs.find((one) => one === design) ?? null,
    };
  } catch {
    const wanted = "a Data Package’s description in JSON, or no such file";
    faults.add([{ place: `${file.name}:1:1`, found: "text that is no JSON", wanted }]);
    return null;
  }
}

/** The plan as the trial's own tables tell it; their types and limits are those of `trialTables`. */
function planTold(rowsOf: ReadonlyMap<string, PackageRow[]>): TrialPlanTold {
  const rows = <Row>(name: TrialTableName): Row[] =>
    (rowsOf.get(name) ?? []).map((row) => camelled(row.values) as Row);
  const [trial] = rows<Omit<TrialPlanTold, "entries">>("trial");
  return {
    ...trial,
    entries: rows("entries"),
    beds: rows("beds"),
    places: rows("places"),
    takenUp: rows("taken-up"),
    covers: rows("covers"),
    levels: rows("main-levels"),
    companions: rows("companions"),
    assessments: rows("assessments"),
    rules: rows("rules"),
    amendments: rows("amendments"),
    verdicts: rows("verdicts"),
  };
}

const readApart: readonly TrialTableName[] = ["plots", "observations"];
const further = trialTables.filter((table) => !readApart.includes(table.name));
/** Without these the plan is not told. */
const together: readonly TrialTableName[] = ["trial", "entries", "beds", "places", "assessments", "rules"];

function readPlan(
  files: ReadonlyMap<string, SourceFile>,
  plots: readonly PlotRow[],
  faults: Faults,
): TrialPlanTold | null {
  const there = further.filter((table) => files.has(table.name));
  if (!files.has("trial")) return null;
  for (const name of together)
    if (!files.has(name))
      faults.add([{ place: `${name}.csv:1:1`, found: "no such file", wanted: "it, beside trial.csv" }]);
  const rowsOf = new Map(
    there.map((table) => [
      table.name as string,
      readPackageTable(table, files.get(table.name) as SourceFile, faults),
    ]),
  );
  rowsOf.set(
    "plots",
    plots.map(({ line, plot, variety }) => ({
      line,
      place: (field) => `plots.csv:${line}:${field}`,
      values: { plot, variety },
    })),
  );
  refuseStrangers(
    trialTables.filter((table) => table.name !== "observations"),
    rowsOf,
    faults,
  );
  for (const name of together)
    if (files.has(name) && rowsOf.get(name)?.length === 0)
      faults.add([{ place: `${name}.csv:2:1`, found: "nothing", wanted: "at least one row" }]);
  const trials = rowsOf.get("trial") ?? [];
  if (trials.length > 1)
    faults.add([{ place: trials[1].place("id"), found: "another trial", wanted: "one trial" }]);
  if (trials.length === 0) return null;
  const placed = new Set(rowsOf.get("places")?.map((row) => row.values.plot));
  for (const { line, plot } of plots)
    if (!placed.has(plot))
      faults.add([
        { place: `plots.csv:${line}:plot`, found: plot, wanted: "a plot that has a place in places.csv" },
      ]);
  return planTold(rowsOf);
}

/**
 * Reads a trial's folder: plots at least, and with them observations, weather, the trial's own tables as far as they are
 * there. Files are known by their names, folders and endings apart; a single table that has no known name is taken for
 * the plots. Null, with the faults told, where there are no plots.
 */
export function readTrialFolder(sources: readonly SourceFile[], faults: Faults): TrialFolder | null {
  const files = new Map<string, SourceFile>();
  const known = new Set<string>([...trialTables.map((table) => table.name), "weather", "datapackage"]);
  const strangers: SourceFile[] = [];
  for (const file of sources) {
    const stem = stemOf(file.name);
    if (!known.has(stem)) strangers.push(file);
    else if (files.has(stem))
      faults.add([{ place: `${file.name}:1:1`, found: `a second ${stem}`, wanted: "one of each" }]);
    else files.set(stem, file);
  }
  const [stranger] = strangers;
  if (!files.has("plots") && sources.length === 1 && stranger) files.set("plots", strangers.splice(0, 1)[0]);
  const plotsFile = files.get("plots");
  if (!plotsFile) {
    faults.add([{ place: "file", found: "no plots", wanted: "plots.csv, alone or with what belongs to it" }]);
    return null;
  }
  const opened = exactRows(plotsFile, plotColumns);
  if (!opened.ok) {
    faults.add(opened.faults);
    return null;
  }
  const { decimalComma, unknownColumns } = opened.value;
  const manner: FileManner = { decimalComma, dayOrder: null };
  const read = plotReader(manner);
  const plots: PlotRow[] = [];
  for (const row of opened.value.rows(faults)) {
    const own: Fault[] = [];
    plots.push(read(row, own));
    faults.add(own);
  }
  if (plots.length === 0)
    faults.add([{ place: `${plotsFile.name}:2:1`, found: "nothing", wanted: "at least one plot" }]);
  return {
    plots,
    plotsFile: plotsFile.name,
    plan: readPlan(files, plots, faults),
    observations: files.get("observations") ?? null,
    weather: files.get("weather") ?? null,
    description: readDescription(files.get("datapackage"), faults),
    decimalComma,
    unknown: [
      ...unknownColumns.map((column) => `${plotsFile.name}: ${column}`),
      ...strangers.map((file) => file.name),
    ],
  };
}

import type { AnalysedDesign, TrialRecord } from "@/lib/analysis/trial-record";
import { blocksFromReplicates, designFaults, designOfColumns } from "@/lib/records/design-of-columns";
import { seedForFiles } from "@/lib/records/plan-of-plots";
import type { ObservationRow } from "@/lib/records/read-observations";
import type { PlotRow } from "@/lib/records/read-plots";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { instantOf } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";

export interface FilesRequest {
  plots: PlotRow[];
  observations: ObservationRow[];
  /** The plots file's name, for the places of faults. */
  plotsFile: string;
  /** Null: told from the columns that are filled. */
  design: AnalysedDesign | null;
  check: string | null;
}

const deviceOfFiles = "00000000-0000-7000-8000-000000000000";

/** A trial's record from the rows of its two files, or what the design asks for and the files do not say. */
export function recordFromFiles(request: FilesRequest): Outcome<TrialRecord> {
  const { observations, plotsFile, check } = request;
  const design = request.design ?? designOfColumns(request.plots);
  const plots = blocksFromReplicates(request.plots, design);
  const varieties = [...new Set(plots.map((plot) => plot.variety))];
  const faults = designFaults(plots, design, plotsFile);
  if (check !== null && !varieties.includes(check))
    faults.push({
      place: "--check",
      found: check,
      wanted: `one of the varieties in ${plotsFile}: ${varieties.join(", ")}`,
    });
  if (faults.length > 0) return refusal(faults);
  return success({
    design,
    seed: seedForFiles,
    varieties,
    check,
    tenderCheck: null,
    plots: plots.map((plot) => ({
      id: plot.plot,
      code: plot.plot,
      variety: plot.variety,
      replicate: plot.replicate,
      block: plot.block,
      mainPlot: plot.mainPlot,
      row: plot.row,
      column: plot.column,
      cover: plot.cover,
      companion: plot.companion,
      sownOn: plot.sownOn,
      plants: plot.plants,
      plantedOn: plot.plantedOn,
      areaM2: plot.areaM2,
    })),
    facts: observations.map(factFromRow),
    amendments: [],
    assessments: [],
    decidingAssessment: "end",
    rule: null,
    ruleChangedAfterData: false,
    clearBy: null,
  });
}

/** Rows fold in the order of the file within a day. Plants added complete their plot where `set_out_on` is blank. */
function factFromRow(row: ObservationRow): Observation {
  return {
    id: row.id ?? `line ${row.line}`,
    deviceId: deviceOfFiles,
    deviceSequence: row.line,
    walkaboutId: null,
    plotId: row.plot,
    cohortOn: row.setOutOn,
    kind: row.kind,
    cause: row.cause,
    trait: row.trait,
    part: row.part,
    amount: row.amount,
    unit: row.unit,
    seenOn: row.seenOn,
    recordedAt: instantOf(0),
    replaces: row.replaces,
    by: row.by ?? "",
    note: row.note,
  };
}

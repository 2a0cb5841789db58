import type { Clumping } from "@/lib/statistics/clumping";
import { effectiveMainPlots } from "@/lib/statistics/effective-main-plots";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import type { Estimate } from "@/lib/statistics/interval";
import { moverDifference } from "@/lib/statistics/mover-difference";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import type { ShareOf, SurvivalOfMain, SurvivalOfVariety } from "./finding";
import { isVarietyOnMainPlots, mainTreatment, treatmentName } from "./layout";
import type { PlotStand } from "./plot-stand";
import type { Share } from "./share-fit";
import { cellCounts, cellName, mainPlotCounts } from "./stand-counts";
import type { TrialRecord } from "./trial-record";

/** Every variety's share under every treatment of main plots, and how much plants of one plot clump there. */
export interface CellFit {
  clumping: Clumping;
  shares: { treatment: string; variety: string; share: number | null; known: Share["known"] }[];
}

/** Shares under each cover or sowing, main plots as blocks; null where no treatment was dealt to main plots. */
export function fitCells(record: TrialRecord, stands: PlotStand[], level: number): CellFit | null {
  const treatmentOf = record.design === "split-plot" ? mainTreatment(record) : null;
  const held = stands.filter((stand) => stand.setOut > stand.takenOut);
  if (!treatmentOf || held.length === 0) return null;
  const cells = effectivePlants(cellCounts(record, held), "rcbd", level);
  return {
    clumping: cells.clumping,
    shares: [...new Set(record.plots.map(treatmentOf))].flatMap((treatment) =>
      record.varieties.map((variety) => {
        const cell = cells.varieties.find((one) => one.variety === cellName(treatment, variety));
        const known =
          cell === undefined || cell.clusterSize === null
            ? null
            : { plants: cell.setOut, clusterSize: cell.clusterSize };
        return { treatment, variety, share: cell?.share ?? null, known };
      }),
    ),
  };
}

interface Weighed {
  share: number | null;
  effectivePlants: number | null;
}

function differenceOf(a: Weighed | undefined, b: Weighed | undefined, level: number): Estimate | null {
  if (a?.share == null || b?.share == null || !a.effectivePlants || !b.effectivePlants) return null;
  return newcombeDifference(
    { share: a.share, plants: a.effectivePlants },
    { share: b.share, plants: b.effectivePlants },
    level,
  );
}

/**
 * What covers or sowing dates did, dealt to whole main plots: each with its limits, their differences, every variety
 * under each, and how far the varieties' differences depend on them. With two blocks a difference of covers is
 * described and has no limits. Null where no treatment differs.
 */
export function survivalOfMain(
  record: TrialRecord,
  stands: PlotStand[],
  level: number,
): SurvivalOfMain | null {
  const treatmentOf = mainTreatment(record);
  const held = stands.filter((stand) => stand.setOut > stand.takenOut);
  if (!treatmentOf || held.length === 0) return null;
  const onMain = !isVarietyOnMainPlots(record);
  const cells = effectivePlants(cellCounts(record, held), "rcbd", level);
  const mains = onMain ? effectiveMainPlots(mainPlotCounts(record, held, "treatment"), level) : null;
  const treatments = [...new Set(record.plots.map(treatmentOf))];
  const blocks = new Set(record.plots.map((plot) => plot.block)).size;
  const pairs = treatments.flatMap((b, place) => treatments.slice(place + 1).map((a) => ({ a, b })));
  const ofTreatment = (name: string) => mains?.treatments.find((one) => one.treatment === name);
  const ofCell = (treatment: string, variety: string) =>
    cells.varieties.find((one) => one.variety === cellName(treatment, variety));
  return {
    factor: treatmentName(record),
    df: mains?.dispersion.df ?? 0,
    treatments: treatments.map(
      (treatment): ShareOf<"treatment"> => ({
        treatment,
        ...plantsOf(held.filter((stand) => treatmentOf(stand.plot) === treatment)),
        ...limitsOf(ofTreatment(treatment)),
      }),
    ),
    differences: pairs.map(({ a, b }) => {
      const limits = differenceOf(ofTreatment(a), ofTreatment(b), level);
      const isDescribed = blocks < 3;
      return {
        a,
        b,
        estimate: limits?.estimate ?? null,
        low: isDescribed ? null : (limits?.low ?? null),
        high: isDescribed ? null : (limits?.high ?? null),
      };
    }),
    cells: treatments.flatMap((treatment) =>
      record.varieties.map((variety) => ({
        treatment,
        variety,
        ...plantsOf(
          held.filter((stand) => treatmentOf(stand.plot) === treatment && stand.plot.variety === variety),
        ),
        ...limitsOf(ofCell(treatment, variety)),
      })),
    ),
    interactions: pairs.flatMap(({ a, b }) =>
      againstReference(record).map(({ variety, reference }) => {
        const under = (treatment: string) =>
          differenceOf(ofCell(treatment, variety), ofCell(treatment, reference), level);
        const [underA, underB] = [under(a), under(b)];
        const mover = underA && underB ? moverDifference(underA, underB) : null;
        return {
          variety,
          reference,
          a,
          b,
          estimate: mover?.estimate ?? null,
          low: mover?.low ?? null,
          high: mover?.high ?? null,
        };
      }),
    ),
  };
}

function plantsOf(
  stands: PlotStand[],
): Pick<SurvivalOfVariety, "plots" | "plants" | "standing" | "censored"> {
  return {
    plots: stands.length,
    plants: stands.reduce((sum, stand) => sum + stand.setOut, 0),
    standing: stands.reduce((sum, stand) => sum + stand.standing, 0),
    censored: stands.reduce((sum, stand) => sum + stand.takenOut, 0),
  };
}

function limitsOf(
  share: (Weighed & { low: number | null; high: number | null }) | undefined,
): Pick<SurvivalOfVariety, "estimate" | "low" | "high" | "effectivePlants"> {
  return {
    estimate: share?.share ?? null,
    low: share?.low ?? null,
    high: share?.high ?? null,
    effectivePlants: share?.effectivePlants ?? null,
  };
}

function againstReference({ varieties, check }: TrialRecord): { variety: string; reference: string }[] {
  if (check !== null)
    return varieties.filter((variety) => variety !== check).map((variety) => ({ variety, reference: check }));
  return varieties.flatMap((reference, place) =>
    varieties.slice(place + 1).map((variety) => ({ variety, reference })),
  );
}

import type { Figure } from "@/lib/figure/figure";
import { lossFigure } from "@/lib/figure/loss-figure";
import { mainFigure } from "@/lib/figure/main-figure";
import { residualFigure } from "@/lib/figure/residual-figure";
import { standingFigure } from "@/lib/figure/standing-figure";
import { survivalDifferenceFigure } from "@/lib/figure/survival-difference-figure";
import { survivalFigure } from "@/lib/figure/survival-figure";
import { yieldDifferenceFigure } from "@/lib/figure/yield-difference-figure";
import { yieldFigure } from "@/lib/figure/yield-figure";
import type { ColdNights } from "@/lib/service/cold-nights";
import type { trialFindings } from "@/lib/service/trial-findings";
import type { TrialView } from "@/lib/service/trial-view";
import { addressOf, type ResultsAsked } from "./asked";
import { bedDrawing } from "./bed-drawing";

type Findings = NonNullable<ReturnType<typeof trialFindings>>;
type Draw = (widthPx: number) => Figure | null;

/** Every figure of the results, each drawn at a width: the page's own and the files'. */
export interface Drawings {
  survival: Draw;
  steps: Draw[];
  differences: Draw;
  main: Draw;
  losses: Draw;
  standing: Draw;
  yield: Draw;
  yieldDifferences: Draw;
  residuals: Draw;
  beds: Draw[];
}

const nothing: Draw = () => null;

/** The figures that a trial's findings give; what there is nothing to draw of draws nothing. */
export function drawingsOf(
  trial: TrialView,
  findings: Findings,
  asked: ResultsAsked,
  cold: ColdNights | null,
): Drawings {
  const { survival, took, wintered, losses, standing, yield: harvest } = findings;
  const { check } = findings.trial;
  const floor = trial.rule?.survivalFloor ?? null;
  return {
    survival: survival ? (widthPx) => survivalFigure(survival, { check, floor, widthPx }) : nothing,
    steps: [took, wintered]
      .filter((step) => step !== null)
      .map((step) => (widthPx) => survivalFigure(step, { check, floor: null, widthPx })),
    differences: survival ? (widthPx) => survivalDifferenceFigure(survival, { widthPx }) : nothing,
    main: survival ? (widthPx) => mainFigure(survival, { under: asked.under, widthPx }) : nothing,
    losses: survival && losses ? (widthPx) => lossFigure(losses, survival, { widthPx }) : nothing,
    standing: standing
      ? (widthPx) => standingFigure(standing, { check, frosts: cold?.frosts, widthPx })
      : nothing,
    yield: harvest ? (widthPx) => yieldFigure(harvest, { check, widthPx }) : nothing,
    yieldDifferences: harvest ? (widthPx) => yieldDifferenceFigure(harvest, { widthPx }) : nothing,
    residuals: harvest
      ? (widthPx) => residualFigure(harvest.value.working.residuals, { unit: harvest.scale, widthPx })
      : nothing,
    beds: trial.beds.map((bed) => bedDrawing(trial, findings, bed, asked.leavingOut ?? null)),
  };
}

/** Where each figure may be had as a file, as it stands under what was asked for. */
export function figureFiles(trialId: string, asked: ResultsAsked): (figureId: string) => string {
  return (figureId) => `/trials/${trialId}/results/figure/${figureId}${addressOf(asked)}`;
}

import { bedFigure } from "@/lib/figure/bed-figure";
import type { Figure } from "@/lib/figure/figure";
import type { trialFindings } from "@/lib/service/trial-findings";
import type { TrialView } from "@/lib/service/trial-view";

type Findings = NonNullable<ReturnType<typeof trialFindings>>;

/**
 * A bed to scale with what stands in every plot.
 *
 * @param leftOut code of a plot that somebody chose to leave out
 */
export function bedDrawing(
  trial: TrialView,
  findings: Findings,
  bed: TrialView["beds"][number],
  leftOut: string | null,
): (widthPx: number) => Figure | null {
  const outcomes = new Map(findings.plots.map((plot) => [plot.plotId, plot]));
  const varieties = new Map(trial.entries.map((entry) => [entry.id, entry]));
  return (widthPx) =>
    bedFigure({
      id: `bed-${bed.id}`,
      title: `${bed.name}: what stands in each plot`,
      description: `${bed.name} drawn to scale with the plants standing in each plot; darker plots lost more.`,
      bed,
      plots: trial.plots
        .filter((plot) => plot.bedId === bed.id)
        .map((plot) => {
          const outcome = outcomes.get(plot.id);
          const entry = varieties.get(plot.entryId);
          const isKnown = outcome?.standing != null && outcome.setOut && outcome.leftOn === null;
          return {
            ...plot,
            variety: entry?.variety ?? "",
            words: isKnown
              ? `${outcome.standing} of ${outcome.setOut}`
              : plot.code === leftOut
                ? "left out"
                : outcome?.leftOn
                  ? "left"
                  : "not seen",
            shade: isKnown ? outcome.lost / (outcome.setOut as number) : null,
            isCheck: entry?.role === "check",
          };
        }),
      wordsHeading: "standing",
      widthPx,
    });
}

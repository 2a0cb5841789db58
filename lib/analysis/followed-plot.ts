import type { FollowedPlot } from "@/lib/statistics/standing-limits";
import { type Day, daysBetween } from "@/lib/words/day";
import { neighbourhood } from "./layout";
import type { PlotStand } from "./plot-stand";
import type { TrialRecord } from "./trial-record";

/** The day from which plants can be followed: the first planting, or the first thing seen where nobody said. */
export function firstDay(stands: PlotStand[]): Day | null {
  const days = stands.flatMap((stand) => [
    ...(stand.plot.plantedOn ? [stand.plot.plantedOn] : []),
    ...stand.losses.map((loss) => loss.standingOn ?? loss.seenOn),
    ...stand.removals.map((removal) => removal.seenOn),
  ]);
  return days.sort()[0] ?? null;
}

/**
 * A plot's plants one by one, each with the day on which it was seen lost, was taken out, or last stood, in days since
 * `from`. Causes are numbered by `causes`; without it every loss is cause 1.
 */
export function followedPlot(
  record: TrialRecord,
  stand: PlotStand,
  from: Day,
  asOf: Day,
  causes: string[] | null = null,
): FollowedPlot {
  const times: number[] = [];
  const codes: number[] = [];
  const follow = (plants: number, until: Day, code: number) => {
    const days = Math.max(0, daysBetween(from, until));
    for (let plant = 0; plant < plants; plant += 1) {
      times.push(days);
      codes.push(code);
    }
  };
  for (const loss of stand.losses)
    follow(loss.plants, loss.seenOn, causes === null ? 1 : causes.indexOf(loss.cause) + 1);
  for (const removal of stand.removals) follow(removal.plants, removal.seenOn, 0);
  follow(stand.standing, asOf, 0);
  const { variety, row, column } = stand.plot;
  return { variety, block: neighbourhood(stand.plot, record.design), row, column, times, causes: codes };
}

import type { TrialSketch } from "@/lib/service/sketch-trial";
import { sayLengthMm } from "@/lib/words/length";
import { sayUnder } from "@/lib/words/say-under";

/** A length that is not broken over lines. */
const whole = (mm: number) => sayLengthMm(mm).replaceAll(" ", "\u00a0");

/** How many varieties, plots and plants a plan has, and how much of its beds they take: in one line. */
export function sizeWords({ beds, plots, levels }: TrialSketch): string {
  const varieties = new Set(plots.map((plot) => plot.variety)).size;
  const [last, ...others] = [...levels.map(sayUnder)].reverse();
  const each = last === undefined ? "" : `, each ${others.reverse().join(", ")} and ${last}`;
  const plants = plots[0]?.plants ?? 0;
  const ground = beds.map((bed) => {
    const own = plots.filter((plot) => plot.bedId === bed.id);
    const endMm = Math.max(0, ...own.map((plot) => plot.yMm + plot.lengthMm));
    return `${whole(endMm)} of ${whole(bed.lengthMm)}`;
  });
  return `${varieties} varieties${each}${each === "" ? "," : ":"} ${plots.length} plots of ${plants} ${plants === 1 ? "plant" : "plants"}; takes ${ground.join(" and ")}`;
}

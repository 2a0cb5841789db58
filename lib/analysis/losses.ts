import { wilsonInterval } from "@/lib/statistics/wilson-interval";
import { causes } from "@/lib/words/cause";
import { cite } from "./cite";
import type { Finding, LossShare, Survival } from "./finding";
import type { PlotStand } from "./plot-stand";

function causeOrder(code: string): number {
  const place = causes.findIndex((cause) => cause.code === code);
  return place === -1 ? causes.length : place;
}

/**
 * What took each variety's plants, with limits of the share at the effective plants of its survival. Gaps that nobody
 * explained are *unknown*, never dropped.
 */
export function lossFinding(stands: PlotStand[], survival: Finding<Survival>): Finding<LossShare[]> {
  const shares = survival.value.varieties.flatMap((variety): LossShare[] => {
    const counts = new Map<string, number>();
    for (const stand of stands.filter((one) => one.plot.variety === variety.variety))
      for (const loss of stand.losses) counts.set(loss.cause, (counts.get(loss.cause) ?? 0) + loss.plants);
    return [...counts]
      .sort(([a], [b]) => causeOrder(a) - causeOrder(b))
      .map(([cause, plants]) => {
        const share = plants / variety.plants;
        const effective = variety.effectivePlants;
        const limits =
          effective === null
            ? null
            : wilsonInterval(Math.min(share * effective, effective), effective, survival.level);
        return {
          variety: variety.variety,
          cause,
          plants,
          share,
          low: limits?.low ?? null,
          high: limits?.high ?? null,
        };
      });
  });
  return {
    ...survival,
    value: shares,
    method: {
      name: "Wilson's interval at the effective plants of the variety's survival",
      sources: cite("wilson-1927"),
    },
    scale: "share of plants set out",
    cautions: [],
  };
}

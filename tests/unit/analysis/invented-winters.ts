import type { SurvivalOfVariety } from "@/lib/analysis/finding";
import type { VarietyInTrial, WinterShare } from "@/lib/analysis/variety-in-trial";
import type { Day } from "@/lib/words/day";

interface Told {
  estimate?: number;
  effectivePlants?: number;
  variety?: string;
  /** Multiple of the check's yield with its limits. */
  ratio?: [number, number, number] | null;
  share?: Partial<WinterShare>;
  trial?: Partial<VarietyInTrial["trial"]>;
  rest?: Partial<VarietyInTrial>;
}

function shareOf(variety: string, estimate: number, effectivePlants: number): SurvivalOfVariety {
  return {
    variety,
    plots: 4,
    plants: 24,
    standing: Math.round(24 * estimate),
    censored: 0,
    estimate,
    low: Math.max(0, estimate - 0.2),
    high: Math.min(1, estimate + 0.15),
    effectivePlants,
  };
}

/** What one invented trial of mustard greens says of Hollin beside the check Pennick, of which three in four stood. */
export function inWinter(season: string, told: Told = {}): VarietyInTrial {
  const year = Number(season.slice(0, 4));
  const variety = told.variety ?? "Hollin";
  const { estimate = 0.7, effectivePlants = 16, ratio = [1.1, 0.8, 1.5125] } = told;
  return {
    trial: {
      trialId: `trial ${season}`,
      question: `Which stand the winter of ${season}?`,
      purpose: "winter leaf",
      season,
      sownOn: `${year}-08-18` as Day,
      plantedOn: `${year}-09-20` as Day,
      isClosed: true,
      isOverWinter: true,
      together: null,
      coverKinds: ["low tunnel"],
      covered: [],
      ...told.trial,
    },
    variety,
    role: "entry",
    asOf: `${year + 1}-03-28` as Day,
    assessment: "regrowth",
    survivalFloor: 0.6,
    shares: [
      {
        coverKinds: ["low tunnel"],
        state: "counts",
        tested: true,
        share: shareOf(variety, estimate, effectivePlants),
        check: shareOf("Pennick", 0.75, 16),
        difference: {
          variety,
          reference: "Pennick",
          estimate: estimate - 0.75,
          low: estimate - 1,
          high: estimate - 0.5,
        },
        ...told.share,
      },
    ],
    yieldRatio: ratio && {
      reference: "Pennick",
      ratio: ratio[0],
      low: ratio[1],
      high: ratio[2],
      plots: 4,
      isOnLog: true,
    },
    yieldMean: null,
    plants: 24,
    losses: [{ cause: "cold", plants: 7 }],
    bolting: null,
    ...told.rest,
  };
}

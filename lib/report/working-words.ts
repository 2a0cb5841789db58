import type { Finding, Survival, YieldAnalysis } from "@/lib/analysis/finding";
import { saySmallestPLimit } from "@/lib/words/say-layout-reach";
import { sayDecimal, sayP, sayPercent, sayPIs, sayPoints } from "@/lib/words/say-number";

/** How the survival figures were made, and why this way, in sentences. */
export function survivalWorking(finding: Finding<Survival>): string[] {
  const { icc, df, smallestP, working, varieties, differences } = finding.value;
  const first = varieties.find((variety) => variety.effectivePlants !== null);
  const level = Math.round(finding.level * 100);
  return [
    "Plants in one plot share a slug, a frost pocket and a torn net, so the plot is the unit. Each variety's plants are cut down to effective plants by how much the plots of one variety differ beyond chance, and Wilson's interval stands at those; differences are Newcombe's.",
    "The construction is our own, put together from published parts: dispersion as design effect, a prior on the clumping, Wilson's and Newcombe's intervals. It is no published interval; how often it covers is counted in the project's calibration table.",
    ...(icc === null
      ? []
      : [
          `Clumping (intra-class correlation) is put at ${sayDecimal(icc, 2)}, judged on ${df} ${df === 1 ? "degree" : "degrees"} of freedom${working.dispersion === null ? " and so by the general expectation alone" : `; the plots scatter ${sayDecimal(working.dispersion, 2)} times as much as independent plants would`}.`,
        ]),
    ...(first?.effectivePlants == null
      ? []
      : [
          `The ${first.plants} plants of ${first.variety} tell as much as ${Math.round(first.effectivePlants)} independent ones.`,
        ]),
    `Limits are at ${level} % for each figure alone. Limits for all comparisons with the check at once are wider; they are in the table.`,
    "The published form stands beside ours: Wilson on n/(1 + (m − 1)ICC) with the intra-class correlation by analysis of variance, and t in place of z. Methods that take plants as independent are far too sure where losses clump. None of these decides.",
    ...(differences.some((difference) => difference.p !== null)
      ? [
          `The p of a difference asks how often dealing the varieties to the plots again, just as the layout was dealt, would set them as far apart${smallestP === null ? "" : `. The smallest that this layout can give for the family is ${sayP(smallestP)}${saySmallestPLimit(varieties.length)}`}.`,
        ]
      : []),
    ...working.logRank.map(
      ({ variety, reference, p }) =>
        `How fast ${variety} lost plants beside ${reference}, by the log-rank test with whole plots dealt again: ${sayPIs(p)}.`,
    ),
    ...working.deviance
      .filter(({ term }) => term === "variety")
      .map(({ df, f, p }) =>
        f === null || p === null
          ? "A quasi-binomial model cannot tell the varieties apart: it leaves nothing to judge by."
          : `All varieties at once in a quasi-binomial model: F = ${sayDecimal(f, 2)} on ${df}, ${sayPIs(p)}.`,
      ),
    ...otherDifferenceWords(
      "if plants were independent, which they are not",
      working.otherDifferences.filter((other) => other.takesPlantsAsIndependent),
    ),
    ...otherDifferenceWords(
      "by other methods that allow for clumping",
      working.otherDifferences.filter((other) => !other.takesPlantsAsIndependent),
    ),
  ];
}

/** More sentences of one form than this are a table's; the JSON of the analysis has them all. */
const mostSentences = 5;

/** What other methods would say, a sentence a comparison. */
function otherDifferenceWords(how: string, methods: Survival["working"]["otherDifferences"]): string[] {
  const figure = ({ scale }: (typeof methods)[number], value: number) =>
    scale === "difference" ? sayPoints(value) : sayDecimal(value, 2);
  if (methods.length === 0 || methods[0].differences.length > mostSentences) return [];
  return methods[0].differences.map(({ variety, reference }, place) => {
    const told = methods.flatMap((method) => {
      const { estimate, low, high } = method.differences[place];
      if (estimate === null) return [];
      const from = low === null ? "no end" : figure(method, low);
      const to = high === null ? "no end" : figure(method, high);
      return [
        `${method.method}, ${method.scale === "difference" ? "points" : method.scale}: ${figure(method, estimate)} (${from} to ${to})`,
      ];
    });
    if (told.length === 0) return `${variety} and ${reference} cannot be compared ${how}.`;
    return `${variety} beside ${reference} ${how}: ${told.join("; ")}.`;
  });
}

/** How the yield figures were made, and why this way, in sentences. */
export function yieldWorking(finding: Finding<YieldAnalysis>): string[] {
  const { model, cv, residualDf, picks, working } = finding.value;
  const level = Math.round(finding.level * 100);
  const { tukeyOneDf } = working;
  return [
    `Only trial picks are compared: ${picks.days.length} ${picks.days.length === 1 ? "day" : "days"} on which every plot was asked for. Nothing to pick counts as 0 g; a plot that was not picked is missing.`,
    `The model is ${model}; means weigh every block the same. Limits of a mean are at ${level} % for it alone, differences to the check are Dunnett's, all pairs Tukey and Kramer's.`,
    "The multiple of the check is taken on the log scale, chosen beforehand, since plots scatter more where they yield more; its limits are for each variety alone, while those of the differences are for all comparisons at once, so the two may not agree on what is clear.",
    `${residualDf} residual degrees of freedom${cv === null ? "" : `; the coefficient of variation is ${sayDecimal(cv, 1)} %`}.`,
    ...(tukeyOneDf
      ? [
          `Tukey's one degree of freedom for effects that multiply: F = ${sayDecimal(tukeyOneDf.f, 2)} on 1 and ${tukeyOneDf.df2}, ${sayPIs(tukeyOneDf.p)}.`,
        ]
      : []),
    ...(working.lsd === null
      ? []
      : [
          `Two means that differ by more than ${sayDecimal(working.lsd, 1)} would be called different if that pair alone had been asked about (least significant difference).`,
        ]),
    ...(working.relativeEfficiency === null
      ? []
      : [
          `The blocks were worth it ${sayDecimal(working.relativeEfficiency, 2)} times: so many times as many plots would be needed without them.`,
        ]),
    ...(working.welch
      ? [
          `Without taking the varieties' spreads as equal (Welch): F = ${sayDecimal(working.welch.f, 2)} on ${sayDecimal(working.welch.df1, 0)} and ${sayDecimal(working.welch.df2, 1)}, ${sayPIs(working.welch.p)}.`,
        ]
      : []),
    ...otherTestWords(working),
    ...working.leaveOneOut.map(
      (left) =>
        `Leave plot ${left.plot} out and the difference of ${left.variety} to the check becomes ${sayDecimal(left.difference, 1)}${left.turns ? ", which reads otherwise" : ""}.`,
    ),
  ];
}

/** The same question asked otherwise. */
function otherTestWords({
  brownForsythe,
  kruskalWallis,
  friedman,
  gamesHowell,
}: YieldAnalysis["working"]): string[] {
  const clear = gamesHowell.filter(({ low, high }) => low !== null && high !== null && (low > 0 || high < 0));
  return [
    ...(gamesHowell.every(({ low }) => low === null)
      ? []
      : [
          `All pairs without taking the spreads as equal (Games and Howell): ${clear.length === 0 ? "none is clearly apart" : `clearly apart are ${clear.map(({ a, b }) => `${a} and ${b}`).join("; ")}`}.`,
        ]),
    ...(brownForsythe
      ? [
          `Whether the varieties' plots scatter alike (Brown and Forsythe): F = ${sayDecimal(brownForsythe.f, 2)} on ${brownForsythe.df1} and ${brownForsythe.df2}, ${sayPIs(brownForsythe.p)}. It is shown; no method is chosen by it.`,
        ]
      : []),
    ...(kruskalWallis
      ? [
          `By ranks alone (Kruskal and Wallis): chi-square ${sayDecimal(kruskalWallis.statistic, 2)} on ${kruskalWallis.df}, ${sayPIs(kruskalWallis.p)}.`,
        ]
      : []),
    ...(friedman
      ? [
          `By ranks within ${friedman.blocks} complete blocks (Friedman): chi-square ${sayDecimal(friedman.statistic, 2)} on ${friedman.df}, ${sayPIs(friedman.p)}.`,
        ]
      : []),
  ];
}

/** Other methods' limits beside ours, a row a variety and a column a method. */
export function otherMethodRows(survival: Survival): { headings: string[]; rows: string[][] } {
  const { varieties, working } = survival;
  const say = (low: number | null, high: number | null) =>
    low === null || high === null ? "–" : `${sayPercent(low)} to ${sayPercent(high)}`;
  return {
    headings: [
      "variety",
      "ours",
      ...working.others.map((other) =>
        other.takesPlantsAsIndependent ? `${other.method}, plants as independent` : other.method,
      ),
    ],
    rows: varieties.map((variety) => [
      variety.variety,
      say(variety.low, variety.high),
      ...working.others.map((other) => {
        const own = other.varieties.find((one) => one.variety === variety.variety);
        return own ? say(own.low, own.high) : "–";
      }),
    ]),
  };
}

import { listed } from "./caution-order";
import type { Caution } from "./finding";
import type { ManyWinters, WinterLine } from "./many-winters";

/** What to beware of in figures over winters, the most important first. */
export function manyWintersCautions({ lines, winters, kind, yields, odds }: ManyWinters): Caution[] {
  const counting = lines.filter((line) => line.state === "counts");
  return [
    ...(kind.isOverWinter ? aboutTesting(counting, winters.length) : []),
    ...(winters.length === 1
      ? [
          {
            code: "one-winter",
            text: `One ${kind.isOverWinter ? "winter" : "season"}; the spread between ${kind.isOverWinter ? "winters" : "seasons"} is assumed, not seen.`,
          },
        ]
      : []),
    ...aboutLeftOut(lines),
    ...winters
      .filter((winter) => winter.trials > 1)
      .map(({ season, trials }) => ({
        code: "one-winter-twice",
        text: `${trials} trials of ${season} are put together first: they are one winter, not ${trials}.`,
      })),
    ...aboutTogether(counting),
    ...aboutExtremes(counting),
    ...aboutChecks(new Set([...yields, ...odds].map((contrast) => contrast.reference))),
  ];
}

function seasonsOf(lines: WinterLine[]): string {
  return listed([...new Set(lines.map((line) => line.trial.season))]);
}

function aboutTesting(counting: WinterLine[], winters: number): Caution[] {
  const mild = counting.filter((line) => line.tested === false);
  const unknown = counting.filter((line) => line.tested === null);
  const tested = counting.filter((line) => line.tested === true);
  return [
    ...(mild.length > 0
      ? [
          {
            code: "did-not-test",
            text: `${seasonsOf(mild)}: the tender check stood, so hardiness was not tested.${
              tested.length === 0 && unknown.length === 0
                ? ` No winter has tested it yet: ${winters === 1 ? "this figure is" : "these figures are"} of mild winters only.`
                : ""
            }`,
          },
        ]
      : []),
    ...(unknown.length > 0
      ? [
          {
            code: "test-unknown",
            text: `${seasonsOf(unknown)}: no tender check was grown, so nothing here tells how hard the winter was.`,
          },
        ]
      : []),
  ];
}

function aboutLeftOut(lines: WinterLine[]): Caution[] {
  const lookSee = lines.filter((line) => line.state === "look-see");
  const short = lines.filter((line) => line.state === "cut short");
  return [
    ...(lookSee.length > 0
      ? [
          {
            code: "look-see",
            text: `${seasonsOf(lookSee)}: a look-see bed tells dead from alive, not the better from the good. It is shown and not counted.`,
          },
        ]
      : []),
    ...(short.length > 0
      ? [
          {
            code: "cut-short",
            text: `${seasonsOf(short)}: closed before the assessment that decides, so it is shown and not counted.`,
          },
        ]
      : []),
  ];
}

const togetherWords = {
  sowing: { code: "sowings-together", words: "sown on several dates, which are taken together here" },
  companion: {
    code: "companions-together",
    words: "grown with a companion and alone, which are taken together here",
  },
} as const;

function aboutTogether(counting: WinterLine[]): Caution[] {
  return (["sowing", "companion"] as const).flatMap((factor) => {
    const lines = counting.filter((line) => line.trial.together === factor);
    if (lines.length === 0) return [];
    const { code, words } = togetherWords[factor];
    return [{ code, text: `${seasonsOf(lines)}: ${words}; the trial’s own page tells them apart.` }];
  });
}

function aboutExtremes(counting: WinterLine[]): Caution[] {
  if (counting.length === 0) return [];
  if (counting.every((line) => line.share?.estimate === 1))
    return [{ code: "none-lost", text: "None was ever lost: that is not proof that none would be." }];
  if (counting.every((line) => line.share?.estimate === 0))
    return [{ code: "all-lost", text: "None ever stood: that is not proof that none could." }];
  return [];
}

function aboutChecks(references: Set<string>): Caution[] {
  if (references.size < 2) return [];
  return [
    {
      code: "unlike-checks",
      text: `It was measured against ${listed([...references])}: differences from unlike checks are not put together.`,
    },
  ];
}

import type { Finding } from "@/lib/analysis/finding";
import type { ManyWinters, WinterLine } from "@/lib/analysis/many-winters";
import { sayDay } from "@/lib/words/day";
import { sayPercent } from "@/lib/words/say-number";
import type { Figure, Mark } from "./figure";
import { line, surface, symbol, text, textSizePx, textWidthPx } from "./marks";
import { linearScale, roundTicks } from "./scale";

interface Row {
  kind: "winter" | "so far" | "typical" | "another";
  label: string;
  note: string;
  estimate: number;
  low: number;
  high: number;
  /** How much the row weighs, for the size of its mark; null where it is no winter. */
  plants: number | null;
}

const narrowBelowPx = 520;
const topPx = 22;

/**
 * A variety's winters one below another on a scale from none to all: a square for each, larger where more plants tell;
 * hollow where it does not count. Beneath a line, what they say together as a diamond, and as a broken line what another
 * winter may bring. Null where nothing was counted yet.
 */
export function wintersFigure(
  finding: Finding<ManyWinters>,
  { widthPx, id = "winters" }: { widthPx: number; id?: string },
): Figure | null {
  const { value } = finding;
  const noun = value.kind.isOverWinter ? "winter" : "season";
  const rows = rowsOf(value, noun);
  if (rows.length === 0) return null;
  const floor = value.survival?.floor ?? null;
  const level = Math.round(finding.level * 100);
  const narrow = widthPx < narrowBelowPx;
  const labelPx = narrow ? 0 : Math.max(...rows.map((row) => textWidthPx(row.label, textSizePx.body))) + 14;
  const notePx = narrow ? 0 : Math.max(...rows.map((row) => textWidthPx(row.note, textSizePx.small))) + 14;
  const leftPx = narrow ? 22 : labelPx + 8;
  const rightPx = widthPx - (narrow ? 22 : notePx + 8);
  const rowPx = narrow ? 52 : 34;
  const firstTogether = rows.findIndex((row) => row.kind === "typical" || row.kind === "another");
  const gapPx = firstTogether > 0 ? 12 : 0;
  const bottomPx = topPx + rows.length * rowPx + gapPx;
  const x = linearScale(0, 1, leftPx, rightPx);
  const marks: Mark[] = [];
  for (const tick of roundTicks(0, 1, narrow ? 4 : 8))
    marks.push(
      line([x(tick), topPx - 6], [x(tick), bottomPx], { tone: "rule" }),
      text(x(tick), bottomPx + 18, sayPercent(tick), {
        anchor: "middle",
        sizePx: textSizePx.small,
        tone: "soft",
      }),
    );
  if (floor !== null) {
    const onLeft = floor > 0.5;
    marks.push(
      line([x(floor), topPx - 6], [x(floor), bottomPx + 4], { tone: "warning", dash: [5, 3], weight: 1.5 }),
      text(x(floor) + (onLeft ? -5 : 5), bottomPx + 38, `the rule’s floor, ${sayPercent(floor)}`, {
        anchor: onLeft ? "end" : "start",
        sizePx: textSizePx.small,
        tone: "warning",
      }),
    );
  }
  const most = Math.max(...rows.map((row) => row.plants ?? 0), 1);
  rows.forEach((row, place) => {
    const isTogether = firstTogether >= 0 && place >= firstTogether;
    const top = topPx + place * rowPx + (isTogether ? gapPx : 0);
    const middle = narrow ? top + 38 : top + rowPx / 2;
    const base = narrow ? top + 18 : middle + 5;
    if (gapPx > 0 && place === firstTogether)
      marks.push(line([narrow ? 0 : 0, top - gapPx / 2], [widthPx, top - gapPx / 2], { tone: "soft" }));
    marks.push(
      text(narrow ? 4 : 0, base, row.label, { bold: row.kind === "typical", halo: narrow }),
      text(widthPx - (narrow ? 4 : 0), base, row.note, {
        anchor: "end",
        sizePx: textSizePx.small,
        tone: "soft",
        halo: narrow,
      }),
      ...drawn(row, middle),
    );
  });
  const footPx = floor === null ? 40 : 58;
  marks.push(
    line([leftPx, bottomPx], [rightPx, bottomPx], { tone: "soft" }),
    text(leftPx, bottomPx + footPx, "share of plants", { sizePx: textSizePx.small, tone: "soft" }),
  );

  function drawn(row: Row, middle: number): Mark[] {
    const [low, at, high] = [x(row.low), x(row.estimate), x(row.high)];
    if (row.kind === "typical")
      return [
        surface(
          [
            [low, middle],
            [at, middle - 8],
            [high, middle],
            [at, middle + 8],
          ],
          { tone: "ink", opacity: 1 },
        ),
      ];
    const ends: Mark[] = [low, high].map((end) =>
      line([end, middle - 6], [end, middle + 6], { tone: "ink", weight: 2 }),
    );
    if (row.kind === "another")
      return [
        line([low, middle], [high, middle], { tone: "ink", weight: 2, dash: [3, 4] }),
        ...ends,
        symbol(at, middle, { shape: "diamond", tone: "ink", sizePx: 11, filled: false }),
      ];
    return [
      line([low, middle], [high, middle], { tone: "ink", weight: 2 }),
      ...ends,
      symbol(at, middle, {
        shape: "square",
        tone: "blue",
        sizePx: 8 + 8 * Math.sqrt((row.plants ?? 0) / most),
        filled: row.kind === "winter",
      }),
    ];
  }

  const title = `${value.variety}, ${noun} by ${noun}`;
  return {
    id,
    title,
    description:
      `Share of plants standing with ${level} % limits in ${rows.filter((row) => row.kind === "winter").length} ${noun}s that count, what they say together, and what another ${noun} may bring. ` +
      "Hollow squares do not count. The table beneath holds the same figures.",
    widthPx,
    heightPx: bottomPx + footPx + 10,
    marks,
    table: tableOf(value, noun, level),
  };
}

/** Where a line's share is drawn it has limits. */
function isDrawn(own: WinterLine): boolean {
  return own.share?.estimate != null && own.share.low !== null && own.share.high !== null;
}

function rowsOf({ lines, survival, winters }: ManyWinters, noun: string): Row[] {
  const own = lines.filter(isDrawn).map((one): Row => {
    const share = one.share as NonNullable<WinterLine["share"]>;
    return {
      kind: one.state === "counts" ? "winter" : "so far",
      label: one.state === "so far" ? `${one.trial.season}, so far` : one.trial.season,
      note: `${share.standing} of ${share.plants - share.censored}, ${share.plots} ${share.plots === 1 ? "plot" : "plots"}`,
      estimate: share.estimate as number,
      low: share.low as number,
      high: share.high as number,
      plants: share.effectivePlants,
    };
  });
  if (!survival) return own;
  const { typical, another } = survival.pooled;
  return [
    ...own,
    ...(winters.length > 1
      ? [
          {
            kind: "typical" as const,
            label: "together",
            note: `${sayPercent(typical.estimate)} in a typical one`,
            ...typical,
            plants: null,
          },
        ]
      : []),
    {
      kind: "another" as const,
      label: `another ${noun}`,
      note: winters.length > 1 ? "what it may bring" : "spread assumed",
      ...another,
      plants: null,
    },
  ];
}

const stateWords: Record<WinterLine["state"], string> = {
  counts: "yes",
  "so far": "not yet",
  "cut short": "no, closed early",
  "look-see": "no, look-see bed",
  "no plants": "no plants",
  "not planted": "not planted",
};

function tableOf({ lines, survival, winters }: ManyWinters, noun: string, level: number): Figure["table"] {
  const say = (share: number | null | undefined) => (share == null ? "–" : sayPercent(share));
  const together = survival?.pooled;
  return {
    caption: `Each ${noun}, all together and another, with ${level} % limits`,
    columns: [
      { heading: noun, numeric: false },
      { heading: "as of", numeric: false },
      { heading: "plots", numeric: true },
      { heading: "standing", numeric: true },
      { heading: "share", numeric: true },
      { heading: "from", numeric: true },
      { heading: "to", numeric: true },
      { heading: "tells as much as", numeric: true },
      { heading: "counts", numeric: false },
    ],
    rows: [
      ...lines.map(({ trial, asOf, share, state }) => [
        trial.season,
        asOf ? sayDay(asOf, true) : "–",
        share ? String(share.plots) : "–",
        share ? `${share.standing} of ${share.plants - share.censored}` : "–",
        say(share?.estimate),
        say(share?.low),
        say(share?.high),
        share?.effectivePlants ? `${Math.round(share.effectivePlants)} plants` : "–",
        stateWords[state],
      ]),
      ...(together
        ? [
            ...(winters.length > 1
              ? [
                  [
                    "together",
                    "–",
                    "–",
                    "–",
                    say(together.typical.estimate),
                    say(together.typical.low),
                    say(together.typical.high),
                    "–",
                    "–",
                  ],
                ]
              : []),
            [
              `another ${noun}`,
              "–",
              "–",
              "–",
              say(together.another.estimate),
              say(together.another.low),
              say(together.another.high),
              "–",
              "–",
            ],
          ]
        : []),
    ],
  };
}

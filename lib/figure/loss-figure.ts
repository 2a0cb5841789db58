import type { Finding, LossShare, Survival } from "@/lib/analysis/finding";
import { causes, sayCause } from "@/lib/words/cause";
import { sayDay } from "@/lib/words/day";
import { sayPercent } from "@/lib/words/say-number";
import type { Figure, Mark, RectMark } from "./figure";
import { line, rect, text, textSizePx, textWidthPx } from "./marks";
import { seriesLook } from "./palette";
import { linearScale, roundTicks } from "./scale";

const narrowBelowPx = 520;
const standing = "standing";
const takenOut = "taken out (cut, moved, accident)";

interface Segment {
  name: string;
  /** Place in the one fixed order, for the key. */
  place: number;
  plants: number;
  fill: RectMark["fill"];
}

function causeOrder(code: string): number {
  const place = causes.findIndex((cause) => cause.code === code);
  return place === -1 ? causes.length : place;
}

/** A cause keeps its look in every figure: it follows the fixed order of causes, the grower's own by their letters. */
function causeFill(code: string): RectMark["fill"] {
  const place = causes.findIndex((cause) => cause.code === code);
  const own = [...code].reduce<number>((sum, letter) => sum + letter.charCodeAt(0), causes.length);
  const look = seriesLook(place === -1 ? own : place);
  return { tone: look.tone, opacity: 1, hatch: look.hatch };
}

/**
 * What became of each variety's plants: standing, lost to each cause, taken out, as one bar of all plants set out.
 * Each part carries its number of plants where it fits, and its name where that fits too; the key names all.
 */
export function lossFigure(
  losses: Finding<LossShare[]>,
  survival: Finding<Survival>,
  request: { widthPx: number },
): Figure {
  const { widthPx } = request;
  const narrow = widthPx < narrowBelowPx;
  const rows = survival.value.varieties.map((variety) => {
    const lost = losses.value
      .filter((loss) => loss.variety === variety.variety && loss.plants > 0)
      .sort((a, b) => causeOrder(a.cause) - causeOrder(b.cause));
    const segments: Segment[] = [
      { name: standing, place: -1, plants: variety.standing, fill: null },
      ...lost.map((loss) => ({
        name: sayCause(loss.cause),
        place: causeOrder(loss.cause),
        plants: loss.plants,
        fill: causeFill(loss.cause),
      })),
      {
        name: takenOut,
        place: causes.length + 1,
        plants: variety.censored,
        fill: { tone: "rule" as const, opacity: 1, hatch: "solid" as const },
      },
    ].filter((segment) => segment.plants > 0);
    return { variety: variety.variety, plants: variety.plants, segments };
  });
  const labelPx = narrow
    ? 0
    : Math.min(
        Math.max(...rows.map((row) => textWidthPx(row.variety, textSizePx.body)), 40) + 14,
        widthPx * 0.28,
      );
  const leftPx = narrow ? 20 : labelPx + 8;
  const rightPx = widthPx - 20;
  const rowPx = narrow ? 62 : 44;
  const barPx = 28;
  const topPx = 8;
  const bottomPx = topPx + rows.length * rowPx;
  const x = linearScale(0, 1, leftPx, rightPx);
  const marks: Mark[] = [];

  for (const tick of roundTicks(0, 1, narrow ? 4 : 8)) {
    marks.push(line([x(tick), topPx], [x(tick), bottomPx], { tone: "rule" }));
    marks.push(
      text(x(tick), bottomPx + 17, sayPercent(tick), {
        anchor: "middle",
        sizePx: textSizePx.small,
        tone: "soft",
      }),
    );
  }
  rows.forEach((row, position) => {
    const top = topPx + position * rowPx + (narrow ? 26 : 8);
    const base = top + barPx / 2 + 5;
    marks.push(narrow ? text(4, top - 7, row.variety, { halo: true }) : text(0, base, row.variety));
    let before = 0;
    for (const segment of row.segments) {
      const from = x(before / row.plants);
      const width = x((before + segment.plants) / row.plants) - from;
      before += segment.plants;
      marks.push(
        rect(from, top, width, barPx, {
          fill: segment.fill ?? { tone: "paper", opacity: 1, hatch: "solid" },
          stroke: { tone: "ink", weight: 1, dash: null },
        }),
      );
      const words = [`${segment.name} ${segment.plants}`, String(segment.plants)].find(
        (option) => textWidthPx(option, textSizePx.small) + 10 <= width,
      );
      if (!words) continue;
      const platePx = textWidthPx(words, textSizePx.small) + 6;
      if (segment.fill)
        marks.push(
          rect(from + (width - platePx) / 2, top + 5, platePx, barPx - 10, {
            fill: { tone: "paper", opacity: 1, hatch: "solid" },
            stroke: null,
          }),
        );
      marks.push(text(from + width / 2, base, words, { anchor: "middle", sizePx: textSizePx.small }));
    }
  });

  const keyed = new Map(
    rows
      .flatMap((row) => row.segments)
      .filter((segment) => segment.name !== standing)
      .sort((a, b) => a.place - b.place)
      .map((segment) => [segment.name, segment.fill]),
  );
  let keyX = leftPx;
  let keyY = bottomPx + 34;
  for (const [name, fill] of [[standing, null] as const, ...keyed]) {
    const width = 24 + textWidthPx(name, textSizePx.small) + 18;
    if (keyX + width > widthPx && keyX > leftPx) {
      keyX = leftPx;
      keyY += 24;
    }
    marks.push(
      rect(keyX, keyY, 18, 14, {
        fill: fill ?? { tone: "paper", opacity: 1, hatch: "solid" },
        stroke: { tone: "ink", weight: 1, dash: null },
      }),
      text(keyX + 24, keyY + 12, name, { sizePx: textSizePx.small }),
    );
    keyX += width;
  }

  const day = losses.asOf ? ` by ${sayDay(losses.asOf, true)}` : "";
  const title = `What became of the plants${day}`;
  return {
    id: "losses",
    title,
    description: `A bar for each variety divided into plants standing and plants lost to each cause. The table beneath holds the counts.`,
    widthPx,
    heightPx: keyY + 26,
    marks,
    table: {
      caption: `${title}: plants of each variety`,
      columns: [
        { heading: "variety", numeric: false },
        { heading: "set out", numeric: true },
        { heading: standing, numeric: true },
        ...[...keyed.keys()].map((heading) => ({ heading, numeric: true })),
      ],
      rows: rows.map((row) => [
        row.variety,
        String(row.plants),
        ...[standing, ...keyed.keys()].map((name) =>
          String(row.segments.find((segment) => segment.name === name)?.plants ?? 0),
        ),
      ]),
    },
  };
}

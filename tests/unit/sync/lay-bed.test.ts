import { expect, test } from "vitest";
import { layBed, targetPx } from "@/app/walkabout/_parts/lay-bed";
import { sayBedChange } from "@/app/walkabout/_parts/say-bed";
import { plotViews } from "@/lib/sync/device/plot-view";
import type { FieldPlot } from "@/lib/sync/field-pack";
import { bed, homeFact, pack, plot } from "./example-bed";
import { idOf, walkDay } from "./facts";

const plants = (one: FieldPlot) => one.plants;

/** Sixteen plots of three plants in a bed of 1.2 × 4 m: four blocks of four, side by side. */
const sixteen = bed(
  "Sixteen",
  Array.from({ length: 16 }, (_, index) =>
    plot(index + 1, {
      xMm: (index % 4) * 300,
      yMm: Math.floor(index / 4) * 900,
      widthMm: 300,
      lengthMm: 900,
      plantRows: 1,
    }),
  ),
  { lengthMm: 4000 },
);

test("sixteen plots of three plants are tapped on the bed itself at 360 px, every mark as tall as a target", () => {
  const laid = layBed(sixteen, 344, plants);
  expect(laid.plots.every((place) => place.direct)).toBe(true);
  for (const place of laid.plots) {
    expect(place.widthPx / place.markColumns).toBeGreaterThanOrEqual(56);
    expect((place.heightPx - targetPx - 4) / place.markRows).toBeGreaterThanOrEqual(targetPx - 0.01);
  }
  expect(laid.heightPx).toBeLessThan(1_000);
});

test("plots lie as they lie: none overlaps another and their order is kept", () => {
  const laid = layBed(sixteen, 344, plants);
  expect(
    laid.plots.map((place) => [Math.round(place.leftPx / 86), Math.round((place.topPx / laid.heightPx) * 4)]),
  ).toEqual(Array.from({ length: 16 }, (_, index) => [index % 4, Math.floor(index / 4)]));
});

test("a wide plot has its stake code beside its marks, which keeps the bed short", () => {
  const laid = layBed(bed("Lines", [plot(1), plot(2), plot(3)]), 344, plants);
  expect(laid.plots[0].stakePx).toBeGreaterThanOrEqual(96);
  expect(laid.heightPx).toBe(180);
});

test("a plot of many plants shows them small and is opened to be tapped", () => {
  const wide = plot(1, { plants: 24, plantRows: 4, lengthMm: 900 });
  expect(layBed(bed("Many", [wide]), 344, plants).plots[0]).toMatchObject({ direct: false, small: true });
  const drilled = plot(1, { plants: 200, plantRows: 4, lengthMm: 900 });
  expect(layBed(bed("Drilled", [drilled]), 344, plants).plots[0]).toMatchObject({
    direct: false,
    small: false,
  });
});

test("marks that would be too narrow to hit are not tapped on the bed", () => {
  const narrow = Array.from({ length: 6 }, (_, index) =>
    plot(index + 1, { xMm: index * 200, yMm: 0, widthMm: 200, lengthMm: 600, plants: 9, plantRows: 3 }),
  );
  const laid = layBed(bed("Narrow", narrow), 344, plants);
  for (const place of laid.plots)
    if (place.direct) expect(place.widthPx / place.markColumns).toBeGreaterThanOrEqual(24);
});

test("a bed that lies across is turned, its long side down the screen", () => {
  const across = Array.from({ length: 8 }, (_, index) =>
    plot(index + 1, { xMm: index * 450, yMm: 0, widthMm: 450, lengthMm: 1_000, plants: 3, plantRows: 1 }),
  );
  const laid = layBed(bed("Across", across, { widthMm: 3600, lengthMm: 1000 }), 344, plants);
  expect(laid.heightPx).toBeGreaterThan(laid.widthPx);
  expect(new Set(laid.plots.map((place) => Math.round(place.leftPx)))).toEqual(new Set([0]));
});

test("one sentence says what a round changed in a bed", () => {
  const long = bed("Long bed", [plot(1), plot(2)]);
  const round = { walkaboutId: idOf(7), seenOn: walkDay };
  const say = (facts: Parameters<typeof pack>[1]) => {
    const whole = pack([long], facts);
    const change = sayBedChange(whole, long, plotViews(whole, [], {}), undefined, idOf(7));
    return typeof change === "object" ? change.sentence : change;
  };
  const stand = (number: number, plotId: string, amount: number) =>
    homeFact(number, { ...round, plotId, kind: "stand", cause: null, amount });
  expect(say([])).toBe("left out");
  expect(say([stand(1, "plot-1", 3), stand(2, "plot-2", 3)])).toBe(
    "6 of 6 stand, no plant lost since the last look.",
  );
  expect(say([homeFact(1, { ...round, cause: "slugs" }), stand(2, "plot-2", 3)])).toBe(
    "5 of 6 stand, one plant gone (slugs).",
  );
  expect(
    say([homeFact(1, { ...round, cause: "slugs", amount: 2 }), homeFact(2, { ...round, plotId: "plot-2" })]),
  ).toBe("3 of 6 stand, 3 plants gone (2 slugs and 1 cold).");
  const unseen = { ...round, kind: "not-seen", cause: null, amount: null, unit: null } as const;
  expect(say([homeFact(1, { ...unseen }), homeFact(2, { ...unseen, plotId: "plot-2" })])).toBe(
    "could not look.",
  );
  expect(say([homeFact(1, { ...unseen }), stand(2, "plot-2", 3)])).toBe(
    "3 of 3 stand where looked, no plant lost since the last look, could not look at 1 of 2 plots.",
  );
});

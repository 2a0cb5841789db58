import { describe, expect, it } from "vitest";
import { kaplanMeier } from "@/lib/statistics/kaplan-meier";
import { randomStream } from "@/lib/statistics/random-stream";
import { turnbull } from "@/lib/statistics/turnbull";
import { agreement } from "../agreement";
import reference from "./case.json";
import { plainTurnbull } from "./plain-twin";

const { agree, agreeAll } = agreement("interval-censored", reference.tolerance);

interface Answer {
  intervals: { left_open: number[]; right_closed: (number | string)[]; mass: number[]; surv_after: number[] };
  logLikelihood: number;
}

const [{ data, expected }] = reference.cases;
const groups = Object.entries(expected as unknown as Record<string, Answer>);
const windowsOf = (group: string) =>
  data.left.flatMap((left, plant) =>
    group === "all plants" || data.group[plant] === group
      ? [{ left, right: Number(data.right[plant]), plants: 1 }]
      : [],
  );

describe("breast cosmesis data against R", () => {
  it.each(groups)("%s", (group, { intervals, logLikelihood }) => {
    const { stretches, violation, ...fit } = turnbull(windowsOf(group));
    expect(stretches.map(({ left }) => left)).toEqual(intervals.left_open);
    expect(stretches.map(({ right }) => right)).toEqual(intervals.right_closed.map(Number));
    for (const [at, { mass, shareAfter }] of stretches.entries()) {
      agree(mass, intervals.mass[at] < 1e-12 ? 0 : intervals.mass[at]);
      agree(shareAfter, intervals.surv_after[at] < 1e-12 ? 0 : intervals.surv_after[at]);
    }
    agree(fit.logLikelihood, logLikelihood);
    expect(violation).toBeLessThanOrEqual(1e-8);
  });

  it("masses of the radiotherapy group as published (values from memory)", () => {
    const { stretches } = turnbull(windowsOf("RT"));
    const held = stretches.filter(({ mass }) => mass > 1e-9);
    expect(held.map(({ left, right, mass }) => `${left}–${right} ${mass.toFixed(4)}`)).toEqual([
      "4–5 0.0463",
      "6–7 0.0334",
      "7–8 0.0887",
      "11–12 0.0708",
      "24–25 0.0926",
      "33–34 0.0818",
      "38–40 0.1209",
      "46–48 0.4656",
    ]);
  });

  it("the plain twin against R, by 20,000 rounds of its slow EM", () => {
    const { stretches, mass } = plainTurnbull(windowsOf("RT"), 20_000);
    const { intervals } = groups[0][1];
    expect(stretches.map(([left]) => left)).toEqual(intervals.left_open);
    for (const [at, value] of mass.entries()) expect(Math.abs(value - intervals.mass[at])).toBeLessThan(1e-4);
  });
});

it("meets the optimality conditions on random records", () => {
  const stream = randomStream(511);
  for (let record = 0; record < 150; record += 1) {
    const span = 1 + stream.whole(50);
    const windows = Array.from({ length: 1 + stream.whole(120) }, () => {
      const left = stream.whole(span);
      const right = stream.uniform() < 0.2 ? Number.POSITIVE_INFINITY : left + stream.whole(span);
      return { left, right, plants: 1 + stream.whole(3) };
    });
    const { stretches, violation } = turnbull(windows);
    expect(violation).toBeLessThanOrEqual(1e-8);
    expect(stretches.reduce((sum, { mass }) => sum + mass, 0)).toBeCloseTo(1, 12);
    expect(stretches.every(({ mass, shareAfter }) => mass >= 0 && shareAfter >= 0)).toBe(true);
  }
});

it("by hand: three windows that overlap in pairs share the losses between the two overlaps", () => {
  const { stretches, logLikelihood } = turnbull([
    { left: 0, right: 5, plants: 1 },
    { left: 3, right: 8, plants: 1 },
    { left: 6, right: Number.POSITIVE_INFINITY, plants: 1 },
  ]);
  expect(stretches.map(({ left, right }) => [left, right])).toEqual([
    [3, 5],
    [6, 8],
  ]);
  agreeAll(
    stretches.map(({ mass }) => mass),
    [0.5, 0.5],
  );
  agree(logLikelihood, 2 * Math.log(0.5));
});

it("is Kaplan–Meier where losses are seen exactly", () => {
  const times = [1, 1, 2, 2, 3, 4, 4, 6];
  const causes = [1, 1, 1, 0, 1, 0, 1, 0];
  const curve = kaplanMeier({ times, causes });
  const { stretches } = turnbull(
    times.map((left, plant) => ({ left, right: causes[plant] ? left : Number.POSITIVE_INFINITY, plants: 1 })),
  );
  const steps = stretches.filter(({ right }) => Number.isFinite(right));
  agreeAll(
    steps.map(({ shareAfter }) => shareAfter),
    Array.from(curve.share).filter((_, at) => curve.lost[at] > 0),
  );
});

it("is the life table where all plants were looked at on the same days", () => {
  const { stretches } = turnbull([
    { left: 0, right: 7, plants: 3 },
    { left: 7, right: 14, plants: 2 },
    { left: 14, right: Number.POSITIVE_INFINITY, plants: 5 },
  ]);
  agreeAll(
    stretches.map(({ mass }) => mass),
    [0.3, 0.2, 0.5],
  );
});

it("answers without plants, for one plant, and for plants of which nothing is known", () => {
  expect(turnbull([]).stretches).toEqual([]);
  expect(turnbull([{ left: 3, right: 3, plants: 2 }]).stretches).toEqual([
    { left: 3, right: 3, mass: 1, shareAfter: 0 },
  ]);
  const unknown = turnbull([{ left: 0, right: Number.POSITIVE_INFINITY, plants: 4 }]);
  expect(unknown.stretches).toHaveLength(1);
  expect(() => turnbull([{ left: 5, right: 3, plants: 1 }])).toThrow(
    "turnbull requires 0 ≤ left ≤ right; got 5 to 3",
  );
});

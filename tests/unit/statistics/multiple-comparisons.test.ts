import { describe, expect, it } from "vitest";
import { normalVariate } from "@/lib/statistics/clumped-count";
import { dunnett } from "@/lib/statistics/dunnett";
import { dunnettTail } from "@/lib/statistics/dunnett-tail";
import { factor } from "@/lib/statistics/factor";
import { factorLoadings } from "@/lib/statistics/factor-loadings";
import { friedmanTest } from "@/lib/statistics/friedman-test";
import { gamesHowell } from "@/lib/statistics/games-howell";
import { holm } from "@/lib/statistics/holm";
import { kruskalWallis } from "@/lib/statistics/kruskal-wallis";
import { leveneTest } from "@/lib/statistics/levene-test";
import { linearModel } from "@/lib/statistics/linear-model";
import { allPairs, marginalDifferences } from "@/lib/statistics/marginal-means";
import { randomStream } from "@/lib/statistics/random-stream";
import { studentTCdf, studentTQuantile } from "@/lib/statistics/student-t";
import { studentizedRangeUpper } from "@/lib/statistics/studentized-range";
import { tukeyKramer } from "@/lib/statistics/tukey-kramer";
import { welchTest } from "@/lib/statistics/welch-test";

const oneWay = (groups: number[][]) => {
  const names = groups.flatMap((values, group) => values.map(() => `v${group}`));
  return linearModel(groups.flat(), [factor("variety", names)], [["variety"]]);
};

describe("all pairs and all against a check", () => {
  it("are the plain t test where there are only two varieties", () => {
    const model = oneWay([
      [3, 5, 4],
      [6, 9, 8, 7],
    ]);
    const pairs = marginalDifferences(model, "variety", [["v1", "v0"]], 0.95);
    for (const [adjusted] of [
      tukeyKramer(pairs, 2, 0.95),
      dunnett(model, "variety", "v0", 0.95, randomStream(1)),
    ]) {
      expect(adjusted.p).toBeCloseTo(pairs[0].p as number, 12);
      expect(adjusted.low).toBeCloseTo(pairs[0].low as number, 10);
    }
  });

  it("pass on what cannot be told, with its reason", () => {
    const model = oneWay([[1, 1], [2, 2], [3]]);
    const pairs = marginalDifferences(model, "variety", allPairs(["v0", "v1", "v2"]), 0.95);
    expect(tukeyKramer(pairs, 3, 0.95)).toEqual(pairs);
    const against = dunnett(model, "variety", "v0", 0.95, randomStream(1));
    expect(against.map(({ estimate, p, reason }) => [estimate, p, reason])).toEqual([
      [expect.closeTo(1, 13), null, "no variation"],
      [expect.closeTo(2, 13), null, "no variation"],
    ]);
  });

  it("share the level among the differences that can be told", () => {
    const variety = ["A", "B", "A", "B", "A", "B", "C"];
    const block = ["1", "1", "2", "2", "3", "3", "4"];
    const model = linearModel(
      [1, 3, 2, 3, 1, 5, 9],
      [factor("block", block), factor("variety", variety)],
      [["block"], ["variety"]],
    );
    const [b, c] = dunnett(model, "variety", "A", 0.95, randomStream(1));
    expect(c.reason).toBe("not estimable");
    expect(b.p).toBeCloseTo(marginalDifferences(model, "variety", [["B", "A"]], 0.95)[0].p as number, 12);
  });
});

describe("dunnettTail", () => {
  it("is that of one t where contrasts are the same, and of independent ones where they do not correlate", () => {
    const t = studentTQuantile(0.975, 9);
    const same = dunnettTail(
      [
        [1, 1, 1],
        [1, 1, 1],
        [1, 1, 1],
      ],
      randomStream(3),
    );
    expect(same.upper(t, 9)).toBeCloseTo(0.05, 4);
    const apart = dunnettTail(
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      randomStream(3),
    );
    const one = 2 * studentTCdf(-2, Number.POSITIVE_INFINITY);
    expect(apart.exact).toBe(true);
    expect(apart.upper(2, Number.POSITIVE_INFINITY)).toBeCloseTo(1 - (1 - one) ** 3, 12);
  });

  it("holds for sixty varieties, a check with a single plot, and half a degree of freedom", () => {
    const many = Array.from({ length: 59 }, (_, i) =>
      Array.from({ length: 59 }, (_, j) => (i === j ? 1 : 0.5)),
    );
    const tail = dunnettTail(many, randomStream(1));
    expect(tail.upper(tail.quantile(0.05, 118), 118)).toBeCloseTo(0.05, 10);
    const close = dunnettTail(
      [
        [1, 0.98, 0.98],
        [0.98, 1, 0.98],
        [0.98, 0.98, 1],
      ],
      randomStream(1),
    );
    for (const df of [0.5, 2, 1e6]) {
      const p = close.upper(2, df);
      expect(p).toBeGreaterThan(2 * studentTCdf(-2, df));
      expect(p).toBeLessThan(6 * studentTCdf(-2, df));
    }
  });

  it("finds the few factors that make up correlations, and none where there are too many", () => {
    const known = [
      [0.7, 0.1, 0],
      [0.6, -0.2, 0.1],
      [0.7, 0.1, 0],
      [0.5, 0, 0.3],
      [0.8, 0.2, -0.1],
      [0.4, -0.3, 0.2],
      [0.7, 0.3, 0.1],
    ];
    const made = known.map((a, i) =>
      known.map((b, j) => (i === j ? 1 : a.reduce((sum, value, f) => sum + value * b[f], 0))),
    );
    const found = factorLoadings(made, 4, 1e-7);
    if (found === null) throw new Error("no factors found");
    expect(found[0]).toHaveLength(3);
    found.forEach((a, i) => {
      found.forEach((b, j) => {
        if (i !== j) expect(a.reduce((sum, value, f) => sum + value * b[f], 0)).toBeCloseTo(made[i][j], 6);
      });
    });
    // Neighbours only: a chain of seven shares more than four factors.
    const chain = known.map((_, i) => known.map((__, j) => (i === j ? 1 : Math.abs(i - j) === 1 ? 0.45 : 0)));
    expect(factorLoadings(chain, 2, 1e-7)).toBeNull();
  });

  it("integrates several factors to what plain drawing gives", () => {
    const known = [0.7, 0.6, 0.7, 0.5, 0.8].map((lead, i) => [lead, 0.2 - 0.1 * i]);
    const made = known.map((a, i) => known.map((b, j) => (i === j ? 1 : a[0] * b[0] + a[1] * b[1])));
    const tail = dunnettTail(made, randomStream(1));
    expect(tail.exact).toBe(true);
    // Plain Monte Carlo over the factors and the error, 60,000 draws: P(max > 2.2 s).
    const stream = randomStream(5);
    let beyond = 0;
    for (let draw = 0; draw < 60_000; draw += 1) {
      const [x, y] = [normalVariate(stream), normalVariate(stream)];
      let square = 0;
      for (let k = 0; k < 9; k += 1) square += normalVariate(stream) ** 2;
      const limit = 2.2 * Math.sqrt(square / 9);
      const largest = Math.max(
        ...known.map(([a, b]) =>
          Math.abs(a * x + b * y + Math.sqrt(1 - a * a - b * b) * normalVariate(stream)),
        ),
      );
      if (largest > limit) beyond += 1;
    }
    expect(Math.abs(tail.upper(2.2, 9) - beyond / 60_000)).toBeLessThan(0.005);
  });

  it("falls back on a lattice where contrasts share no few factors", () => {
    const chain = Array.from({ length: 8 }, (_, i) =>
      Array.from({ length: 8 }, (_, j) => 0.6 ** Math.abs(i - j)),
    );
    const tail = dunnettTail(chain, randomStream(2));
    expect(tail.exact).toBe(false);
    // R mvtnorm 1 − pmvt(±2.5, df 12), GenzBretz to 1e-7: 0.1495444.
    expect(Math.abs(tail.upper(2.5, 12) - 0.1495444)).toBeLessThan(5e-5);
  });

  it("refuses what is no correlation", () => {
    expect(() =>
      dunnettTail(
        [
          [1, 2],
          [2, 1],
        ],
        randomStream(1),
      ),
    ).toThrow("dunnettTail requires correlations between −1 and 1; got 2");
  });
});

describe("studentizedRangeUpper", () => {
  it("is 1 at nothing, falls, and refuses one mean", () => {
    expect(studentizedRangeUpper(0, 4, 12)).toBe(1);
    expect(studentizedRangeUpper(Number.POSITIVE_INFINITY, 4, 12)).toBe(0);
    expect(() => studentizedRangeUpper(3, 1, 12)).toThrow("studentizedRange requires 2 or more means; got 1");
  });
});

describe("holm", () => {
  it("steps down, keeps the order given, and passes over what is missing", () => {
    expect(holm([0.01, 0.04, 0.03])).toEqual([0.03, 0.06, 0.06]);
    expect(holm([null, 0.5, 0.9])).toEqual([null, 1, 1]);
    expect(holm([])).toEqual([]);
    expect(() => holm([1.5])).toThrow("holm requires 0 ≤ p ≤ 1; got 1.5");
  });
});

describe("tests of several groups", () => {
  it("say why there is none", () => {
    expect(welchTest([[1, 2, 3], [4]])).toMatchObject({ f: null, reason: "single plot" });
    expect(
      welchTest([
        [1, 2, 3],
        [4, 4],
      ]),
    ).toMatchObject({ f: null, reason: "no variation" });
    expect(leveneTest([[1], [4]])).toMatchObject({ f: null, reason: "no residual df" });
    expect(
      leveneTest([
        [1, 2],
        [4, 5],
      ]),
    ).toMatchObject({ f: null, reason: "no variation" });
    expect(
      kruskalWallis([
        [2, 2],
        [2, 2],
      ]),
    ).toEqual({ statistic: null, df: 1, p: null });
    expect(
      friedmanTest([
        [2, 2],
        [3, 3],
      ]),
    ).toEqual({ statistic: null, df: 1, p: null });
    const [pair] = gamesHowell(
      [
        { level: "A", values: [1, 1] },
        { level: "B", values: [2, 2] },
      ],
      0.95,
    );
    expect(pair).toMatchObject({ estimate: 1, se: null, p: null, reason: "no variation" });
  });

  it("by hand: ranks 1 2 3 in each of two blocks, and 1 2 against 3 4", () => {
    expect(
      friedmanTest([
        [1, 2, 3],
        [4, 5, 6],
      ]).statistic,
    ).toBeCloseTo(4, 14);
    // Rank sums 3 and 7: 12/(4 × 5) × (9/2 + 49/2) − 15.
    expect(
      kruskalWallis([
        [1, 2],
        [3, 4],
      ]).statistic,
    ).toBeCloseTo(2.4, 14);
  });

  it("refuse an empty group and what is no number", () => {
    expect(() => welchTest([[1, 2], []])).toThrow(
      "welchTest requires groups of finite values, none empty; got an empty group",
    );
    expect(() => kruskalWallis([[1, 2], [Number.NaN]])).toThrow(
      "groups of finite values, none empty; got NaN",
    );
    expect(() => friedmanTest([[1, 2], [1]])).toThrow(
      "friedmanTest requires a finite value of every treatment",
    );
  });
});

import { expect, it } from "vitest";
import { kaplanMeier } from "@/lib/statistics/kaplan-meier";
import { lifeTable } from "@/lib/statistics/life-table";

const plants = { times: [3, 7, 10, 12, 20, 25], causes: [1, 2, 0, 1, 0, 0] };

it("puts a loss at the first inspection that could see it, and a plant last seen standing at the last that did", () => {
  const rows = lifeTable(plants, [7, 14, 21]);
  expect(rows.map(({ from, to, entering, lost, censored }) => [from, to, entering, lost, censored])).toEqual([
    [0, 7, 6, 2, 1],
    [7, 14, 3, 1, 1],
    [14, 21, 1, 0, 1],
  ]);
  expect(rows.map((row) => row.share)).toEqual([4 / 6, (4 / 6) * (2 / 3), (4 / 6) * (2 / 3)]);
  expect(rows[1].shareOfEntering).toBeCloseTo(2 / 3, 15);
});

it("has a row for an inspection at which nothing happened, and none to say once nobody is watched", () => {
  const rows = lifeTable({ times: [1, 9, 9], causes: [1, 0, 0] }, [2, 5, 9, 12]);
  expect(rows.map((row) => row.share)).toEqual([2 / 3, 2 / 3, 2 / 3, null]);
  expect(rows[3]).toMatchObject({ entering: 0, lost: 0, shareOfEntering: null, se: null });
});

it("stays at 0 once all are lost", () => {
  const rows = lifeTable({ times: [1, 4], causes: [1, 1] }, [5, 6]);
  expect(rows.map((row) => row.share)).toEqual([0, 0]);
});

it("is Kaplan–Meier's own curve when every time is an inspection", () => {
  const curve = kaplanMeier(plants);
  const rows = lifeTable(plants, Array.from(curve.times));
  expect(rows.map((row) => row.share)).toEqual(Array.from(curve.share));
  expect(rows.map((row) => row.entering)).toEqual(Array.from(curve.atRisk));
});

it("refuses inspections out of order", () => {
  expect(() => lifeTable(plants, [7, 7])).toThrow(
    "lifeTable requires inspections > 0, each later than the last; got 7, 7",
  );
});

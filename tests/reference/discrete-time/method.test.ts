import { describe, expect, it } from "vitest";
import { discreteHazard, type PeriodCount } from "@/lib/statistics/discrete-hazard";
import { lifeTable } from "@/lib/statistics/life-table";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree } = agreement("discrete time", reference.tolerance);
const [{ data, expected }] = reference.cases;

/** The life table of each group, from our own reckoning. */
const counts: PeriodCount[] = ["6-MP", "control"].flatMap((group) => {
  const own = data.period.flatMap((_, plant) => (data.group[plant] === group ? [plant] : []));
  const lifetimes = {
    times: own.map((plant) => data.period[plant]),
    causes: own.map((plant) => data.status[plant]),
  };
  return lifeTable(lifetimes, [1, 2, 3, 4, 5, 6, 7]).map(({ to, entering, lost }) => ({
    period: to,
    group,
    block: null,
    atRisk: entering,
    lost,
  }));
});

it("the life table against R", () => {
  const { period, group, events, at_risk } = expected.lifeTable;
  const told = counts.filter((count) => count.atRisk > 0);
  expect(told).toEqual(
    period.map((name, row) => ({
      period: Number(name),
      group: group[row],
      block: null,
      atRisk: at_risk[row],
      lost: events[row],
    })),
  );
});

describe("hazards in periods of five weeks against R", () => {
  it.each(["cloglog", "logit"] as const)("%s", (link) => {
    const answer = expected[link];
    const fit = discreteHazard(counts, 0.95, link);
    const place = answer.terms.indexOf("groupcontrol");
    agree(fit.groups[0].estimate, answer.estimate[place]);
    agree(fit.groups[0].se, answer.se[place]);
    agree(fit.groups[0].p, answer.p[place]);
    agree(fit.test?.chiSquare ?? null, answer.chiSquare);
    agree(fit.test?.p ?? null, answer.pChiSquare);
    expect(fit.test?.df).toBe(answer.df);
  });
});

it("a group that lost none has no finite ratio, and the others keep theirs", () => {
  const none = [1, 2, 3].map((period) => ({ period, group: "none", block: null, atRisk: 8, lost: 0 }));
  const fit = discreteHazard([...counts, ...none], 0.95);
  const alone = discreteHazard(counts, 0.95);
  expect(fit.groups[1]).toMatchObject({ group: "none", estimate: null, reason: "not estimable" });
  expect(fit.groups[0].estimate).toBeCloseTo(alone.groups[0].estimate as number, 9);
});

it("says nothing without losses", () => {
  const fit = discreteHazard(
    ["a", "b"].map((group) => ({ period: 1, group, block: "1", atRisk: 8, lost: 0 })),
    0.95,
  );
  expect(fit).toMatchObject({ test: null, groups: [{ estimate: null, reason: "not estimable" }] });
});

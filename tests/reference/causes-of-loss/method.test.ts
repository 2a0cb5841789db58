import { describe, expect, it } from "vitest";
import { aalenJohansen } from "@/lib/statistics/aalen-johansen";
import { countUpTo } from "@/lib/statistics/lifetimes";
import { randomStream } from "@/lib/statistics/random-stream";
import { agreement } from "../agreement";
import reference from "./case.json";
import { plainIncidence } from "./plain-twin";

const { agree } = agreement("causes of loss", reference.tolerance);

interface Table {
  at?: number[];
  time: number[];
  n_risk: number[];
  cif: number[];
  se_delta_method: number[];
}

const groups = reference.cases.flatMap(({ name, data, expected }) =>
  Object.entries(expected as unknown as Record<string, Record<string, Table>>).map(([group, tables]) => {
    const own = data.time.map((_, plant) => group === "all plants" || data.group[plant] === group);
    const times = data.time.filter((_, plant) => own[plant]);
    const causes = data.cause.filter((_, plant) => own[plant]);
    return [`${name}: ${group}`, times, causes, [tables.cause1, tables.cause2]] as const;
  }),
);

describe("cumulative incidence against R", () => {
  it.each(groups)("%s", (_name, times, causes, tables) => {
    const incidence = aalenJohansen({ times, causes }, 2);
    for (const [index, table] of tables.entries())
      for (const [row, time] of table.time.entries()) {
        const place = countUpTo(incidence.times, table.at ? table.at[row] : time) - 1;
        agree(incidence.causes[index].share[place], table.cif[row]);
        agree(Math.sqrt(incidence.causes[index].variance[place]), table.se_delta_method[row]);
      }
  });

  it("the plain twin against R", () => {
    for (const [, times, causes, tables] of groups.slice(0, 3))
      for (const [index, table] of tables.entries()) {
        const twin = plainIncidence(times, causes, index + 1);
        for (const [row, time] of table.time.entries()) {
          const here = twin.find((step) => step.time === time);
          agree(here?.share ?? null, table.cif[row]);
          agree(Math.sqrt(here?.variance ?? 0), table.se_delta_method[row]);
        }
      }
  });
});

it("is the plain twin's on random records, with shares of the causes and of the standing adding up to 1", () => {
  const stream = randomStream(7301);
  for (let record = 0; record < 60; record += 1) {
    const plants = 1 + stream.whole(40);
    const times = Array.from({ length: plants }, () => stream.whole(12));
    const causes = times.map(() => stream.whole(4));
    const incidence = aalenJohansen({ times, causes }, 3);
    let standing = 1;
    for (let at = 0; at < incidence.times.length; at += 1) {
      const lost = incidence.causes.reduce((sum, cause) => sum + cause.lost[at], 0);
      standing *= 1 - lost / incidence.atRisk[at];
      expect(incidence.causes.reduce((sum, cause) => sum + cause.share[at], standing)).toBeCloseTo(1, 12);
    }
    for (const cause of [1, 2, 3])
      for (const [at, { share, variance }] of plainIncidence(times, causes, cause).entries()) {
        expect(incidence.causes[cause - 1].share[at]).toBeCloseTo(share, 13);
        expect(incidence.causes[cause - 1].variance[at]).toBeCloseTo(variance, 13);
      }
  }
});

it("by hand: one cause alone is 1 − Kaplan–Meier with Greenwood's variance", () => {
  const { causes } = aalenJohansen({ times: [1, 1, 2, 2, 3, 4], causes: [1, 1, 1, 0, 1, 0] }, 1);
  for (const [at, share] of [4 / 6, 1 / 2, 1 / 4, 1 / 4].entries()) {
    const greenwood = [2 / 24, 2 / 24 + 1 / 12, 2 / 24 + 1 / 12 + 1 / 2, 2 / 24 + 1 / 12 + 1 / 2][at];
    expect(causes[0].share[at]).toBeCloseTo(1 - share, 14);
    expect(causes[0].variance[at]).toBeCloseTo(share ** 2 * greenwood, 14);
  }
});

it("gives zeros for a cause that took nothing, and nothing for no plants", () => {
  const { causes } = aalenJohansen({ times: [1, 2], causes: [1, 0] }, 2);
  expect(Array.from(causes[1].share)).toEqual([0, 0]);
  expect(Array.from(causes[1].variance)).toEqual([0, 0]);
  expect(aalenJohansen({ times: [], causes: [] }, 1).times).toHaveLength(0);
  expect(() => aalenJohansen({ times: [1], causes: [3] }, 2)).toThrow(
    "aalenJohansen requires causes up to 2; got 3",
  );
});

import { describe, expect, it } from "vitest";
import { germination } from "@/lib/statistics/germination";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree } = agreement("germination", reference.tolerance);
const [{ data, expected }] = reference.cases;

describe("germination against R", () => {
  it.each(["typical", "slow"] as const)("%s", (name) => {
    const { day, new: newly, sown } = data[name];
    const ours = germination(
      day.map((one, at) => ({ day: one, newly: newly[at] })),
      sown,
      0.95,
    );
    const theirs = expected[name];
    expect(ours.germinated).toBe(theirs.germinated);
    agree(ours.limits.low, theirs.wilson.lower);
    agree(ours.limits.high, theirs.wilson.upper);
    agree(ours.half, theirs.t50_farooq_N_over_2);
    agree(ours.halfCoolbear, theirs.t50_coolbear_N_plus_1_over_2);
    agree(ours.meanTime, theirs.mgt);
    agree(ours.meanTimeSe, theirs.se_mgt);
  });
});

describe("germination by hand and at its edges", () => {
  it("interpolates from day 0 when half are up at the first look, and lands on a day that has just half", () => {
    expect(germination([{ day: 4, newly: 8 }], 10, 0.95).half).toBe(2);
    const two = germination(
      [
        { day: 3, newly: 4 },
        { day: 5, newly: 4 },
      ],
      10,
      0.95,
    );
    expect(two.half).toBe(3);
    expect(two.halfCoolbear).toBe(3.25);
    expect(two.meanTime).toBe(4);
  });

  it("has no times where none came up, but limits of some width", () => {
    const none = germination([{ day: 3, newly: 0 }], 20, 0.95);
    expect(none).toMatchObject({ germinated: 0, share: 0, half: null, halfCoolbear: null, meanTime: null });
    expect(none.limits.high).toBeGreaterThan(0.1);
    expect(germination([], 20, 0.95).share).toBe(0);
  });

  it("has no error of the mean time from one seedling", () => {
    const one = germination([{ day: 3, newly: 1 }], 20, 0.95);
    expect(one).toMatchObject({ meanTime: 3, meanTimeSe: null, half: 1.5, halfCoolbear: 3 });
  });

  it("refuses more seedlings than seeds, and days out of order", () => {
    expect(() => germination([{ day: 3, newly: 5 }], 4, 0.95)).toThrow(
      "germination requires 0 ≤ germinated ≤ sown; got 5 of 4",
    );
    expect(() =>
      germination(
        [
          { day: 3, newly: 1 },
          { day: 3, newly: 1 },
        ],
        4,
        0.95,
      ),
    ).toThrow("days > 0, ascending; got 3");
  });
});

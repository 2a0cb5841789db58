import { describe, expect, it } from "vitest";
import { addDays, type Day } from "@/lib/words/day";
import { daysOfSeason, seasonOf, wentThroughWinter } from "@/lib/words/season";

const day = (text: string) => text as Day;

describe("seasons from autumn to spring", () => {
  it("begin in May, when winter crops have been cleared; in November south of the line", () => {
    expect(seasonOf(day("2026-09-20"), 54)).toBe("2026/27");
    expect(seasonOf(day("2027-03-06"), 54)).toBe("2026/27");
    expect(seasonOf(day("2027-04-30"), 54)).toBe("2026/27");
    expect(seasonOf(day("2027-05-01"), 54)).toBe("2027/28");
    expect(seasonOf(day("2027-03-06"), -37)).toBe("2026/27");
    expect(seasonOf(day("2027-11-01"), -37)).toBe("2027/28");
    expect(seasonOf(day("1999-09-01"), 54)).toBe("1999/00");
  });

  it("hold the days that belong to them, and no other name is one", () => {
    expect(daysOfSeason("2026/27", 54)).toEqual({ from: "2026-05-01", until: "2027-04-30" });
    expect(daysOfSeason("2026/27", -37)).toEqual({ from: "2026-11-01", until: "2027-10-31" });
    for (const name of ["2026/28", "26/27", "", "2026/27 or so"]) expect(daysOfSeason(name, 54)).toBeNull();
  });

  it("have every day in one of them and in no other", () => {
    for (const latitude of [54.2, -37])
      for (let at = day("2023-01-01"); at < "2027-01-01"; at = addDays(at, 1)) {
        const days = daysOfSeason(seasonOf(at, latitude), latitude);
        expect(days && days.from <= at && at <= days.until).toBe(true);
      }
  });

  it("know what went through the middle of a winter", () => {
    expect(wentThroughWinter(day("2026-09-20"), day("2027-03-27"), 54)).toBe(true);
    expect(wentThroughWinter(day("2027-03-06"), day("2027-07-03"), 54)).toBe(false);
    expect(wentThroughWinter(day("2027-03-06"), day("2027-07-20"), -37)).toBe(true);
    expect(wentThroughWinter(day("2026-10-01"), day("2026-12-01"), 54)).toBe(false);
  });
});

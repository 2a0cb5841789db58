import { describe, expect, it } from "vitest";
import { usualDates } from "@/lib/service/usual-dates";
import { addDays, type Day, daysBetween } from "@/lib/words/day";

const north = 54.2;
const at = (day: string, latitude = north) => usualDates(day as Day, latitude);
const looks = (dates: ReturnType<typeof usualDates>) =>
  Object.fromEntries(dates.assessments.map(({ name, dueOn }) => [name, dueOn]));

describe("usual dates", () => {
  it("takes what is set out in autumn through the winter and decides on regrowth", () => {
    const dates = at("2027-09-18");
    expect(looks(dates)).toEqual({
      took: "2027-10-09",
      "before hard cold": "2027-11-30",
      midwinter: "2028-01-15",
      regrowth: "2028-04-05",
      end: "2028-05-08",
    });
    expect(dates.decidingAssessment).toBe("regrowth");
    expect(dates.clearBy).toBe("2028-05-15");
    expect(dates.fallbackOn).toBe("2027-10-16");
  });

  it("leaves out the looks that are past when planting is late", () => {
    expect(Object.keys(looks(at("2027-12-20")))).toEqual(["took", "midwinter", "regrowth", "end"]);
  });

  it("ends what is set out in spring after about three months", () => {
    const dates = at("2027-04-10");
    expect(Object.keys(looks(dates))).toEqual(["took", "end"]);
    expect(dates.decidingAssessment).toBe("end");
  });

  it("winters six months later in the south", () => {
    expect(looks(at("2027-03-18", -41)).midwinter).toBe("2027-07-15");
  });

  it("has its looks in order after planting, whatever the day and the half of the world", () => {
    for (const latitude of [north, -41])
      for (let count = 0; count < 800; count += 1) {
        const plantedOn = addDays("2027-01-01" as Day, count);
        const { assessments, clearBy, decidingAssessment } = usualDates(plantedOn, latitude);
        const days = [plantedOn, ...assessments.map((look) => look.dueOn), clearBy];
        expect(days).toEqual([...days].sort());
        expect(assessments.some((look) => look.name === decidingAssessment)).toBe(true);
        expect(daysBetween(plantedOn, clearBy)).toBeLessThan(450);
      }
  });
});

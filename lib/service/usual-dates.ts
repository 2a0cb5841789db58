import { addDays, type Day } from "@/lib/words/day";
import type { Assessment, AssessmentName } from "@/lib/words/trial";

export interface UsualDates {
  assessments: Assessment[];
  decidingAssessment: AssessmentName;
  clearBy: Day;
  fallbackOn: Day;
}

const tookAfterDays = 21;
const fallbackAfterDays = 28;
const summerDays = 90;
const clearAfterDays = 7;

/** The next day with this month and day after another; in the southern half of the world six months later. */
function next(after: Day, monthDay: string, isSouth: boolean): Day {
  const [month, day] = monthDay.split("-").map(Number);
  const shifted = isSouth ? ((month + 5) % 12) + 1 : month;
  const year = Number(after.slice(0, 4));
  const at = (inYear: number) =>
    `${inYear}-${String(shifted).padStart(2, "0")}-${String(day).padStart(2, "0")}` as Day;
  return at(year) > after ? at(year) : at(year + 1);
}

function monthOf(day: Day, isSouth: boolean): number {
  const month = Number(day.slice(5, 7));
  return isSouth ? ((month + 5) % 12) + 1 : month;
}

/**
 * The looks that are usual for plants set out on a day (*common practice*): *took* after three weeks, when losses to
 * transplanting are over; what is set out from July to February is then looked at before hard cold, in the middle of winter
 * and when growth has started again, on which the rule decides; what is set out in spring ends after about three months.
 */
export function usualDates(plantedOn: Day, latitude: number): UsualDates {
  const isSouth = latitude < 0;
  const took = addDays(plantedOn, tookAfterDays);
  const fallbackOn = addDays(plantedOn, fallbackAfterDays);
  const month = monthOf(plantedOn, isSouth);
  if (month >= 3 && month <= 6) {
    const end = addDays(plantedOn, summerDays);
    return {
      assessments: [
        { name: "took", dueOn: took },
        { name: "end", dueOn: end },
      ],
      decidingAssessment: "end",
      clearBy: addDays(end, clearAfterDays),
      fallbackOn,
    };
  }
  const regrowth = next(took, "04-05", isSouth);
  const end = next(regrowth, "05-08", isSouth);
  const winter: Assessment[] = [
    { name: "before hard cold", dueOn: next(took, "11-30", isSouth) },
    { name: "midwinter", dueOn: next(took, "01-15", isSouth) },
    { name: "regrowth", dueOn: regrowth },
  ];
  return {
    assessments: [
      { name: "took", dueOn: took },
      ...winter.filter((look) => look.dueOn <= regrowth),
      { name: "end", dueOn: end },
    ],
    decidingAssessment: "regrowth",
    clearBy: addDays(end, clearAfterDays),
    fallbackOn,
  };
}

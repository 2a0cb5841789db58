import type { Fault } from "@/lib/words/fault";
import type { TrialPlan } from "@/lib/words/trial-plan";

function repeated(names: string[], field: (index: number) => string, wanted: string): Fault[] {
  const seen = new Set<string>();
  return names.flatMap((name, index) => {
    const key = name.toLowerCase();
    if (!seen.has(key)) {
      seen.add(key);
      return [];
    }
    return [{ place: field(index), found: name, wanted }];
  });
}

function dateMisfits(plan: TrialPlan): Fault[] {
  const { sownOn, plantedOn, clearBy, fallbackOn } = plan;
  const faults: Fault[] = [];
  if (plantedOn < sownOn)
    faults.push({ place: "plantedOn", found: plantedOn, wanted: `the sowing date, ${sownOn}, or later` });
  plan.assessments.forEach(({ dueOn }, index) => {
    if (dueOn < plantedOn)
      faults.push({
        place: `assessments.${index}.dueOn`,
        found: dueOn,
        wanted: `the planting date, ${plantedOn}, or later`,
      });
  });
  if (clearBy !== null && clearBy <= plantedOn)
    faults.push({ place: "clearBy", found: clearBy, wanted: `a day after planting on ${plantedOn}` });
  if (fallbackOn !== null && fallbackOn < sownOn)
    faults.push({ place: "fallbackOn", found: fallbackOn, wanted: `the sowing date, ${sownOn}, or later` });
  plan.covers.forEach(({ fromOn, untilOn }, index) => {
    if (untilOn !== null && untilOn < fromOn)
      faults.push({
        place: `covers.${index}.untilOn`,
        found: untilOn,
        wanted: `the day the cover goes on, ${fromOn}, or later`,
      });
  });
  return faults;
}

/** What in a plan does not agree with the rest of it; every fault with its field. Knows nothing of the garden. */
export function planMisfits(plan: TrialPlan): Fault[] {
  const faults = [
    ...repeated(
      plan.entries.map((entry) => entry.variety),
      (index) => `entries.${index}.variety`,
      "a variety that is not in the list already",
    ),
    ...repeated(
      plan.beds.map((bed) => bed.name),
      (index) => `beds.${index}.name`,
      "a bed that is not in the list already",
    ),
    ...repeated(
      plan.assessments.map((assessment) => assessment.name),
      (index) => `assessments.${index}.name`,
      "an assessment that is not in the list already",
    ),
    ...dateMisfits(plan),
  ];
  for (const role of ["check", "tender-check"] as const) {
    const words = role === "check" ? "one check at most" : "one tender check at most";
    plan.entries
      .map((entry, index) => ({ entry, index }))
      .filter(({ entry }) => entry.role === role)
      .slice(1)
      .forEach(({ entry, index }) => {
        faults.push({ place: `entries.${index}.role`, found: entry.variety, wanted: words });
      });
  }
  if (!plan.assessments.some((assessment) => assessment.name === plan.decidingAssessment)) {
    const wanted = "one of the assessments that have a date";
    faults.push({ place: "decidingAssessment", found: plan.decidingAssessment, wanted });
  }
  const checked = plan.entries.some((entry) => entry.role === "check");
  if (plan.rule.yieldFloor !== null && !checked) {
    const wanted = "a check among the varieties, or no yield floor: it is a share of the check's yield";
    faults.push({ place: "rule.yieldFloor", found: String(plan.rule.yieldFloor), wanted });
  }
  return faults;
}

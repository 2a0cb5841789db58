import type { Fault } from "@/lib/words/fault";
import { sayLengthMm } from "@/lib/words/length";
import { designWords, factorWords } from "@/lib/words/trial";
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

/** What main plots are dealt: only in a split plot, each once, and in time. */
function mainPlotMisfits({ design, mainPlots, covers, sownOn, plantedOn }: TrialPlan): Fault[] {
  const isSplit = design === "split-plot";
  if (!mainPlots) {
    if (!isSplit) return [];
    const wanted = "the covers, the sowing dates or the companion that whole main plots are dealt";
    return [{ place: "mainPlots", found: "nothing", wanted }];
  }
  if (!isSplit)
    return [
      {
        place: "design",
        found: designWords[design],
        wanted: `a split plot, to compare ${factorWords[mainPlots.factor].many}`,
      },
    ];
  if (mainPlots.factor === "sowing")
    return [
      ...repeated(
        mainPlots.levels.map((level) => level.sownOn),
        (index) => `mainPlots.levels.${index}.sownOn`,
        "a sowing date that is not in the list already",
      ),
      ...mainPlots.levels.flatMap((level, index) =>
        level.sownOn > plantedOn
          ? [
              {
                place: `mainPlots.levels.${index}.sownOn`,
                found: level.sownOn,
                wanted: `the planting date, ${plantedOn}, or earlier: all is planted out on one day`,
              },
            ]
          : [],
      ),
      ...(mainPlots.levels.some((level) => level.sownOn === sownOn)
        ? []
        : [{ place: "sownOn", found: sownOn, wanted: "one of the sowing dates that are compared" }]),
    ];
  if (mainPlots.factor === "companion")
    return repeated(
      mainPlots.levels.map((level) => level.companion?.name ?? ""),
      (index) => `mainPlots.levels.${index}.companion`,
      "a companion that is not in the list already",
    );
  return [
    ...repeated(
      mainPlots.levels.map((level) => level.cover?.name ?? "open ground"),
      (index) => `mainPlots.levels.${index}.cover`,
      "a cover that is not in the list already",
    ),
    ...mainPlots.levels.flatMap(({ cover, fromOn, untilOn }, index) => {
      const place = `mainPlots.levels.${index}`;
      const faults: Fault[] = [];
      if (cover && covers.some((other) => other.name.toLowerCase() === cover.name.toLowerCase()))
        faults.push({
          place: `${place}.cover`,
          found: cover.name,
          wanted: "a cover that does not stand over the whole trial",
        });
      if (untilOn !== null && untilOn < (fromOn ?? plantedOn))
        faults.push({
          place: `${place}.untilOn`,
          found: untilOn,
          wanted: `the day the cover goes on, ${fromOn ?? plantedOn}, or later`,
        });
      return faults;
    }),
  ];
}

/** What stands in the way lies in its bed, and companions are not the crop itself. */
function groundMisfits({ beds, companions, mainPlots, crop, pathSide }: TrialPlan): Fault[] {
  const path: Fault[] =
    pathSide === "between" && beds.length !== 2
      ? [
          {
            place: "pathSide",
            found: `${beds.length} ${beds.length === 1 ? "bed" : "beds"}`,
            wanted: "two beds, to have the path between them",
          },
        ]
      : [];
  const inTheWay = beds.flatMap((bed, index) =>
    (bed.takenUp ?? []).flatMap(({ fromMm, toMm }, row) =>
      fromMm < toMm && toMm <= bed.lengthMm
        ? []
        : [
            {
              place: `beds.${index}.takenUp.${row}.toMm`,
              found: `${sayLengthMm(fromMm)} to ${sayLengthMm(toMm)}`,
              wanted: `a stretch of the bed, which is ${sayLengthMm(bed.lengthMm)} long`,
            },
          ],
    ),
  );
  const compared =
    mainPlots?.factor === "companion"
      ? mainPlots.levels.flatMap(({ companion }, index) =>
          companion ? [{ name: companion.name, place: `mainPlots.levels.${index}.companion.name` }] : [],
        )
      : [];
  const inEvery = (companions ?? []).map(({ name }, index) => ({ name, place: `companions.${index}.name` }));
  const among = [...inEvery, ...compared].flatMap(({ name, place }) =>
    name.toLowerCase() === crop.toLowerCase()
      ? [{ place, found: name, wanted: "another crop than the one on trial" }]
      : [],
  );
  const twice = compared
    .filter(({ name }) => inEvery.some((other) => other.name.toLowerCase() === name.toLowerCase()))
    .map(({ name, place }) => ({
      place,
      found: name,
      wanted: "a companion that does not stand in every plot",
    }));
  return [...path, ...inTheWay, ...among, ...twice];
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
    ...repeated(
      (plan.companions ?? []).map((companion) => companion.name),
      (index) => `companions.${index}.name`,
      "a companion that is not in the list already",
    ),
    ...dateMisfits(plan),
    ...mainPlotMisfits(plan),
    ...groundMisfits(plan),
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

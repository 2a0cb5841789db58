import type { TrialView } from "@/lib/service/trial-view";
import { type Day, sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";
import { checkRow, firstTrialRow, tenderRow } from "./plan-rows";

type Values = Record<string, string>;

/** The same day and month in the first year in which it is still to come. */
function nextTime(day: Day, today: Day): string {
  let next = day;
  while (next <= today) next = next.replace(/^\d{4}/, (year) => String(Number(year) + 1)) as Day;
  // A leap day that its new year does not have is left for the grower to set.
  return next.endsWith("02-29") ? "" : sayDay(next, true);
}

/**
 * The beginning of a plan taken from a trial that there is: its question, crop, varieties, covers and what was compared,
 * and its days in the year to come. The bed is left to be chosen: the old one may not be free, or may want a rest from
 * the crop.
 *
 * @param only entries to be taken besides the checks; null takes all
 */
export function beginFrom(trial: TrialView, only: ReadonlySet<string> | null): Values {
  const values: Values = {
    from: trial.id,
    question: trial.question,
    purpose: trial.purpose,
    crop: trial.crop,
    sownOn: nextTime(trial.sownOn, trial.today),
    plantedOn: nextTime(trial.plantedOn, trial.today),
  };
  let row = firstTrialRow;
  for (const entry of trial.entries) {
    if (entry.role === "entry" && only && !only.has(entry.id)) continue;
    const at = entry.role === "check" ? checkRow : entry.role === "tender-check" ? tenderRow : row++;
    values[`entries.${at}.variety`] = entry.variety;
    values[`entries.${at}.packetClaim`] = entry.packetClaim ?? "";
  }
  values["rows.entries"] = String(row);
  trial.covers.forEach(({ name, kind }, index) => {
    values[`covers.${index}.kind`] = kind;
    values[`covers.${index}.name`] = name === kind ? "" : name;
  });
  values["rows.covers"] = String(trial.covers.length);
  let later = 0;
  trial.levels.forEach((level, index) => {
    if (level.companion) {
      values["among.0.name"] = level.companion.name;
      values["among.0.habit"] = level.companion.habit;
      values["among.0.sownOn"] = nextTime(level.companion.sownOn, trial.today);
      values["among.0.betweenPlantsMm"] = sayLengthMm(level.companion.betweenPlantsMm);
    } else if (level.factor === "cover") {
      values[`levels.${index}.kind`] = level.cover?.kind ?? "open ground";
      values[`levels.${index}.name`] =
        level.cover && level.cover.name !== level.cover.kind ? level.cover.name : "";
    } else if (level.sownOn !== null && level.sownOn !== trial.sownOn) {
      values[`sowings.${later}.sownOn`] = nextTime(level.sownOn, trial.today);
      later += 1;
    }
  });
  values["rows.levels"] = String(trial.levels.length);
  return values;
}

/** What a plan begun from a trial takes over from it once the rest is proposed: its rule, its picking, its ground. */
export function restFrom(trial: TrialView): Values {
  const percent = (share: number | null) => (share === null ? "" : String(Math.round(share * 100)));
  const values: Values = { pickingRule: trial.pickingRule };
  if (trial.gradient) values.gradient = trial.gradient;
  if (trial.pathSide !== "left") values.pathSide = trial.pathSide;
  if (trial.guardRows > 0) values.guardRows = String(trial.guardRows);
  if (trial.rule) {
    values["rule.survivalFloor"] = percent(trial.rule.survivalFloor);
    values["rule.yieldFloor"] = percent(trial.rule.yieldFloor);
    values["rule.sureness"] = percent(trial.rule.sureness);
  }
  return values;
}

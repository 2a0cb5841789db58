"use server";

import { redirect } from "next/navigation";
import { type FormAnswer, fieldFaults, typedValues } from "@/app/_ui/field-fault";
import { amendEntry } from "@/lib/service/amend-entry";
import { amendPlot } from "@/lib/service/amend-plot";
import { openHouse } from "@/lib/service/house";
import { parseDay } from "@/lib/words/day";
import { takeOutWords } from "./_parts/take-out-words";

export async function takeOutPlot(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const values = typedValues(form);
  const {
    trialId = "",
    plotId = "",
    kind = "",
    reason = "",
    by = "",
    fromOn = "",
    plantedVariety = "",
  } = values;
  const day = parseDay(fromOn, "fromOn");
  const change = { trialId, kind, reason, by, plantedVariety, fromOn: day.ok ? day.value : fromOn };
  const entryId = /^entry (.+)$/.exec(plotId)?.[1];
  const amended = entryId
    ? amendEntry(openHouse(), { ...change, entryId })
    : amendPlot(openHouse(), { ...change, plotId });
  if (amended.ok) redirect(`/trials/${trialId}`);
  const faults = [...(day.ok ? [] : day.faults), ...amended.faults];
  return { values, faults: fieldFaults(faults, values, takeOutWords), turn: before.turn + 1 };
}

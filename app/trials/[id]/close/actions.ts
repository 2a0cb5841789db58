"use server";

import { redirect } from "next/navigation";
import { type FieldWords, type FormAnswer, fieldFaults, typedValues } from "@/app/_ui/field-fault";
import { closeTrial } from "@/lib/service/close-trial";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";

const words: Record<string, FieldWords> = {
  reason: { label: "The reason", ask: "Enter why the trial is closed" },
  by: { label: "Who closes it" },
};

/** Closes the trial; where it is closed already (the button pressed twice), it leads to the trial as it stands. */
export async function closeTheTrial(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const values = typedValues(form);
  const { trialId = "", reason = "", by = "" } = values;
  const house = openHouse();
  const closed = closeTrial(house, trialId, { reason, by });
  if (closed.ok || trialView(house, trialId)?.state === "closed") redirect(`/trials/${trialId}`);
  const faults = fieldFaults(closed.faults, values, (field) => words[field] ?? { label: "This form" });
  return { values, faults, turn: before.turn + 1 };
}

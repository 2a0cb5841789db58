"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, fieldFaults, typedValues } from "@/app/_ui/field-fault";
import { openHouse } from "@/lib/service/house";
import { recordGermination } from "@/lib/service/record-germination";
import { germinationWords } from "./_parts/germination-words";

/** Keeps the germination tests that were typed; the list is then reckoned from them. */
export async function keepTests(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const { act: _, ...values } = typedValues(form);
  const { trialId = "" } = values;
  const kept = recordGermination(openHouse(), trialId, values);
  const turn = before.turn + 1;
  if (!kept.ok) return { values, faults: fieldFaults(kept.faults, values, germinationWords), turn };
  revalidatePath(`/trials/${trialId}/sowing-list`);
  return { values, faults: [], turn };
}

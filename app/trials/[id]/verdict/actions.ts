"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { type FieldWords, type FormAnswer, fieldFaults, typedValues } from "@/app/_ui/field-fault";
import { openHouse } from "@/lib/service/house";
import { recordVerdict } from "@/lib/service/record-verdict";

const words: Record<string, FieldWords> = {
  choice: { label: "The verdict", always: "Choose a verdict" },
  reason: { label: "The reason", ask: "Enter why" },
  by: { label: "Your name" },
};

/** Writes a person's verdict down. Fields carry their entry's id, since every variety has its own form on the page. */
export async function giveVerdict(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const sent = typedValues(form);
  const { trialId = "", entryId = "" } = sent;
  const typed = (field: string) => sent[`${field}.${entryId}`] ?? "";
  // In the order of the form: a tile that nobody pressed is not sent at all.
  const values = Object.fromEntries(
    ["choice", "reason", "by"].map((field) => [`${field}.${entryId}`, typed(field)]),
  );
  const given = recordVerdict(openHouse(), {
    trialId,
    entryId,
    choice: typed("choice"),
    reason: typed("reason"),
    by: typed("by"),
  });
  if (given.ok) {
    // The page that is gone to is the page one is on: without this it would be shown as it was.
    revalidatePath(`/trials/${trialId}/verdict`);
    redirect(`/trials/${trialId}/verdict#entry-${entryId}-heading`);
  }
  const faults = given.faults.map((fault) =>
    words[fault.place] ? { ...fault, place: `${fault.place}.${entryId}` } : fault,
  );
  const wordsAt = (place: string) =>
    words[place.split(".")[0]] ?? { label: "This verdict", always: "This variety is no longer in the trial" };
  return { values, faults: fieldFaults(faults, values, wordsAt), turn: before.turn + 1 };
}

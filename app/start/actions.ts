"use server";

import { redirect } from "next/navigation";
import { type FormAnswer, fieldFaults, typedValues } from "@/app/_ui/field-fault";
import { openHouse } from "@/lib/service/house";
import { openDemo } from "@/lib/service/open-demo";
import { startGarden } from "@/lib/service/start-garden";
import { gardenWords } from "./_parts/garden-words";
import { readGardenForm } from "./_parts/read-garden-form";

/** Fills the empty file with the demo garden. Pressed twice, or where a garden is, it leads to the garden there is. */
export async function lookRoundTheDemo(): Promise<void> {
  openDemo(openHouse());
  redirect("/");
}

export async function startOwnGarden(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const values = typedValues(form);
  const read = readGardenForm(values);
  const started = startGarden(openHouse(), read.input);
  if (started.ok) redirect("/trials/new");
  const faults = fieldFaults([...read.faults, ...started.faults], values, gardenWords);
  return { values, faults, turn: before.turn + 1 };
}

"use server";

import { redirect } from "next/navigation";
import { openHouse } from "@/lib/service/house";
import { openDemo } from "@/lib/service/open-demo";
import { readTypedGarden } from "@/lib/service/read-typed-garden";
import { startGarden } from "@/lib/service/start-garden";
import type { Fault } from "@/lib/words/fault";

export type Typed = Record<string, string>;

/** What a form sent back: everything as it was typed, and what is wrong with it. */
export interface FormAnswer {
  typed: Typed;
  faults: Fault[];
}

function typedFields(form: FormData): Typed {
  return Object.fromEntries(
    [...form].filter((pair): pair is [string, string] => typeof pair[1] === "string"),
  );
}

export async function lookRoundTheDemo(): Promise<void> {
  openDemo(openHouse());
  redirect("/");
}

export async function startOwnGarden(_before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const typed = typedFields(form);
  const read = readTypedGarden(typed);
  const started = read.ok ? startGarden(openHouse(), read.value) : read;
  if (!started.ok) return { typed, faults: started.faults };
  redirect("/trials/new");
}

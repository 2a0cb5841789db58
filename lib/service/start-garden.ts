import * as z from "zod/mini";
import { inOneAct } from "@/db/open";
import { addGarden } from "@/db/queries/add-garden";
import { findGarden } from "@/db/queries/find-garden";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import type { House } from "./house";
import { readForm } from "./read-form";

function isTimeZone(text: string): boolean {
  try {
    return text.length > 0 && Boolean(new Intl.DateTimeFormat("en-GB", { timeZone: text }));
  } catch {
    return false;
  }
}

const gardenSchema = z.object({
  name: z.string().check(z.trim(), z.minLength(1), z.maxLength(80)),
  timeZone: z.string().check(z.refine(isTimeZone, "a time zone such as Europe/London")),
  latitude: z.number().check(z.minimum(-90), z.maximum(90)),
  longitude: z.number().check(z.minimum(-180), z.maximum(180)),
  altitudeM: z.nullable(z.int().check(z.minimum(-500), z.maximum(6000))),
  isDemo: z.optional(z.boolean()),
});

/** Makes the one garden of this file. Sent twice it is made once; refused when there is another. */
export function startGarden(house: House, input: unknown): Outcome<{ gardenId: string }> {
  const form = readForm(gardenSchema, input);
  if (!form.ok) return form;
  return inOneAct(house.database, () => {
    const existing = findGarden(house.database);
    if (existing) {
      const { name, latitude, longitude } = form.value;
      const isSame =
        existing.name === name && existing.latitude === latitude && existing.longitude === longitude;
      if (isSame) return success({ gardenId: existing.id });
      return refusal([{ place: "name", found: existing.name, wanted: "a file that holds no garden yet" }]);
    }
    const gardenId = house.newId();
    const { isDemo = false, ...fields } = form.value;
    addGarden(house.database, { id: gardenId, ...fields, isDemo, madeAt: house.now() });
    return success({ gardenId });
  });
}

import { inOneAct } from "@/db/open";
import { findGarden } from "@/db/queries/find-garden";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import type { House } from "./house";

/** Fills an empty file with the demo garden, whole or not at all. Refused when the file holds a garden. */
export function openDemo(house: House): Outcome<null> {
  const { database, loadDemo } = house;
  if (!loadDemo) throw new Error("openDemo requires a house that can load the demo; got one that cannot");
  return inOneAct(database, () => {
    const existing = findGarden(database);
    if (existing) {
      return refusal([{ place: "garden", found: existing.name, wanted: "a file that holds no garden yet" }]);
    }
    loadDemo();
    return success(null);
  });
}

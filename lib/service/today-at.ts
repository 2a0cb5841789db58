import { findGarden } from "@/db/queries/find-garden";
import { type Day, dayAtGarden } from "@/lib/words/day";
import type { House } from "./house";

/** The calendar day at the garden now; by UTC while there is no garden. */
export function todayAt(house: House): Day {
  return dayAtGarden(house.now(), findGarden(house.database)?.timeZone ?? "UTC");
}

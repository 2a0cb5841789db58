import { findGarden } from "@/db/queries/find-garden";
import type { House } from "./house";

/** The garden's name and whether it is the invented one; null before there is a garden. */
export function gardenName(house: House): { name: string; isDemo: boolean } | null {
  const garden = findGarden(house.database);
  return garden && { name: garden.name, isDemo: garden.isDemo };
}

import { listBeds } from "@/db/queries/list-beds";
import { listCovers } from "@/db/queries/list-covers";
import { listCrops } from "@/db/queries/list-crops";
import { listVarieties } from "@/db/queries/list-varieties";
import type { House } from "./house";

export interface PlanningChoices {
  crops: string[];
  varietiesByCrop: Record<string, { name: string; packetClaim: string | null }[]>;
  beds: { name: string; widthMm: number; lengthMm: number; potMm?: number }[];
  covers: { name: string; kind: string }[];
  coverKinds: string[];
}

/** The usual kinds of cover; the grower's own are offered after them. */
const usualCoverKinds = ["insect netting", "fleece", "low tunnel", "cold frame", "cloche"];

/** What the garden knows already and a new trial may name. */
export function planningChoices(house: House): PlanningChoices {
  const { database } = house;
  const crops = listCrops(database);
  const varieties = listVarieties(database);
  const covers = listCovers(database).map(({ name, kind }) => ({ name, kind }));
  return {
    crops: crops.map((crop) => crop.name),
    varietiesByCrop: Object.fromEntries(
      crops.map((crop) => [
        crop.name,
        varieties
          .filter((variety) => variety.cropId === crop.id)
          .map(({ name, packetClaim }) => ({ name, packetClaim })),
      ]),
    ),
    beds: listBeds(database).map(({ name, widthMm, lengthMm, potMm }) => ({
      name,
      widthMm,
      lengthMm,
      ...(potMm === null ? {} : { potMm }),
    })),
    covers,
    coverKinds: [...new Set([...usualCoverKinds, ...covers.map((cover) => cover.kind)])],
  };
}

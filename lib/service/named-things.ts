import { addCover } from "@/db/queries/add-cover";
import { addCrop } from "@/db/queries/add-crop";
import { addVariety } from "@/db/queries/add-variety";
import { listCovers } from "@/db/queries/list-covers";
import { listCrops } from "@/db/queries/list-crops";
import { listVarieties } from "@/db/queries/list-varieties";
import type { House } from "./house";
import { sameName } from "./same-name";

/** The crop of this name, made where there is none. */
export function cropNamed(house: House, name: string): string {
  const known = listCrops(house.database).find((row) => sameName(row.name, name));
  if (known) return known.id;
  const id = house.newId();
  addCrop(house.database, { id, name });
  return id;
}

/** The cover of this name, made where there is none. */
export function coverNamed(house: House, { name, kind }: { name: string; kind: string }): string {
  const known = listCovers(house.database).find((row) => sameName(row.name, name));
  if (known) return known.id;
  const id = house.newId();
  addCover(house.database, { id, name, kind });
  return id;
}

/** The variety of this name, made where there is none; the claim of one that is there stays. */
export function varietyNamed(
  house: House,
  cropId: string,
  { name, packetClaim }: { name: string; packetClaim: string | null },
): string {
  const known = listVarieties(house.database).find(
    (row) => row.cropId === cropId && sameName(row.name, name),
  );
  if (known) return known.id;
  const id = house.newId();
  addVariety(house.database, { id, cropId, name, packetClaim });
  return id;
}

import { addCrop } from "@/db/queries/add-crop";
import { addVariety } from "@/db/queries/add-variety";
import { listCrops } from "@/db/queries/list-crops";
import { listVarieties } from "@/db/queries/list-varieties";
import { setPacketClaim } from "@/db/queries/set-packet-claim";
import { readVariety } from "@/lib/records/read-variety";
import { type Fault, quoteFound } from "@/lib/words/fault";
import type { House } from "./house";
import type { TableImport } from "./import-table";

interface KnownVariety {
  id: string;
  claim: string | null;
  /** Where the file names it. */
  line: number | null;
}

/** Takes in varieties with what their packets claim. A blank claim changes nothing; another one is put over the one here. */
export function importVarieties(house: House, options: { isWriting: boolean }): TableImport {
  const { database } = house;
  const { isWriting } = options;
  const crops = new Map(listCrops(database).map((crop) => [crop.name.toLowerCase(), crop.id]));
  const varieties = new Map<string, KnownVariety>(
    listVarieties(database).map((row) => [
      `${row.cropId} ${row.name.toLowerCase()}`,
      { id: row.id, claim: row.packetClaim, line: null },
    ]),
  );
  const tally = { rows: 0, added: 0, already: 0 };
  const changed: string[] = [];

  function cropId(name: string): string {
    const known = crops.get(name.toLowerCase());
    if (known) return known;
    const id = house.newId();
    crops.set(name.toLowerCase(), id);
    if (isWriting) addCrop(database, { id, name });
    return id;
  }

  return {
    tally,
    take(row, faults) {
      const own: Fault[] = [];
      const { line, crop, variety, packetClaim } = readVariety(row, own);
      tally.rows += 1;
      if (own.length > 0) return faults.add(own);
      const ofCrop = cropId(crop);
      const key = `${ofCrop} ${variety.toLowerCase()}`;
      const known = varieties.get(key);
      if (!known) {
        const id = house.newId();
        varieties.set(key, { id, claim: packetClaim, line });
        if (isWriting) addVariety(database, { id, cropId: ofCrop, name: variety, packetClaim });
        tally.added += 1;
        return;
      }
      const isSame = packetClaim === null || packetClaim === known.claim;
      if (isSame) {
        tally.already += 1;
        return;
      }
      if (known.line !== null && known.claim !== null) {
        const found = quoteFound(packetClaim);
        const wanted = `one claim for a variety: line ${known.line} has another`;
        return faults.add([{ place: row.place("packet_claim"), found, wanted }]);
      }
      if (isWriting) setPacketClaim(database, known.id, packetClaim);
      if (known.claim !== null) changed.push(variety);
      varieties.set(key, { id: known.id, claim: packetClaim, line });
      tally.added += 1;
    },
    finish() {},
    said: () =>
      changed.length > 0 ? [`The packet’s claim changes for ${changed.slice(0, 20).join(", ")}.`] : [],
  };
}

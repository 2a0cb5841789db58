import type { FieldPack } from "@/lib/sync/field-pack";

/** A pack as this version draws it, whichever version of the program fetched it: what it lacks is none. */
export function completePack(pack: FieldPack): FieldPack {
  return { ...pack, bedFacts: pack.bedFacts ?? [], bedFactsSince: pack.bedFactsSince ?? pack.today };
}

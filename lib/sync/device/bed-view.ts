import { inForce } from "@/lib/journal/in-force";
import type { FieldBed, FieldPack } from "@/lib/sync/field-pack";
import type { BedFact, BedFactKind, CoverState } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import { allBedFacts } from "./all-facts";
import type { OutboxEntry } from "./outbox-entry";

/** A bed as the phone knows it. */
export interface BedView {
  bed: FieldBed;
  /** How the cover stood when it was last told; null when nobody did. */
  cover: CoverState | null;
  lowest: BedFact | null;
  /** The last day on which somebody told anything of the bed as a whole but that they could not look. */
  lastSeenOn: Day | null;
  /** Facts of the bed that are neither corrected nor withdrawn, in fold order. */
  inForce: BedFact[];
}

/** Every bed of the pack as it stands by home's facts and the phone's, up to a day where one is given. */
export function bedViews(
  pack: FieldPack,
  entries: OutboxEntry[],
  until: Day | null = null,
): Map<string, BedView> {
  const counting = inForce(allBedFacts(pack, entries)).filter(
    (fact) => until === null || fact.seenOn <= until,
  );
  return new Map(
    pack.beds.map((bed) => {
      const ofBed = counting.filter((fact) => fact.bedId === bed.id);
      const last = (kind: BedFactKind) => ofBed.findLast((fact) => fact.kind === kind) ?? null;
      return [
        bed.id,
        {
          bed,
          cover: (last("cover")?.what as CoverState | undefined) ?? null,
          lowest: last("lowest"),
          lastSeenOn: ofBed.findLast((fact) => fact.kind !== "not-seen")?.seenOn ?? null,
          inForce: ofBed,
        },
      ];
    }),
  );
}

import type { CoverState } from "@/lib/words/bed-fact";
import { type BedDraft, draftBedFact } from "./fact-draft";
import type { Looking } from "./walk-acts";

function bedFact(
  looking: Looking,
  bedId: string,
  kind: BedDraft["kind"],
  parts: Partial<BedDraft> = {},
): BedDraft {
  return draftBedFact({ ...looking, bedId, kind, ...parts });
}

/** How the cover of a bed stands from now on. */
export function coverDraft(looking: Looking, bedId: string, state: CoverState): BedDraft {
  return bedFact(looking, bedId, "cover", { what: state });
}

/** The lowest temperature since the last look, in tenths of °C. */
export function lowestDraft(looking: Looking, bedId: string, tenthsC: number): BedDraft {
  return bedFact(looking, bedId, "lowest", { amount: tenthsC, unit: "tenths-c" });
}

/** What was done to a bed, or to part of it only. */
export function treatmentDraft(
  looking: Looking,
  bedId: string,
  what: string,
  reach: "whole" | "part",
): BedDraft {
  return bedFact(looking, bedId, "treatment", { what, reach });
}

/** A bed that was looked over with nothing to tell, or that nobody could look at. */
export function lookedDraft(looking: Looking, bedId: string, kind: "looked" | "not-seen"): BedDraft {
  return bedFact(looking, bedId, kind);
}

/** A pest that was seen, or a crop that is ready to pick, by its name. */
export function namedDraft(looking: Looking, bedId: string, kind: "pest" | "ready", what: string): BedDraft {
  return bedFact(looking, bedId, kind, { what });
}

/** The condition of what stands in a bed, or any note, in words. */
export function wordsDraft(
  looking: Looking,
  bedId: string,
  kind: "condition" | "note",
  note: string,
  picture: string | null = null,
): BedDraft {
  return bedFact(looking, bedId, kind, { note, picture });
}

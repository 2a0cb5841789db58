import { createHash } from "node:crypto";
import type { AnalysisOptions } from "@/lib/analysis/analyse-trial";
import type { TrialFindings } from "@/lib/analysis/finding";
import type { TrialRecord } from "@/lib/analysis/trial-record";

const most = 60;
const kept = new Map<string, TrialFindings>();

/** A record is not changed once it was read, so its own hash is made once. */
const hashes = new WeakMap<TrialRecord, string>();

function hashOf(record: TrialRecord): string {
  const known = hashes.get(record);
  if (known !== undefined) return known;
  const hash = createHash("sha256").update(JSON.stringify(record)).digest("base64");
  hashes.set(record, hash);
  return hash;
}

/** Names a record and a question: the same record always gives the same findings, so they may be kept under it. */
export function findingsKey(record: TrialRecord, options: AnalysisOptions): string {
  return JSON.stringify([
    hashOf(record),
    options.at,
    options.yieldPer,
    options.level,
    options.leavingOut,
    options.withoutRedealing ?? false,
  ]);
}

/** What was worked out before, or null. */
export function keptFindings(key: string): TrialFindings | null {
  const found = kept.get(key);
  if (!found) return null;
  // Asked for again: the last to be let go.
  kept.delete(key);
  kept.set(key, found);
  return found;
}

/** Keeps findings while the program runs; the longest unasked for are let go. */
export function keepFindings(key: string, findings: TrialFindings): TrialFindings {
  kept.set(key, findings);
  if (kept.size > most) kept.delete(kept.keys().next().value as string);
  return findings;
}

import { createHash } from "node:crypto";
import type { Fact } from "@/lib/words/bed-fact";

/** The hash by which a fact sent again is known to be the same fact: of its parts by name, in one fixed order. */
export function bodyHash(fact: Fact): string {
  const parts = Object.entries(fact).sort(([a], [b]) => (a < b ? -1 : 1));
  return createHash("sha256").update(JSON.stringify(parts)).digest("hex");
}

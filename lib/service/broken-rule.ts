import { FactRefused } from "./keep-fact";

/**
 * What was broken, in words, where trying again would break it again: a rule of the garden's file, or of facts that are
 * kept together. Null for any other fault.
 */
export function brokenRule(fault: unknown): string | null {
  for (let at = fault; at instanceof Error; at = at.cause) {
    const isRule = "code" in at && String(at.code).startsWith("SQLITE_CONSTRAINT");
    if (isRule || at instanceof FactRefused) return at.message;
  }
  return null;
}

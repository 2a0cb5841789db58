/** A rule of the garden's file that was broken, in SQLite's words: trying again would break it again. Null for any other fault. */
export function brokenRule(fault: unknown): string | null {
  for (let at = fault; at instanceof Error; at = at.cause) {
    if ("code" in at && String(at.code).startsWith("SQLITE_CONSTRAINT")) return at.message;
  }
  return null;
}

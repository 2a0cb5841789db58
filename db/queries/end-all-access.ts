import type { Instant } from "@/lib/words/instant";
import type { Database } from "../open";

/** Ends every session and uses up every pairing: after a copy was put back, which may hold some that were ended since. */
export function endAllAccess(database: Database, at: Instant): void {
  database.$client.prepare("UPDATE session SET ended_at = ? WHERE ended_at IS NULL").run(at);
  database.$client.prepare("UPDATE pairing SET used_at = ? WHERE used_at IS NULL").run(at);
}

import { and, eq, isNull } from "drizzle-orm";
import type { Instant } from "@/lib/words/instant";
import type { Database } from "../open";
import { session } from "../schema/people";

/** Ends one session, or all of one person. */
export function endSessions(
  database: Database,
  which: { sessionId: string } | { personId: string },
  endedAt: Instant,
): void {
  const chosen =
    "sessionId" in which ? eq(session.id, which.sessionId) : eq(session.personId, which.personId);
  database
    .update(session)
    .set({ endedAt })
    .where(and(chosen, isNull(session.endedAt)))
    .run();
}

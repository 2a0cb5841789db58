import { and, desc, gt, isNull } from "drizzle-orm";
import type { Instant } from "@/lib/words/instant";
import type { Database } from "../open";
import { session } from "../schema/people";
import type { SessionRow } from "./find-session";

/** The sessions that run, the one used last first. */
export function listSessions(database: Database, at: Instant): SessionRow[] {
  return database
    .select()
    .from(session)
    .where(and(isNull(session.endedAt), gt(session.endsAt, at)))
    .orderBy(desc(session.usedAt), desc(session.id))
    .all();
}

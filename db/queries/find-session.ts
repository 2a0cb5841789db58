import { and, eq, gt, isNull } from "drizzle-orm";
import type { Instant } from "@/lib/words/instant";
import type { Database } from "../open";
import { person, session } from "../schema/people";
import type { PersonRow } from "./list-people";

export type SessionRow = typeof session.$inferSelect;

/** The session of a token's hash with its person, where it has not run out or been ended. */
export function findSession(
  database: Database,
  tokenHash: string,
  at: Instant,
): { session: SessionRow; person: PersonRow } | null {
  const running = and(
    eq(session.tokenHash, tokenHash),
    isNull(session.endedAt),
    gt(session.endsAt, at),
    isNull(person.leftAt),
  );
  const row = database
    .select({ session, person })
    .from(session)
    .innerJoin(person, eq(person.id, session.personId))
    .where(running)
    .get();
  return row ?? null;
}

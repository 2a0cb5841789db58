import { and, eq, gt, isNull } from "drizzle-orm";
import type { Instant } from "@/lib/words/instant";
import type { Database } from "../open";
import { pairing, person } from "../schema/people";
import type { PersonRow } from "./list-people";

/** Whom a pairing token's hash pairs a phone for, where it was not used and has not run out. */
export function findPairing(database: Database, tokenHash: string, at: Instant): PersonRow | null {
  const row = database
    .select({ person })
    .from(pairing)
    .innerJoin(person, eq(person.id, pairing.personId))
    .where(
      and(
        eq(pairing.tokenHash, tokenHash),
        isNull(pairing.usedAt),
        gt(pairing.endsAt, at),
        isNull(person.leftAt),
      ),
    )
    .get();
  return row?.person ?? null;
}

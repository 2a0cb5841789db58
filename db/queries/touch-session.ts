import { eq } from "drizzle-orm";
import type { Instant } from "@/lib/words/instant";
import type { Database } from "../open";
import { session } from "../schema/people";

export function touchSession(
  database: Database,
  id: string,
  { usedAt, endsAt }: { usedAt: Instant; endsAt: Instant },
): void {
  database.update(session).set({ usedAt, endsAt }).where(eq(session.id, id)).run();
}

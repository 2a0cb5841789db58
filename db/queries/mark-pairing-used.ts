import { eq } from "drizzle-orm";
import type { Instant } from "@/lib/words/instant";
import type { Database } from "../open";
import { pairing } from "../schema/people";

export function markPairingUsed(database: Database, tokenHash: string, usedAt: Instant): void {
  database.update(pairing).set({ usedAt }).where(eq(pairing.tokenHash, tokenHash)).run();
}

import { and, eq, sql } from "drizzle-orm";
import type { Database } from "../open";
import { cause } from "../schema/observation";

/** Between the listed causes and the two that always stand last. */
const ownPosition = 500;

/**
 * Makes one of the grower's own causes known. One named both for a loss and for a removal is a cause of loss, whichever
 * came first; the listed ones are left as they are.
 */
export function ensureCause(database: Database, code: string, takes: "loss" | "removal"): void {
  database
    .insert(cause)
    .values({ code, words: code.replaceAll("-", " "), takes, position: ownPosition })
    .onConflictDoUpdate({
      target: cause.code,
      set: { takes: "loss" },
      setWhere: and(eq(cause.position, ownPosition), sql`excluded.takes = 'loss'`),
    })
    .run();
}

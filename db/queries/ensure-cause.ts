import { and, eq, sql } from "drizzle-orm";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { cause } from "../schema/observation";
import { placeholders } from "./placeholders";

/** Between the listed causes and the two that always stand last. */
const ownPosition = 500;

const statement = prepareOnce((database) =>
  database
    .insert(cause)
    .values(placeholders(cause))
    .onConflictDoUpdate({
      target: cause.code,
      set: { takes: "loss" },
      setWhere: and(eq(cause.position, ownPosition), sql`excluded.takes = 'loss'`),
    })
    .prepare(),
);

/**
 * Makes one of the grower's own causes known. One named both for a loss and for a removal is a cause of loss, whichever
 * came first; the listed ones are left as they are.
 */
export function ensureCause(database: Database, code: string, takes: "loss" | "removal"): void {
  statement(database).run({ code, words: code.replaceAll("-", " "), takes, position: ownPosition });
}

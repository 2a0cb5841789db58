import type { Database } from "./open";

/**
 * Keeps a query that is asked for every fact prepared for as long as its database is open: making one anew costs more
 * than running it.
 */
export function prepareOnce<Query>(prepare: (database: Database) => Query): (database: Database) => Query {
  const kept = new WeakMap<Database, Query>();
  return (database) => {
    const known = kept.get(database);
    if (known !== undefined) return known;
    const made = prepare(database);
    kept.set(database, made);
    return made;
  };
}

import { integer, primaryKey, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";

/** What a file that is taken in may hold. */
export const importKinds = ["observations", "weather", "varieties", "trial", "unsent", "garden"] as const;
export type ImportKind = (typeof importKinds)[number];

export const importedFile = sqliteTable("imported_file", {
  id: text().primaryKey(),
  gardenId: text("garden_id").notNull(),
  kind: text().$type<ImportKind>().notNull(),
  trialId: text("trial_id"),
  name: text().notNull(),
  contentHash: text("content_hash").notNull(),
  rowCount: integer("row_count").notNull(),
  added: integer().notNull(),
  importedAt: text("imported_at").$type<Instant>().notNull(),
});

export const columnMapping = sqliteTable(
  "column_mapping",
  {
    kind: text().$type<ImportKind>().notNull(),
    signature: text().notNull(),
    mapping: text({ mode: "json" }).$type<unknown>().notNull(),
    usedAt: text("used_at").$type<Instant>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.kind, table.signature] })],
);

export const weatherDay = sqliteTable("weather_day", {
  seq: integer().primaryKey(),
  gardenId: text("garden_id").notNull(),
  day: text().$type<Day>().notNull(),
  place: text().notNull(),
  minDeciC: integer("min_deci_c"),
  maxDeciC: integer("max_deci_c"),
  sourceId: text("source_id").notNull(),
});

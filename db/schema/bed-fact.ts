import { integer, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { BedFactKind, BedFactUnit, Reach } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { PictureType } from "@/lib/words/picture";

export const bedObservation = sqliteTable("bed_observation", {
  seq: integer().primaryKey(),
  id: text().notNull(),
  deviceId: text("device_id").notNull(),
  deviceSeq: integer("device_seq").notNull(),
  walkaboutId: text("walkabout_id"),
  bedId: text("bed_id").notNull(),
  kind: text().$type<BedFactKind>().notNull(),
  what: text(),
  reach: text().$type<Reach>(),
  amount: integer(),
  unit: text().$type<BedFactUnit>(),
  seenOn: text("seen_on").$type<Day>().notNull(),
  recordedAt: text("recorded_at").$type<Instant>().notNull(),
  receivedAt: text("received_at").$type<Instant>().notNull(),
  clockSkewS: integer("clock_skew_s"),
  bodyHash: text("body_hash").notNull(),
  replaces: text(),
  picture: text(),
  by: text().notNull(),
  note: text(),
});

export const picture = sqliteTable("picture", {
  sha256: text().primaryKey(),
  mediaType: text("media_type").$type<PictureType>().notNull(),
  bytes: integer().notNull(),
  receivedAt: text("received_at").$type<Instant>().notNull(),
});

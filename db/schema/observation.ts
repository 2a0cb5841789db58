import { integer, real, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { HarvestPart, ObservationKind, ObservationUnit } from "@/lib/words/observation";

export const cause = sqliteTable("cause", {
  code: text().primaryKey(),
  words: text().notNull(),
  takes: text().$type<"loss" | "removal">().notNull(),
  position: integer().notNull(),
});

export const cohort = sqliteTable("cohort", {
  id: text().primaryKey(),
  plotId: text("plot_id").notNull(),
  setOutOn: text("set_out_on").$type<Day>().notNull(),
  plants: integer().notNull(),
});

export const observation = sqliteTable("observation", {
  seq: integer().primaryKey(),
  id: text().notNull(),
  deviceId: text("device_id").notNull(),
  deviceSeq: integer("device_seq").notNull(),
  walkaboutId: text("walkabout_id"),
  trialId: text("trial_id").notNull(),
  plotId: text("plot_id").notNull(),
  cohortId: text("cohort_id").notNull(),
  kind: text().$type<ObservationKind>().notNull(),
  cause: text(),
  trait: text(),
  part: text().$type<HarvestPart>(),
  amount: real(),
  unit: text().$type<ObservationUnit>(),
  seenOn: text("seen_on").$type<Day>().notNull(),
  recordedAt: text("recorded_at").$type<Instant>().notNull(),
  receivedAt: text("received_at").$type<Instant>().notNull(),
  bodyHash: text("body_hash").notNull(),
  replaces: text(),
  by: text().notNull(),
  note: text(),
  clockSkewS: integer("clock_skew_s"),
  picture: text(),
});

export const stand = sqliteTable("stand", {
  cohortId: text("cohort_id").primaryKey(),
  standing: integer().notNull(),
  lost: integer().notNull(),
  removed: integer().notNull(),
  unsettled: integer().notNull(),
  lastSeenOn: text("last_seen_on").$type<Day>(),
});

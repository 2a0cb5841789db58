import { integer, real, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";

export const garden = sqliteTable("garden", {
  id: text().primaryKey(),
  name: text().notNull(),
  latitude: real().notNull(),
  longitude: real().notNull(),
  altitudeM: integer("altitude_m"),
  timeZone: text("time_zone").notNull(),
  isDemo: integer("is_demo", { mode: "boolean" }).notNull(),
  madeAt: text("made_at").$type<Instant>().notNull(),
});

export const bed = sqliteTable("bed", {
  id: text().primaryKey(),
  gardenId: text("garden_id").notNull(),
  name: text().notNull(),
  widthMm: integer("width_mm").notNull(),
  lengthMm: integer("length_mm").notNull(),
  setting: text().notNull(),
  walkingOrder: integer("walking_order").notNull(),
  /** The size of a pot, where the bed is a row of pots and each pot a plot; null on the ground. */
  potMm: integer("pot_mm"),
});

export const cover = sqliteTable("cover", {
  id: text().primaryKey(),
  name: text().notNull(),
  kind: text().notNull(),
});

export const coverPlacing = sqliteTable("cover_placing", {
  id: text().primaryKey(),
  coverId: text("cover_id").notNull(),
  bedId: text("bed_id").notNull(),
  trialId: text("trial_id"),
  layer: integer().notNull(),
  fromOn: text("from_on").$type<Day>().notNull(),
  untilOn: text("until_on").$type<Day>(),
  purpose: text(),
});

export const crop = sqliteTable("crop", {
  id: text().primaryKey(),
  name: text().notNull(),
  botanicalName: text("botanical_name"),
  family: text(),
});

export const variety = sqliteTable("variety", {
  id: text().primaryKey(),
  cropId: text("crop_id").notNull(),
  name: text().notNull(),
  packetClaim: text("packet_claim"),
});

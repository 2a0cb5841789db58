import { integer, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { Instant } from "@/lib/words/instant";
import type { PersonRole } from "@/lib/words/person";

export const person = sqliteTable("person", {
  id: text().primaryKey(),
  name: text().notNull(),
  role: text().$type<PersonRole>().notNull(),
  passphraseHash: text("passphrase_hash"),
  atHome: integer("at_home", { mode: "boolean" }).notNull(),
  madeAt: text("made_at").$type<Instant>().notNull(),
  leftAt: text("left_at").$type<Instant>(),
});

export const session = sqliteTable("session", {
  id: text().primaryKey(),
  personId: text("person_id").notNull(),
  tokenHash: text("token_hash").notNull(),
  device: text().notNull(),
  beganBy: text("began_by").$type<"pairing" | "passphrase">().notNull(),
  slidesDays: integer("slides_days").notNull(),
  madeAt: text("made_at").$type<Instant>().notNull(),
  usedAt: text("used_at").$type<Instant>().notNull(),
  endsAt: text("ends_at").$type<Instant>().notNull(),
  endedAt: text("ended_at").$type<Instant>(),
});

export const pairing = sqliteTable("pairing", {
  tokenHash: text("token_hash").primaryKey(),
  personId: text("person_id").notNull(),
  madeAt: text("made_at").$type<Instant>().notNull(),
  endsAt: text("ends_at").$type<Instant>().notNull(),
  usedAt: text("used_at").$type<Instant>(),
});

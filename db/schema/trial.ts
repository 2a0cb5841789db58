import { integer, primaryKey, real, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type {
  AssessmentName,
  CompanionHabit,
  Design,
  EntryRole,
  Gradient,
  MainFactor,
  PathSide,
  Rule,
  VerdictChoice,
} from "@/lib/words/trial";

export const trial = sqliteTable("trial", {
  id: text().primaryKey(),
  question: text().notNull(),
  purpose: text().notNull(),
  cropId: text("crop_id").notNull(),
  design: text().$type<Design>().notNull(),
  seed: integer().notNull(),
  blocks: integer().notNull(),
  plantsPerPlot: integer("plants_per_plot").notNull(),
  betweenPlantsMm: integer("between_plants_mm").notNull(),
  betweenRowsMm: integer("between_rows_mm").notNull(),
  sownOn: text("sown_on").$type<Day>().notNull(),
  plantedOn: text("planted_on").$type<Day>().notNull(),
  decidingAssessment: text("deciding_assessment").$type<AssessmentName>().notNull(),
  pickingRule: text("picking_rule").notNull(),
  clearBy: text("clear_by").$type<Day>(),
  fallbackOn: text("fallback_on").$type<Day>(),
  madeAt: text("made_at").$type<Instant>().notNull(),
  closedOn: text("closed_on").$type<Day>(),
  plotsPerBlock: integer("plots_per_block"),
  gradient: text().$type<Gradient>(),
  guardRows: integer("guard_rows"),
  pathSide: text("path_side").$type<PathSide>(),
});

export const trialBed = sqliteTable(
  "trial_bed",
  {
    trialId: text("trial_id").notNull(),
    bedId: text("bed_id").notNull(),
    position: integer().notNull(),
  },
  (table) => [primaryKey({ columns: [table.trialId, table.bedId] })],
);

export const takenUp = sqliteTable(
  "taken_up",
  {
    trialId: text("trial_id").notNull(),
    bedId: text("bed_id").notNull(),
    fromMm: integer("from_mm").notNull(),
    toMm: integer("to_mm").notNull(),
  },
  (table) => [primaryKey({ columns: [table.trialId, table.bedId, table.fromMm] })],
);

export const mainLevel = sqliteTable("main_level", {
  id: text().primaryKey(),
  trialId: text("trial_id").notNull(),
  position: integer().notNull(),
  factor: text().$type<MainFactor>().notNull(),
  coverId: text("cover_id"),
  fromOn: text("from_on").$type<Day>(),
  untilOn: text("until_on").$type<Day>(),
  sownOn: text("sown_on").$type<Day>(),
  companion: text(),
});

export const companion = sqliteTable(
  "companion",
  {
    trialId: text("trial_id").notNull(),
    name: text().notNull(),
    habit: text().$type<CompanionHabit>().notNull(),
    sownOn: text("sown_on").$type<Day>().notNull(),
    betweenPlantsMm: integer("between_plants_mm").notNull(),
  },
  (table) => [primaryKey({ columns: [table.trialId, table.name] })],
);

export const assessment = sqliteTable(
  "assessment",
  {
    trialId: text("trial_id").notNull(),
    name: text().$type<AssessmentName>().notNull(),
    dueOn: text("due_on").$type<Day>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.trialId, table.name] })],
);

export const entry = sqliteTable("entry", {
  id: text().primaryKey(),
  trialId: text("trial_id").notNull(),
  varietyId: text("variety_id").notNull(),
  role: text().$type<EntryRole>().notNull(),
  position: integer().notNull(),
});

export const sowing = sqliteTable("sowing", {
  id: text().primaryKey(),
  varietyId: text("variety_id").notNull(),
  trialId: text("trial_id"),
  entryId: text("entry_id"),
  sownOn: text("sown_on").$type<Day>().notNull(),
});

export const rule = sqliteTable(
  "rule",
  {
    trialId: text("trial_id").notNull(),
    version: integer().notNull(),
    survivalFloor: real("survival_floor"),
    yieldFloor: real("yield_floor"),
    sureness: real().notNull(),
    qualities: text({ mode: "json" }).$type<Rule["qualities"]>().notNull(),
    reason: text(),
    setAt: text("set_at").$type<Instant>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.trialId, table.version] })],
);

export const plot = sqliteTable("plot", {
  id: text().primaryKey(),
  trialId: text("trial_id").notNull(),
  bedId: text("bed_id").notNull(),
  entryId: text("entry_id").notNull(),
  code: text().notNull(),
  block: integer(),
  mainPlot: text("main_plot"),
  row: integer().notNull(),
  column: integer("column_number").notNull(),
  xMm: integer("x_mm").notNull(),
  yMm: integer("y_mm").notNull(),
  widthMm: integer("width_mm").notNull(),
  lengthMm: integer("length_mm").notNull(),
  plants: integer().notNull(),
  plantRows: integer("plant_rows").notNull(),
  mainLevelId: text("main_level_id"),
  replicate: integer(),
});

export const amendmentKinds = ["excluded", "missing", "another variety", "closed"] as const;
export type AmendmentKind = (typeof amendmentKinds)[number];

export const amendment = sqliteTable("amendment", {
  id: text().primaryKey(),
  trialId: text("trial_id").notNull(),
  plotId: text("plot_id"),
  kind: text().$type<AmendmentKind>().notNull(),
  fromOn: text("from_on").$type<Day>().notNull(),
  reason: text().notNull(),
  by: text().notNull(),
  madeAt: text("made_at").$type<Instant>().notNull(),
  plantedVariety: text("planted_variety"),
  plantedEntryId: text("planted_entry_id"),
});

export const germinationTest = sqliteTable("germination_test", {
  id: text().primaryKey(),
  trialId: text("trial_id").notNull(),
  entryId: text("entry_id").notNull(),
  seeds: integer().notNull(),
  cameUp: integer("came_up").notNull(),
  afterDays: integer("after_days").notNull(),
  madeAt: text("made_at").$type<Instant>().notNull(),
});

export const verdict = sqliteTable("verdict", {
  id: text().primaryKey(),
  trialId: text("trial_id").notNull(),
  entryId: text("entry_id").notNull(),
  use: text({ mode: "json" }).$type<unknown>().notNull(),
  proposal: text().$type<VerdictChoice>(),
  figures: text({ mode: "json" }).$type<unknown>().notNull(),
  choice: text().$type<VerdictChoice>().notNull(),
  reason: text().notNull(),
  by: text().notNull(),
  decidedOn: text("decided_on").$type<Day>().notNull(),
  decidedAt: text("decided_at").$type<Instant>().notNull(),
});

-- Lists that will grow are tables with a foreign key to them: a CHECK list could only be widened by rebuilding its table.
CREATE TABLE bed_setting (setting TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO bed_setting VALUES ('open ground'), ('polytunnel'), ('container'), ('indoors');
--> statement-breakpoint
CREATE TABLE design (design TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO design VALUES ('crd'), ('rcbd');
--> statement-breakpoint
CREATE TABLE entry_role (role TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO entry_role VALUES ('check'), ('tender-check'), ('entry');
--> statement-breakpoint
CREATE TABLE assessment_name (name TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO assessment_name VALUES ('took'), ('before hard cold'), ('midwinter'), ('regrowth'), ('end');
--> statement-breakpoint
CREATE TABLE amendment_kind (kind TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO amendment_kind VALUES ('excluded'), ('missing'), ('closed');
--> statement-breakpoint
CREATE TABLE verdict_choice (choice TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO verdict_choice VALUES ('grow again'), ('try once more'), ('drop');
--> statement-breakpoint
CREATE TABLE observation_kind (kind TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO observation_kind VALUES
  ('stand'), ('loss'), ('removed'), ('added'), ('regrew'), ('doubtful'), ('not-seen'), ('score'), ('count'),
  ('harvest'), ('ended'), ('note'), ('withdrawn');
--> statement-breakpoint
CREATE TABLE observation_unit (unit TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO observation_unit VALUES ('plants'), ('g'), ('score'), ('percent'), ('count');
--> statement-breakpoint
CREATE TABLE harvest_part (part TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO harvest_part VALUES
  ('leaf'), ('head'), ('root'), ('bulb'), ('green stem'), ('pod'), ('shelled'), ('tops');
--> statement-breakpoint
-- The grower's own causes take a position between the listed ones and the two that always stand last.
CREATE TABLE cause (
  code TEXT PRIMARY KEY NOT NULL CHECK (length(code) BETWEEN 1 AND 120),
  words TEXT NOT NULL CHECK (length(words) BETWEEN 1 AND 120),
  takes TEXT NOT NULL CHECK (takes IN ('loss', 'removal')),
  position INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO cause (code, words, takes, position) VALUES
  ('slugs', 'slugs', 'loss', 10),
  ('flea-beetle', 'flea beetle', 'loss', 20),
  ('cold', 'cold', 'loss', 30),
  ('birds', 'birds', 'loss', 40),
  ('mammals', 'mammals', 'loss', 50),
  ('root-fly', 'root fly', 'loss', 60),
  ('soil-grubs', 'soil grubs', 'loss', 70),
  ('aphids', 'aphids', 'loss', 80),
  ('rot', 'rot or mildew', 'loss', 90),
  ('drought', 'drought', 'loss', 100),
  ('waterlogging', 'waterlogging', 'loss', 110),
  ('wind', 'wind or cover failure', 'loss', 120),
  ('did-not-take', 'did not take', 'loss', 130),
  ('trodden', 'trodden or hoed', 'loss', 140),
  ('no-sign', 'gone without a sign', 'loss', 900),
  ('unknown', 'unknown', 'loss', 910),
  ('cut', 'cut', 'removal', 10),
  ('thinned', 'thinned', 'removal', 20),
  ('moved', 'moved', 'removal', 30),
  ('not-true', 'not true to name', 'removal', 40),
  ('cleared', 'cleared', 'removal', 50),
  ('accident', 'known accident, nothing to do with the variety', 'removal', 60);
--> statement-breakpoint
CREATE TABLE garden (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  latitude REAL NOT NULL CHECK (latitude BETWEEN -90 AND 90),
  longitude REAL NOT NULL CHECK (longitude BETWEEN -180 AND 180),
  altitude_m INTEGER CHECK (altitude_m BETWEEN -500 AND 6000),
  time_zone TEXT NOT NULL CHECK (length(time_zone) BETWEEN 1 AND 60),
  is_demo INTEGER NOT NULL CHECK (is_demo IN (0, 1)),
  made_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', made_at, '+0 days') IS made_at)
) STRICT;
--> statement-breakpoint
CREATE TABLE bed (
  id TEXT PRIMARY KEY NOT NULL,
  garden_id TEXT NOT NULL REFERENCES garden (id),
  name TEXT NOT NULL COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
  width_mm INTEGER NOT NULL CHECK (width_mm >= 100),
  length_mm INTEGER NOT NULL CHECK (length_mm >= 100),
  setting TEXT NOT NULL REFERENCES bed_setting (setting),
  walking_order INTEGER NOT NULL CHECK (walking_order >= 1),
  UNIQUE (garden_id, name)
) STRICT;
--> statement-breakpoint
CREATE TABLE cover (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
  kind TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 80)
) STRICT;
--> statement-breakpoint
CREATE TABLE crop (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
  botanical_name TEXT CHECK (length(botanical_name) BETWEEN 1 AND 120),
  family TEXT CHECK (length(family) BETWEEN 1 AND 80)
) STRICT;
--> statement-breakpoint
CREATE TABLE variety (
  id TEXT PRIMARY KEY NOT NULL,
  crop_id TEXT NOT NULL REFERENCES crop (id),
  name TEXT NOT NULL COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
  packet_claim TEXT CHECK (length(packet_claim) BETWEEN 1 AND 10000),
  UNIQUE (crop_id, name)
) STRICT;
--> statement-breakpoint
CREATE TABLE trial (
  id TEXT PRIMARY KEY NOT NULL,
  question TEXT NOT NULL CHECK (length(question) BETWEEN 1 AND 300),
  purpose TEXT NOT NULL CHECK (length(purpose) <= 120),
  crop_id TEXT NOT NULL REFERENCES crop (id),
  design TEXT NOT NULL REFERENCES design (design),
  seed INTEGER NOT NULL CHECK (seed BETWEEN 0 AND 4294967295),
  blocks INTEGER NOT NULL CHECK (blocks >= 1),
  plants_per_plot INTEGER NOT NULL CHECK (plants_per_plot >= 1),
  between_plants_mm INTEGER NOT NULL CHECK (between_plants_mm >= 10),
  between_rows_mm INTEGER NOT NULL CHECK (between_rows_mm >= 10),
  sown_on TEXT NOT NULL CHECK (date(sown_on) IS sown_on),
  planted_on TEXT NOT NULL CHECK (date(planted_on) IS planted_on AND planted_on >= sown_on),
  deciding_assessment TEXT NOT NULL REFERENCES assessment_name (name),
  picking_rule TEXT NOT NULL CHECK (length(picking_rule) <= 10000),
  clear_by TEXT CHECK (date(clear_by) IS clear_by AND (clear_by IS NULL OR clear_by >= planted_on)),
  fallback_on TEXT CHECK (date(fallback_on) IS fallback_on),
  made_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', made_at, '+0 days') IS made_at),
  closed_on TEXT CHECK (date(closed_on) IS closed_on),
  FOREIGN KEY (id, deciding_assessment) REFERENCES assessment (trial_id, name) DEFERRABLE INITIALLY DEFERRED
) STRICT;
--> statement-breakpoint
CREATE TABLE trial_bed (
  trial_id TEXT NOT NULL REFERENCES trial (id),
  bed_id TEXT NOT NULL REFERENCES bed (id),
  position INTEGER NOT NULL CHECK (position >= 1),
  PRIMARY KEY (trial_id, bed_id),
  UNIQUE (trial_id, position)
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
CREATE INDEX trial_bed_bed ON trial_bed (bed_id);
--> statement-breakpoint
CREATE TABLE assessment (
  trial_id TEXT NOT NULL REFERENCES trial (id),
  name TEXT NOT NULL REFERENCES assessment_name (name),
  due_on TEXT NOT NULL CHECK (date(due_on) IS due_on),
  PRIMARY KEY (trial_id, name)
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
CREATE TABLE cover_placing (
  id TEXT PRIMARY KEY NOT NULL,
  cover_id TEXT NOT NULL REFERENCES cover (id),
  bed_id TEXT NOT NULL REFERENCES bed (id),
  trial_id TEXT REFERENCES trial (id),
  layer INTEGER NOT NULL CHECK (layer >= 1),
  from_on TEXT NOT NULL CHECK (date(from_on) IS from_on),
  until_on TEXT CHECK (date(until_on) IS until_on AND (until_on IS NULL OR until_on >= from_on)),
  purpose TEXT CHECK (length(purpose) BETWEEN 1 AND 120)
) STRICT;
--> statement-breakpoint
CREATE INDEX cover_placing_trial ON cover_placing (trial_id);
--> statement-breakpoint
CREATE TABLE entry (
  id TEXT PRIMARY KEY NOT NULL,
  trial_id TEXT NOT NULL REFERENCES trial (id),
  variety_id TEXT NOT NULL REFERENCES variety (id),
  role TEXT NOT NULL REFERENCES entry_role (role),
  position INTEGER NOT NULL CHECK (position >= 1),
  UNIQUE (trial_id, id),
  UNIQUE (trial_id, variety_id),
  UNIQUE (trial_id, position)
) STRICT;
--> statement-breakpoint
CREATE INDEX entry_variety ON entry (variety_id);
--> statement-breakpoint
CREATE TABLE sowing (
  id TEXT PRIMARY KEY NOT NULL,
  variety_id TEXT NOT NULL REFERENCES variety (id),
  trial_id TEXT REFERENCES trial (id),
  entry_id TEXT REFERENCES entry (id),
  sown_on TEXT NOT NULL CHECK (date(sown_on) IS sown_on)
) STRICT;
--> statement-breakpoint
CREATE INDEX sowing_variety ON sowing (variety_id);
--> statement-breakpoint
CREATE TABLE rule (
  trial_id TEXT NOT NULL REFERENCES trial (id),
  version INTEGER NOT NULL CHECK (version >= 1),
  survival_floor REAL CHECK (survival_floor BETWEEN 0 AND 1),
  yield_floor REAL CHECK (yield_floor BETWEEN 0 AND 5),
  sureness REAL NOT NULL CHECK (sureness BETWEEN 0.5 AND 0.99),
  qualities TEXT NOT NULL CHECK (json_valid(qualities)),
  reason TEXT CHECK (version = 1 OR (reason IS NOT NULL AND length(trim(reason)) > 0)),
  set_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', set_at, '+0 days') IS set_at),
  PRIMARY KEY (trial_id, version)
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
CREATE TABLE plot (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 80),
  trial_id TEXT NOT NULL REFERENCES trial (id),
  bed_id TEXT NOT NULL REFERENCES bed (id),
  entry_id TEXT NOT NULL REFERENCES entry (id),
  code TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 12),
  block INTEGER CHECK (block >= 1),
  main_plot TEXT,
  "row" INTEGER NOT NULL CHECK ("row" >= 1),
  column_number INTEGER NOT NULL CHECK (column_number >= 1),
  x_mm INTEGER NOT NULL CHECK (x_mm >= 0),
  y_mm INTEGER NOT NULL CHECK (y_mm >= 0),
  width_mm INTEGER NOT NULL CHECK (width_mm >= 1),
  length_mm INTEGER NOT NULL CHECK (length_mm >= 1),
  plants INTEGER NOT NULL CHECK (plants >= 1),
  plant_rows INTEGER NOT NULL CHECK (plant_rows >= 1),
  UNIQUE (trial_id, code),
  UNIQUE (trial_id, id),
  FOREIGN KEY (trial_id, bed_id) REFERENCES trial_bed (trial_id, bed_id),
  FOREIGN KEY (trial_id, entry_id) REFERENCES entry (trial_id, id)
) STRICT;
--> statement-breakpoint
CREATE INDEX plot_trial ON plot (trial_id);
--> statement-breakpoint
CREATE INDEX plot_entry ON plot (entry_id);
--> statement-breakpoint
CREATE TABLE cohort (
  id TEXT PRIMARY KEY NOT NULL,
  plot_id TEXT NOT NULL REFERENCES plot (id),
  set_out_on TEXT NOT NULL CHECK (date(set_out_on) IS set_out_on),
  plants INTEGER NOT NULL CHECK (plants >= 0),
  CHECK (id = plot_id || '/' || set_out_on),
  UNIQUE (plot_id, id)
) STRICT;
--> statement-breakpoint
CREATE INDEX cohort_plot ON cohort (plot_id);
--> statement-breakpoint
CREATE TABLE amendment (
  id TEXT PRIMARY KEY NOT NULL,
  trial_id TEXT NOT NULL REFERENCES trial (id),
  plot_id TEXT REFERENCES plot (id),
  kind TEXT NOT NULL REFERENCES amendment_kind (kind),
  from_on TEXT NOT NULL CHECK (date(from_on) IS from_on),
  reason TEXT NOT NULL CHECK (length(trim(reason)) BETWEEN 1 AND 10000),
  "by" TEXT NOT NULL CHECK (length("by") <= 120),
  made_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', made_at, '+0 days') IS made_at),
  FOREIGN KEY (trial_id, plot_id) REFERENCES plot (trial_id, id)
) STRICT;
--> statement-breakpoint
CREATE INDEX amendment_trial ON amendment (trial_id);
--> statement-breakpoint
-- `replaces` has no foreign key: a correction may reach home before the fact that it corrects.
CREATE TABLE observation (
  seq INTEGER PRIMARY KEY NOT NULL CHECK (seq > 0),
  id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
  device_id TEXT NOT NULL CHECK (length(device_id) = 36),
  device_seq INTEGER NOT NULL CHECK (device_seq >= 0),
  walkabout_id TEXT CHECK (length(walkabout_id) = 36),
  trial_id TEXT NOT NULL REFERENCES trial (id),
  plot_id TEXT NOT NULL REFERENCES plot (id),
  cohort_id TEXT NOT NULL REFERENCES cohort (id),
  kind TEXT NOT NULL REFERENCES observation_kind (kind),
  cause TEXT REFERENCES cause (code),
  trait TEXT CHECK (length(trait) <= 120),
  part TEXT REFERENCES harvest_part (part),
  amount REAL CHECK (amount BETWEEN 0 AND 1000000),
  unit TEXT REFERENCES observation_unit (unit),
  seen_on TEXT NOT NULL CHECK (date(seen_on) IS seen_on),
  recorded_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', recorded_at, '+0 days') IS recorded_at),
  received_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', received_at, '+0 days') IS received_at),
  body_hash TEXT NOT NULL CHECK (length(body_hash) = 64),
  replaces TEXT CHECK (length(replaces) = 36),
  "by" TEXT NOT NULL CHECK (length("by") <= 120),
  note TEXT CHECK (length(note) <= 10000),
  FOREIGN KEY (trial_id, plot_id) REFERENCES plot (trial_id, id),
  FOREIGN KEY (plot_id, cohort_id) REFERENCES cohort (plot_id, id)
) STRICT;
--> statement-breakpoint
CREATE INDEX observation_fold ON observation (plot_id, seen_on, device_id, device_seq);
--> statement-breakpoint
CREATE INDEX observation_day ON observation (seen_on, seq);
--> statement-breakpoint
CREATE INDEX observation_trial_day ON observation (trial_id, seen_on, seq);
--> statement-breakpoint
CREATE INDEX observation_cohort ON observation (cohort_id);
--> statement-breakpoint
CREATE INDEX observation_harvest ON observation (seen_on, plot_id, amount) WHERE kind = 'harvest';
--> statement-breakpoint
CREATE INDEX observation_replaces ON observation (replaces) WHERE replaces IS NOT NULL;
--> statement-breakpoint
-- The only derived table: rewritten with the fact that changes it, recomputed by the check command.
CREATE TABLE stand (
  cohort_id TEXT PRIMARY KEY NOT NULL REFERENCES cohort (id),
  standing INTEGER NOT NULL CHECK (standing >= 0),
  lost INTEGER NOT NULL CHECK (lost >= 0),
  removed INTEGER NOT NULL CHECK (removed >= 0),
  unsettled INTEGER NOT NULL CHECK (unsettled >= 0),
  last_seen_on TEXT CHECK (date(last_seen_on) IS last_seen_on)
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
CREATE TABLE verdict (
  id TEXT PRIMARY KEY NOT NULL,
  trial_id TEXT NOT NULL REFERENCES trial (id),
  entry_id TEXT NOT NULL REFERENCES entry (id),
  "use" TEXT NOT NULL CHECK (json_valid("use")),
  proposal TEXT REFERENCES verdict_choice (choice),
  figures TEXT NOT NULL CHECK (json_valid(figures)),
  choice TEXT NOT NULL REFERENCES verdict_choice (choice),
  reason TEXT NOT NULL CHECK (length(trim(reason)) BETWEEN 1 AND 10000),
  "by" TEXT NOT NULL CHECK (length("by") <= 120),
  decided_on TEXT NOT NULL CHECK (date(decided_on) IS decided_on),
  decided_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', decided_at, '+0 days') IS decided_at),
  FOREIGN KEY (trial_id, entry_id) REFERENCES entry (trial_id, id)
) STRICT;
--> statement-breakpoint
CREATE INDEX verdict_trial ON verdict (trial_id);
--> statement-breakpoint
-- What is written stays written. INSERT OR REPLACE passes update and delete triggers unless recursive triggers are on,
-- so each table also refuses a second row under the same key.
CREATE TRIGGER observation_no_update BEFORE UPDATE ON observation BEGIN
  SELECT RAISE(ABORT, 'observation is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER observation_no_delete BEFORE DELETE ON observation BEGIN
  SELECT RAISE(ABORT, 'observation is append only: it cannot be deleted');
END;
--> statement-breakpoint
CREATE TRIGGER observation_no_replace BEFORE INSERT ON observation
WHEN EXISTS (SELECT 1 FROM observation WHERE id = NEW.id OR seq = NEW.seq) BEGIN
  SELECT RAISE(ABORT, 'observation is append only: it cannot be replaced');
END;
--> statement-breakpoint
CREATE TRIGGER rule_no_update BEFORE UPDATE ON rule BEGIN
  SELECT RAISE(ABORT, 'rule is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER rule_no_delete BEFORE DELETE ON rule BEGIN
  SELECT RAISE(ABORT, 'rule is append only: it cannot be deleted');
END;
--> statement-breakpoint
CREATE TRIGGER rule_no_replace BEFORE INSERT ON rule
WHEN EXISTS (SELECT 1 FROM rule WHERE trial_id = NEW.trial_id AND version = NEW.version) BEGIN
  SELECT RAISE(ABORT, 'rule is append only: it cannot be replaced');
END;
--> statement-breakpoint
CREATE TRIGGER amendment_no_update BEFORE UPDATE ON amendment BEGIN
  SELECT RAISE(ABORT, 'amendment is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER amendment_no_delete BEFORE DELETE ON amendment BEGIN
  SELECT RAISE(ABORT, 'amendment is append only: it cannot be deleted');
END;
--> statement-breakpoint
CREATE TRIGGER amendment_no_replace BEFORE INSERT ON amendment
WHEN EXISTS (SELECT 1 FROM amendment WHERE id = NEW.id) BEGIN
  SELECT RAISE(ABORT, 'amendment is append only: it cannot be replaced');
END;
--> statement-breakpoint
CREATE TRIGGER verdict_no_update BEFORE UPDATE ON verdict BEGIN
  SELECT RAISE(ABORT, 'verdict is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER verdict_no_delete BEFORE DELETE ON verdict BEGIN
  SELECT RAISE(ABORT, 'verdict is append only: it cannot be deleted');
END;
--> statement-breakpoint
CREATE TRIGGER verdict_no_replace BEFORE INSERT ON verdict
WHEN EXISTS (SELECT 1 FROM verdict WHERE id = NEW.id) BEGIN
  SELECT RAISE(ABORT, 'verdict is append only: it cannot be replaced');
END;
--> statement-breakpoint
-- What a kind of fact must carry: a trigger, since a CHECK cannot be widened when kinds are added.
CREATE TRIGGER observation_well_formed BEFORE INSERT ON observation BEGIN
  SELECT RAISE(ABORT, 'a fact about plants needs a whole number of plants')
    WHERE NEW.kind IN ('stand', 'loss', 'removed', 'added', 'regrew', 'doubtful')
    AND (NEW.amount IS NULL OR NEW.amount <> CAST(NEW.amount AS INTEGER) OR NEW.unit IS NOT 'plants');
  SELECT RAISE(ABORT, 'a loss or removal needs its cause')
    WHERE NEW.kind IN ('loss', 'removed') AND NEW.cause IS NULL;
  SELECT RAISE(ABORT, 'a score or count needs its trait and its figure')
    WHERE NEW.kind IN ('score', 'count') AND (NEW.trait IS NULL OR NEW.amount IS NULL);
  SELECT RAISE(ABORT, 'a score runs from 0 to 9, or is 0 to 100 percent')
    WHERE NEW.kind = 'score' AND NOT (
      (NEW.unit IS 'score' AND NEW.amount <= 9) OR (NEW.unit IS 'percent' AND NEW.amount <= 100));
  SELECT RAISE(ABORT, 'a count is a whole number')
    WHERE NEW.kind = 'count' AND (NEW.unit IS NOT 'count' OR NEW.amount <> CAST(NEW.amount AS INTEGER));
  SELECT RAISE(ABORT, 'a harvest is in whole grams or a count')
    WHERE NEW.kind = 'harvest' AND (NEW.unit IS NULL OR NEW.unit NOT IN ('g', 'count')
      OR (NEW.amount IS NOT NULL AND NEW.amount <> CAST(NEW.amount AS INTEGER)));
  SELECT RAISE(ABORT, 'a withdrawal names what it withdraws and says why')
    WHERE NEW.kind = 'withdrawn' AND (NEW.replaces IS NULL OR coalesce(NEW.note, '') = '');
END;
--> statement-breakpoint
-- The layout is a promise: fixed from the first observation on.
CREATE TRIGGER plot_promised_insert BEFORE INSERT ON plot
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = NEW.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER plot_promised_update BEFORE UPDATE ON plot
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER plot_promised_delete BEFORE DELETE ON plot
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER entry_promised_insert BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = NEW.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER entry_promised_update BEFORE UPDATE ON entry
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER entry_promised_delete BEFORE DELETE ON entry
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER trial_bed_promised_insert BEFORE INSERT ON trial_bed
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = NEW.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER trial_bed_promised_update BEFORE UPDATE ON trial_bed
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER trial_bed_promised_delete BEFORE DELETE ON trial_bed
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER trial_promised_update
BEFORE UPDATE OF id, crop_id, design, seed, blocks, plants_per_plot, between_plants_mm, between_rows_mm, sown_on,
  planted_on, deciding_assessment ON trial
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER cohort_fixed BEFORE UPDATE ON cohort
WHEN EXISTS (SELECT 1 FROM observation WHERE cohort_id = OLD.id) BEGIN
  SELECT RAISE(ABORT, 'what was set out is fixed: the cohort has observations');
END;

-- What the planner keeps besides: where the path runs, pots in a row, a plot planted with another variety, and how many
-- seeds of a packet came up. And the layout's promise for what the second version added.
ALTER TABLE trial ADD COLUMN path_side TEXT CHECK (path_side IN ('left', 'right', 'between'));
--> statement-breakpoint
-- The size of a pot, where a bed is a row of pots and each pot a plot.
ALTER TABLE bed ADD COLUMN pot_mm INTEGER CHECK (pot_mm >= 50);
--> statement-breakpoint
INSERT INTO amendment_kind VALUES ('another variety');
--> statement-breakpoint
-- What was planted in a plot instead of what was dealt to it: by its name, and by its entry where it is in the trial.
ALTER TABLE amendment ADD COLUMN planted_variety TEXT CHECK (length(trim(planted_variety)) BETWEEN 1 AND 80);
--> statement-breakpoint
ALTER TABLE amendment ADD COLUMN planted_entry_id TEXT REFERENCES entry (id);
--> statement-breakpoint
CREATE TRIGGER amendment_well_formed BEFORE INSERT ON amendment
WHEN (NEW.kind = 'another variety') <> (NEW.planted_variety IS NOT NULL)
  OR (NEW.planted_variety IS NOT NULL AND NEW.plot_id IS NULL)
  OR (NEW.planted_entry_id IS NOT NULL AND (NEW.planted_variety IS NULL
    OR NOT EXISTS (SELECT 1 FROM entry WHERE id = NEW.planted_entry_id AND trial_id = NEW.trial_id))) BEGIN
  SELECT RAISE(ABORT, 'a plot with another variety in it needs that variety''s name, and only such a plot has one');
END;
--> statement-breakpoint
-- Seeds of an entry's packet laid out to germinate, and how many came up; the last written down is in force.
CREATE TABLE germination_test (
  id TEXT PRIMARY KEY NOT NULL,
  trial_id TEXT NOT NULL REFERENCES trial (id),
  entry_id TEXT NOT NULL REFERENCES entry (id),
  seeds INTEGER NOT NULL CHECK (seeds BETWEEN 1 AND 10000),
  came_up INTEGER NOT NULL CHECK (came_up BETWEEN 0 AND seeds),
  after_days INTEGER NOT NULL CHECK (after_days BETWEEN 1 AND 365),
  made_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', made_at, '+0 days') IS made_at),
  FOREIGN KEY (trial_id, entry_id) REFERENCES entry (trial_id, id)
) STRICT;
--> statement-breakpoint
CREATE INDEX germination_test_trial ON germination_test (trial_id);
--> statement-breakpoint
CREATE TRIGGER germination_test_no_update BEFORE UPDATE ON germination_test BEGIN
  SELECT RAISE(ABORT, 'germination_test is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER germination_test_no_delete BEFORE DELETE ON germination_test BEGIN
  SELECT RAISE(ABORT, 'germination_test is append only: it cannot be deleted');
END;
--> statement-breakpoint
CREATE TRIGGER germination_test_no_replace BEFORE INSERT ON germination_test
WHEN EXISTS (SELECT 1 FROM germination_test WHERE id = NEW.id) BEGIN
  SELECT RAISE(ABORT, 'germination_test is append only: it cannot be replaced');
END;
--> statement-breakpoint
CREATE TRIGGER main_level_promised_insert BEFORE INSERT ON main_level
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = NEW.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER main_level_promised_update BEFORE UPDATE ON main_level
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER main_level_promised_delete BEFORE DELETE ON main_level
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER taken_up_promised_insert BEFORE INSERT ON taken_up
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = NEW.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER taken_up_promised_update BEFORE UPDATE ON taken_up
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER taken_up_promised_delete BEFORE DELETE ON taken_up
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER companion_promised_insert BEFORE INSERT ON companion
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = NEW.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER companion_promised_update BEFORE UPDATE ON companion
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER companion_promised_delete BEFORE DELETE ON companion
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.trial_id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;
--> statement-breakpoint
CREATE TRIGGER trial_promised_update_further
BEFORE UPDATE OF plots_per_block, gradient, guard_rows, path_side ON trial
WHEN EXISTS (SELECT 1 FROM observation WHERE trial_id = OLD.id) BEGIN
  SELECT RAISE(ABORT, 'the layout is fixed: the trial has observations');
END;

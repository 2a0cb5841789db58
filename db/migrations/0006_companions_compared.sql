-- A crop between the plants as what main plots are dealt: with it in some whole stretches of every block, and without in
-- the others.
INSERT INTO main_factor VALUES ('companion');
--> statement-breakpoint
-- The companion that stands in a level's plots, by its name in `companion`; none is the crop alone.
ALTER TABLE main_level ADD COLUMN companion TEXT COLLATE NOCASE;
--> statement-breakpoint
CREATE TRIGGER main_level_companion_insert BEFORE INSERT ON main_level
WHEN NEW.companion IS NOT NULL AND (NEW.factor <> 'companion'
  OR NOT EXISTS (SELECT 1 FROM companion WHERE trial_id = NEW.trial_id AND name = NEW.companion)) BEGIN
  SELECT RAISE(ABORT, 'main plots can only be dealt a companion of their trial');
END;
--> statement-breakpoint
CREATE TRIGGER main_level_companion_update BEFORE UPDATE ON main_level
WHEN NEW.companion IS NOT NULL AND (NEW.factor <> 'companion'
  OR NOT EXISTS (SELECT 1 FROM companion WHERE trial_id = NEW.trial_id AND name = NEW.companion)) BEGIN
  SELECT RAISE(ABORT, 'main plots can only be dealt a companion of their trial');
END;
--> statement-breakpoint
CREATE TRIGGER companion_dealt_delete BEFORE DELETE ON companion
WHEN EXISTS (SELECT 1 FROM main_level WHERE trial_id = OLD.trial_id AND companion = OLD.name) BEGIN
  SELECT RAISE(ABORT, 'main plots were dealt this companion');
END;
--> statement-breakpoint
CREATE TRIGGER companion_dealt_update BEFORE UPDATE OF trial_id, name ON companion
WHEN EXISTS (SELECT 1 FROM main_level WHERE trial_id = OLD.trial_id AND companion = OLD.name) BEGIN
  SELECT RAISE(ABORT, 'main plots were dealt this companion');
END;

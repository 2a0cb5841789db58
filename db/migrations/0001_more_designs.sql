-- Latin squares, split plots, look-see beds and small blocks; what main plots are dealt; guards, what is in the way,
-- companions. Only added to: a file of the version before keeps every row.
INSERT INTO design VALUES ('latin'), ('split-plot'), ('augmented'), ('incomplete-blocks');
--> statement-breakpoint
CREATE TABLE main_factor (factor TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO main_factor VALUES ('cover'), ('sowing');
--> statement-breakpoint
-- A level of what whole main plots are dealt: a cover (none is open ground), or a sowing date.
CREATE TABLE main_level (
  id TEXT PRIMARY KEY NOT NULL,
  trial_id TEXT NOT NULL REFERENCES trial (id),
  position INTEGER NOT NULL CHECK (position >= 1),
  factor TEXT NOT NULL REFERENCES main_factor (factor),
  cover_id TEXT REFERENCES cover (id),
  from_on TEXT CHECK (date(from_on) IS from_on),
  until_on TEXT CHECK (date(until_on) IS until_on AND (until_on IS NULL OR until_on >= from_on)),
  sown_on TEXT CHECK (date(sown_on) IS sown_on),
  CHECK ((factor = 'sowing') = (sown_on IS NOT NULL)),
  CHECK (factor = 'cover' OR cover_id IS NULL),
  UNIQUE (trial_id, id),
  UNIQUE (trial_id, position)
) STRICT;
--> statement-breakpoint
ALTER TABLE plot ADD COLUMN main_level_id TEXT REFERENCES main_level (id);
--> statement-breakpoint
ALTER TABLE plot ADD COLUMN replicate INTEGER CHECK (replicate >= 1);
--> statement-breakpoint
ALTER TABLE trial ADD COLUMN plots_per_block INTEGER CHECK (plots_per_block >= 2);
--> statement-breakpoint
ALTER TABLE trial ADD COLUMN gradient TEXT CHECK (length(gradient) BETWEEN 1 AND 40);
--> statement-breakpoint
ALTER TABLE trial ADD COLUMN guard_rows INTEGER CHECK (guard_rows >= 0);
--> statement-breakpoint
-- Something fixed that takes up a bed from side to side: a post, a tap, a bush. Measured from the path end.
CREATE TABLE taken_up (
  trial_id TEXT NOT NULL,
  bed_id TEXT NOT NULL,
  from_mm INTEGER NOT NULL CHECK (from_mm >= 0),
  to_mm INTEGER NOT NULL CHECK (to_mm > from_mm),
  PRIMARY KEY (trial_id, bed_id, from_mm),
  FOREIGN KEY (trial_id, bed_id) REFERENCES trial_bed (trial_id, bed_id)
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
-- A crop that stands between the plants of every plot.
CREATE TABLE companion (
  trial_id TEXT NOT NULL REFERENCES trial (id),
  name TEXT NOT NULL COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
  habit TEXT NOT NULL CHECK (length(habit) BETWEEN 1 AND 40),
  sown_on TEXT NOT NULL CHECK (date(sown_on) IS sown_on),
  between_plants_mm INTEGER NOT NULL CHECK (between_plants_mm >= 10),
  PRIMARY KEY (trial_id, name)
) STRICT, WITHOUT ROWID;

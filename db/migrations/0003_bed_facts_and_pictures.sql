-- Facts of a bed and pictures. A bed is walked whether a trial stands in it or not; what is said of it moves no ledger.
CREATE TABLE bed_fact_kind (kind TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO bed_fact_kind VALUES
  ('looked'), ('not-seen'), ('cover'), ('lowest'), ('treatment'), ('condition'), ('pest'), ('ready'), ('harvest'),
  ('note'), ('withdrawn');
--> statement-breakpoint
CREATE TABLE bed_fact_unit (unit TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO bed_fact_unit VALUES ('g'), ('tenths-c');
--> statement-breakpoint
-- `replaces` and `picture` have no foreign key: what they name may reach home later.
CREATE TABLE bed_observation (
  seq INTEGER PRIMARY KEY NOT NULL CHECK (seq > 0),
  id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
  device_id TEXT NOT NULL CHECK (length(device_id) = 36),
  device_seq INTEGER NOT NULL CHECK (device_seq >= 0),
  walkabout_id TEXT CHECK (length(walkabout_id) = 36),
  bed_id TEXT NOT NULL REFERENCES bed (id),
  kind TEXT NOT NULL REFERENCES bed_fact_kind (kind),
  what TEXT CHECK (length(what) BETWEEN 1 AND 120),
  reach TEXT CHECK (reach IN ('whole', 'part')),
  amount INTEGER CHECK (amount BETWEEN -1000 AND 1000000),
  unit TEXT REFERENCES bed_fact_unit (unit),
  seen_on TEXT NOT NULL CHECK (date(seen_on) IS seen_on),
  recorded_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', recorded_at, '+0 days') IS recorded_at),
  received_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', received_at, '+0 days') IS received_at),
  clock_skew_s INTEGER,
  body_hash TEXT NOT NULL CHECK (length(body_hash) = 64),
  replaces TEXT CHECK (length(replaces) = 36),
  picture TEXT CHECK (length(picture) = 64),
  "by" TEXT NOT NULL CHECK (length("by") <= 120),
  note TEXT CHECK (length(note) <= 10000)
) STRICT;
--> statement-breakpoint
CREATE INDEX bed_observation_fold ON bed_observation (bed_id, seen_on, device_id, device_seq);
--> statement-breakpoint
CREATE INDEX bed_observation_day ON bed_observation (seen_on, seq);
--> statement-breakpoint
CREATE INDEX bed_observation_replaces ON bed_observation (replaces) WHERE replaces IS NOT NULL;
--> statement-breakpoint
CREATE TRIGGER bed_observation_no_update BEFORE UPDATE ON bed_observation BEGIN
  SELECT RAISE(ABORT, 'bed_observation is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER bed_observation_no_delete BEFORE DELETE ON bed_observation BEGIN
  SELECT RAISE(ABORT, 'bed_observation is append only: it cannot be deleted');
END;
--> statement-breakpoint
CREATE TRIGGER bed_observation_no_replace BEFORE INSERT ON bed_observation
WHEN EXISTS (SELECT 1 FROM bed_observation WHERE id = NEW.id OR seq = NEW.seq) BEGIN
  SELECT RAISE(ABORT, 'bed_observation is append only: it cannot be replaced');
END;
--> statement-breakpoint
-- One id names one fact, of whichever sort.
CREATE TRIGGER bed_observation_own_id BEFORE INSERT ON bed_observation
WHEN EXISTS (SELECT 1 FROM observation WHERE id = NEW.id) BEGIN
  SELECT RAISE(ABORT, 'the id names a fact of a plot');
END;
--> statement-breakpoint
CREATE TRIGGER observation_own_id BEFORE INSERT ON observation
WHEN EXISTS (SELECT 1 FROM bed_observation WHERE id = NEW.id) BEGIN
  SELECT RAISE(ABORT, 'the id names a fact of a bed');
END;
--> statement-breakpoint
CREATE TRIGGER bed_observation_well_formed BEFORE INSERT ON bed_observation BEGIN
  SELECT RAISE(ABORT, 'a cover, a treatment, a pest, a crop that is ready or a harvest needs its name')
    WHERE NEW.kind IN ('cover', 'treatment', 'pest', 'ready', 'harvest') AND NEW.what IS NULL;
  SELECT RAISE(ABORT, 'a cover is shut, open or off')
    WHERE NEW.kind = 'cover' AND NEW.what NOT IN ('shut', 'open', 'off');
  SELECT RAISE(ABORT, 'a lowest temperature needs tenths of a degree')
    WHERE NEW.kind = 'lowest' AND (NEW.amount IS NULL OR NEW.unit IS NOT 'tenths-c');
  SELECT RAISE(ABORT, 'a harvest is in whole grams')
    WHERE NEW.kind = 'harvest' AND (NEW.unit IS NOT 'g' OR NEW.amount < 0);
  SELECT RAISE(ABORT, 'a condition or note needs its words')
    WHERE NEW.kind IN ('condition', 'note') AND coalesce(NEW.note, '') = '';
  SELECT RAISE(ABORT, 'a withdrawal names what it withdraws and says why')
    WHERE NEW.kind = 'withdrawn' AND (NEW.replaces IS NULL OR coalesce(NEW.note, '') = '');
END;
--> statement-breakpoint
-- By how many seconds the clock of the device was ahead of home's when it made the fact; null where nobody knows.
ALTER TABLE observation ADD COLUMN clock_skew_s INTEGER;
--> statement-breakpoint
ALTER TABLE observation ADD COLUMN picture TEXT CHECK (length(picture) = 64);
--> statement-breakpoint
-- A picture is a file beside this one, under its own hash; this row says that it is there.
CREATE TABLE picture (
  sha256 TEXT PRIMARY KEY NOT NULL CHECK (length(sha256) = 64),
  media_type TEXT NOT NULL CHECK (media_type IN ('image/jpeg', 'image/png', 'image/webp')),
  bytes INTEGER NOT NULL CHECK (bytes BETWEEN 1 AND 3145728),
  received_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', received_at, '+0 days') IS received_at)
) STRICT;
--> statement-breakpoint
CREATE TRIGGER picture_no_update BEFORE UPDATE ON picture BEGIN
  SELECT RAISE(ABORT, 'picture is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER picture_no_delete BEFORE DELETE ON picture BEGIN
  SELECT RAISE(ABORT, 'picture is append only: it cannot be deleted');
END;
--> statement-breakpoint
CREATE TRIGGER picture_no_replace BEFORE INSERT ON picture
WHEN EXISTS (SELECT 1 FROM picture WHERE sha256 = NEW.sha256) BEGIN
  SELECT RAISE(ABORT, 'picture is append only: it cannot be replaced');
END;

-- Weather by day, remembered column mappings, what was imported.
CREATE TABLE import_kind (kind TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO import_kind VALUES ('observations'), ('weather'), ('varieties'), ('trial'), ('unsent'), ('garden');
--> statement-breakpoint
CREATE TABLE imported_file (
  id TEXT PRIMARY KEY NOT NULL,
  garden_id TEXT NOT NULL REFERENCES garden (id),
  kind TEXT NOT NULL REFERENCES import_kind (kind),
  trial_id TEXT REFERENCES trial (id),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
  content_hash TEXT NOT NULL CHECK (length(content_hash) = 64),
  row_count INTEGER NOT NULL CHECK (row_count >= 0),
  added INTEGER NOT NULL CHECK (added BETWEEN 0 AND row_count),
  imported_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', imported_at, '+0 days') IS imported_at)
) STRICT;
--> statement-breakpoint
-- What was once said of a file's columns, by the names in its first row: offered again when such a file comes back.
CREATE TABLE column_mapping (
  kind TEXT NOT NULL REFERENCES import_kind (kind),
  signature TEXT NOT NULL CHECK (length(signature) = 64),
  mapping TEXT NOT NULL CHECK (json_valid(mapping)),
  used_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', used_at, '+0 days') IS used_at),
  PRIMARY KEY (kind, signature)
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
-- Append only, as everything recorded: a day that is read again with other figures is another row, and the last holds.
CREATE TABLE weather_day (
  seq INTEGER PRIMARY KEY NOT NULL CHECK (seq > 0),
  garden_id TEXT NOT NULL REFERENCES garden (id),
  day TEXT NOT NULL CHECK (date(day) IS day),
  place TEXT NOT NULL CHECK (length(place) BETWEEN 1 AND 80),
  min_deci_c INTEGER CHECK (min_deci_c BETWEEN -900 AND 900),
  max_deci_c INTEGER CHECK (max_deci_c BETWEEN -900 AND 900),
  source_id TEXT NOT NULL REFERENCES imported_file (id),
  CHECK (min_deci_c IS NOT NULL OR max_deci_c IS NOT NULL),
  CHECK (max_deci_c >= min_deci_c),
  UNIQUE (garden_id, day, place, source_id)
) STRICT;
--> statement-breakpoint
CREATE INDEX weather_day_by_day ON weather_day (day, place, seq);
--> statement-breakpoint
CREATE TRIGGER weather_day_no_update BEFORE UPDATE ON weather_day BEGIN
  SELECT RAISE(ABORT, 'weather_day is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER weather_day_no_delete BEFORE DELETE ON weather_day BEGIN
  SELECT RAISE(ABORT, 'weather_day is append only: it cannot be deleted');
END;
--> statement-breakpoint
CREATE TRIGGER imported_file_no_update BEFORE UPDATE ON imported_file BEGIN
  SELECT RAISE(ABORT, 'imported_file is append only: it cannot be changed');
END;
--> statement-breakpoint
CREATE TRIGGER imported_file_no_delete BEFORE DELETE ON imported_file BEGIN
  SELECT RAISE(ABORT, 'imported_file is append only: it cannot be deleted');
END;

-- People with a name each, their paired phones and their sessions. Facts name who by text and do not hang on these.
CREATE TABLE person_role (role TEXT PRIMARY KEY NOT NULL) STRICT, WITHOUT ROWID;
--> statement-breakpoint
INSERT INTO person_role VALUES ('gardener'), ('weigh only');
--> statement-breakpoint
CREATE TABLE person (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  role TEXT NOT NULL REFERENCES person_role (role),
  -- A salted hash with what it was made with; never the passphrase.
  passphrase_hash TEXT CHECK (passphrase_hash LIKE 'scrypt:%'),
  -- Whose name is filled in on the computer at home, where nobody signs in.
  at_home INTEGER NOT NULL CHECK (at_home IN (0, 1)),
  made_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', made_at, '+0 days') IS made_at),
  left_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', left_at, '+0 days') IS left_at),
  CHECK (at_home = 0 OR left_at IS NULL)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX person_name ON person (name COLLATE NOCASE) WHERE left_at IS NULL;
--> statement-breakpoint
CREATE UNIQUE INDEX person_at_home ON person (at_home) WHERE at_home = 1;
--> statement-breakpoint
-- A session's token is on the phone alone; here is only its hash.
CREATE TABLE session (
  id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
  person_id TEXT NOT NULL REFERENCES person (id),
  token_hash TEXT NOT NULL UNIQUE CHECK (length(token_hash) = 64),
  device TEXT NOT NULL CHECK (length(device) BETWEEN 1 AND 120),
  began_by TEXT NOT NULL CHECK (began_by IN ('pairing', 'passphrase')),
  slides_days INTEGER NOT NULL CHECK (slides_days BETWEEN 1 AND 400),
  made_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', made_at, '+0 days') IS made_at),
  used_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', used_at, '+0 days') IS used_at),
  ends_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', ends_at, '+0 days') IS ends_at),
  ended_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', ended_at, '+0 days') IS ended_at)
) STRICT;
--> statement-breakpoint
CREATE INDEX session_person ON session (person_id);
--> statement-breakpoint
CREATE TRIGGER session_stays_ended BEFORE UPDATE ON session WHEN OLD.ended_at IS NOT NULL BEGIN
  SELECT RAISE(ABORT, 'a session that was ended stays ended');
END;
--> statement-breakpoint
CREATE TABLE pairing (
  token_hash TEXT PRIMARY KEY NOT NULL CHECK (length(token_hash) = 64),
  person_id TEXT NOT NULL REFERENCES person (id),
  made_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', made_at, '+0 days') IS made_at),
  ends_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', ends_at, '+0 days') IS ends_at),
  used_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%fZ', used_at, '+0 days') IS used_at)
) STRICT, WITHOUT ROWID;
--> statement-breakpoint
CREATE TRIGGER pairing_once BEFORE UPDATE ON pairing WHEN OLD.used_at IS NOT NULL BEGIN
  SELECT RAISE(ABORT, 'a pairing is used once');
END;

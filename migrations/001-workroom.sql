-- The workroom, its people, and the requests that have been carried out.

CREATE TABLE workroom (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  length_system TEXT NOT NULL CHECK (length_system IN ('metric', 'imperial')),
  currency TEXT NOT NULL CHECK (currency GLOB '[A-Z][A-Z][A-Z]'),
  useful_remnant_ticks INTEGER NOT NULL CHECK (useful_remnant_ticks BETWEEN 0 AND 160000000),
  invented INTEGER NOT NULL CHECK (invented IN (0, 1))
) STRICT;

INSERT INTO workroom (id, name, length_system, currency, useful_remnant_ticks, invented)
VALUES (1, 'Workroom', 'metric', 'EUR', 80000, 0);

CREATE TRIGGER workroom_never_goes BEFORE DELETE ON workroom
BEGIN SELECT RAISE(ABORT, 'the workroom is never removed'); END;
CREATE TRIGGER workroom_never_replaced BEFORE INSERT ON workroom
BEGIN SELECT RAISE(ABORT, 'there is one workroom'); END;

CREATE TABLE person (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 60),
  length_system TEXT CHECK (length_system IN ('metric', 'imperial')),
  left_at TEXT CHECK (left_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z')
) STRICT;

INSERT INTO person (name) VALUES ('Maker');

-- One row for every form that was carried out. The key is minted when the form is drawn; a repeat of the key
-- with the same content gets the stored answer, with other content it is refused.
CREATE TABLE request (
  key TEXT PRIMARY KEY CHECK (length(key) BETWEEN 8 AND 80),
  asked_hash TEXT NOT NULL CHECK (length(asked_hash) = 64),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  answer TEXT NOT NULL CHECK (json_valid(answer))
) STRICT, WITHOUT ROWID;

CREATE TRIGGER request_never_changes BEFORE UPDATE ON request
BEGIN SELECT RAISE(ABORT, 'a request that was carried out is never changed'); END;
CREATE TRIGGER request_never_goes BEFORE DELETE ON request
BEGIN SELECT RAISE(ABORT, 'a request that was carried out is never removed'); END;
CREATE TRIGGER request_key_once BEFORE INSERT ON request
WHEN EXISTS (SELECT 1 FROM request WHERE key = NEW.key)
BEGIN SELECT RAISE(ABORT, 'this request was carried out already'); END;

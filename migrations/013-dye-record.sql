-- What was done at the pot, in the order in which it was told: never changed, never gone. A slip is taken back by
-- a row of its own. bath counts from 1; 0 is the whole batch. figure is tenths of a degree for a temperature,
-- hundredths for a pH, milligrams for what was weighed or is added, millilitres for water. what names the step, the
-- line of the bath, the side of a swatch or the verdict.
CREATE TABLE batch_log (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  batch_id INTEGER NOT NULL REFERENCES batch (id),
  bath INTEGER NOT NULL CHECK (bath BETWEEN 0 AND 100),
  kind TEXT NOT NULL CHECK (kind IN ('step', 'temperature', 'pH', 'weighed', 'water', 'addition', 'swatch', 'result',
    'note', 'undone')),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  request_key TEXT NOT NULL REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  figure INTEGER CHECK (figure BETWEEN 0 AND 10000000000),
  what TEXT NOT NULL DEFAULT '' CHECK (length(what) <= 120),
  dye_lot TEXT NOT NULL DEFAULT '' CHECK (length(dye_lot) <= 120),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  lab_l REAL CHECK (lab_l BETWEEN 0 AND 100),
  lab_a REAL CHECK (lab_a BETWEEN -200 AND 200),
  lab_b REAL CHECK (lab_b BETWEEN -200 AND 200),
  lab_how TEXT CHECK (lab_how IN ('instrument', 'photo', 'screen', 'typed')),
  undoes_id INTEGER UNIQUE REFERENCES batch_log (id),
  CHECK (figure IS NOT NULL OR kind NOT IN ('temperature', 'pH', 'weighed', 'water', 'addition')),
  CHECK (kind <> 'swatch' OR what IN ('before', 'after')),
  CHECK (kind <> 'result' OR what IN ('accepted', 'shaded again', 'rejected')),
  CHECK ((lab_l IS NULL) = (lab_a IS NULL) AND (lab_a IS NULL) = (lab_b IS NULL)
    AND (lab_b IS NULL) = (lab_how IS NULL)),
  CHECK ((kind = 'undone') = (undoes_id IS NOT NULL))
) STRICT;
CREATE INDEX batch_log_by_batch ON batch_log (batch_id, bath, id);

CREATE TRIGGER batch_log_never_changes BEFORE UPDATE ON batch_log
BEGIN SELECT RAISE(ABORT, 'what was logged is never changed'); END;
CREATE TRIGGER batch_log_never_goes BEFORE DELETE ON batch_log
BEGIN SELECT RAISE(ABORT, 'what was logged is never removed'); END;
CREATE TRIGGER batch_log_never_replaced BEFORE INSERT ON batch_log
WHEN EXISTS (SELECT 1 FROM batch_log WHERE id = NEW.id OR undoes_id = NEW.undoes_id)
BEGIN SELECT RAISE(ABORT, 'what was logged is never replaced'); END;
CREATE TRIGGER batch_log_takes_back_its_own BEFORE INSERT ON batch_log
WHEN NEW.undoes_id IS NOT NULL AND NOT EXISTS (
  SELECT 1 FROM batch_log AS past
  WHERE past.id = NEW.undoes_id AND past.batch_id = NEW.batch_id AND past.kind <> 'undone')
BEGIN SELECT RAISE(ABORT, 'a log takes back what its own batch told'); END;

-- A batch that repeats another, for what must stay equal between them.
CREATE TABLE batch_repeat (
  batch_id INTEGER PRIMARY KEY REFERENCES batch (id),
  of_id INTEGER NOT NULL REFERENCES batch (id),
  CHECK (of_id <> batch_id)
) STRICT;
CREATE INDEX batch_repeat_by_batch ON batch_repeat (of_id);

CREATE TRIGGER batch_repeat_never_changes BEFORE UPDATE ON batch_repeat
BEGIN SELECT RAISE(ABORT, 'a batch repeats what it repeats'); END;
CREATE TRIGGER batch_repeat_never_goes BEFORE DELETE ON batch_repeat
BEGIN SELECT RAISE(ABORT, 'a batch repeats what it repeats'); END;
CREATE TRIGGER batch_repeat_never_replaced BEFORE INSERT ON batch_repeat
WHEN EXISTS (SELECT 1 FROM batch_repeat WHERE batch_id = NEW.batch_id)
BEGIN SELECT RAISE(ABORT, 'a batch repeats what it repeats'); END;

-- A request is written last in its transaction, and what already points to it is then looked for; and the lot that a
-- dye was last weighed from is asked for by its kind of row.
CREATE INDEX batch_log_by_request ON batch_log (request_key);
CREATE INDEX batch_log_by_what ON batch_log (what, id);

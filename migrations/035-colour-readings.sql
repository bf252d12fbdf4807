-- Readings of colours: CIELAB of a lot or a swatch with the illuminant and observer that it is for, how it was got, and
-- how sure it is: of 20 such readings 19 lie within uncertainty_centi, in hundredths of a CIEDE2000 unit. Backing 'either'
-- is so many layers that white and black below look alike. One that was mistaken is undone by a request.
CREATE TABLE colour_reading (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  lot_id INTEGER REFERENCES lot (id),
  swatch_id INTEGER REFERENCES swatch (id),
  lab_l REAL NOT NULL CHECK (lab_l BETWEEN 0 AND 100),
  lab_a REAL NOT NULL CHECK (lab_a BETWEEN -200 AND 200),
  lab_b REAL NOT NULL CHECK (lab_b BETWEEN -200 AND 200),
  illuminant TEXT NOT NULL CHECK (illuminant IN ('D65', 'D50', 'A', 'F2', 'F11')),
  observer TEXT NOT NULL CHECK (observer IN ('2', '10')),
  how TEXT NOT NULL CHECK (how IN ('instrument', 'photo pair', 'photo card', 'eye', 'list')),
  uncertainty_centi INTEGER NOT NULL CHECK (uncertainty_centi BETWEEN 0 AND 5000),
  state TEXT NOT NULL CHECK (state IN ('dry', 'wet')),
  layers INTEGER CHECK (layers BETWEEN 1 AND 64),
  backing TEXT CHECK (backing IN ('white', 'black', 'either')),
  place TEXT CHECK (place IN ('begin', 'middle', 'end', 'left', 'right')),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  read_on TEXT NOT NULL CHECK (read_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  request_key TEXT REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  undone_key TEXT REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  CHECK ((lot_id IS NULL) <> (swatch_id IS NULL))
) STRICT;
CREATE INDEX colour_reading_by_lot ON colour_reading (lot_id) WHERE lot_id IS NOT NULL;
CREATE INDEX colour_reading_by_swatch ON colour_reading (swatch_id) WHERE swatch_id IS NOT NULL;
CREATE INDEX colour_reading_by_request ON colour_reading (request_key) WHERE request_key IS NOT NULL;
CREATE INDEX colour_reading_by_undoing ON colour_reading (undone_key) WHERE undone_key IS NOT NULL;
CREATE TRIGGER colour_reading_never_replaced BEFORE INSERT ON colour_reading
WHEN EXISTS (SELECT 1 FROM colour_reading WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a reading is never replaced'); END;
CREATE TRIGGER colour_reading_never_changes
BEFORE UPDATE OF id, lot_id, swatch_id, lab_l, lab_a, lab_b, illuminant, observer, how, uncertainty_centi, state, layers,
  backing, place, note, read_on, at, person_id, request_key ON colour_reading
BEGIN SELECT RAISE(ABORT, 'a reading is undone, never changed'); END;
CREATE TRIGGER colour_reading_undone_once BEFORE UPDATE OF undone_key ON colour_reading
WHEN OLD.undone_key IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a reading is undone once'); END;
CREATE TRIGGER colour_reading_never_goes BEFORE DELETE ON colour_reading
BEGIN SELECT RAISE(ABORT, 'a reading is never removed'); END;

-- How a lot or a swatch compares with another or with a shade: what somebody saw, or the difference of the two together,
-- in hundredths of a CIEDE2000 unit with what 19 of 20 such differences lie within, and in CIELAB (judged less reference).
CREATE TABLE pair_judgement (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  lot_id INTEGER REFERENCES lot (id),
  swatch_id INTEGER REFERENCES swatch (id),
  to_lot_id INTEGER REFERENCES lot (id),
  to_swatch_id INTEGER REFERENCES swatch (id),
  to_shade_id INTEGER REFERENCES shade (id),
  how TEXT NOT NULL CHECK (how IN ('instrument', 'photo', 'eye')),
  verdict TEXT CHECK (verdict IN ('may meet', 'look', 'apart')),
  delta_centi INTEGER CHECK (delta_centi BETWEEN 0 AND 20000),
  uncertainty_centi INTEGER CHECK (uncertainty_centi BETWEEN 0 AND 5000),
  diff_l REAL CHECK (diff_l BETWEEN -100 AND 100),
  diff_a REAL CHECK (diff_a BETWEEN -400 AND 400),
  diff_b REAL CHECK (diff_b BETWEEN -400 AND 400),
  light TEXT NOT NULL DEFAULT '' CHECK (length(light) <= 80),
  state TEXT NOT NULL CHECK (state IN ('dry', 'wet')),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  request_key TEXT NOT NULL REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  undone_key TEXT REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  CHECK ((lot_id IS NULL) <> (swatch_id IS NULL)),
  CHECK ((to_lot_id IS NULL) + (to_swatch_id IS NULL) + (to_shade_id IS NULL) = 2),
  CHECK (lot_id <> to_lot_id),
  CHECK (swatch_id <> to_swatch_id),
  CHECK ((how = 'eye') = (verdict IS NOT NULL)),
  CHECK ((how = 'eye') = (delta_centi IS NULL)),
  CHECK ((how = 'eye') = (uncertainty_centi IS NULL)),
  CHECK (how <> 'eye' OR light <> ''),
  CHECK ((diff_l IS NULL) = (diff_a IS NULL) AND (diff_a IS NULL) = (diff_b IS NULL))
) STRICT;
CREATE INDEX pair_judgement_by_lot ON pair_judgement (lot_id) WHERE lot_id IS NOT NULL;
CREATE INDEX pair_judgement_by_swatch ON pair_judgement (swatch_id) WHERE swatch_id IS NOT NULL;
CREATE INDEX pair_judgement_to_lot ON pair_judgement (to_lot_id) WHERE to_lot_id IS NOT NULL;
CREATE INDEX pair_judgement_to_swatch ON pair_judgement (to_swatch_id) WHERE to_swatch_id IS NOT NULL;
CREATE INDEX pair_judgement_to_shade ON pair_judgement (to_shade_id) WHERE to_shade_id IS NOT NULL;
CREATE INDEX pair_judgement_by_request ON pair_judgement (request_key);
CREATE INDEX pair_judgement_by_undoing ON pair_judgement (undone_key) WHERE undone_key IS NOT NULL;
CREATE TRIGGER pair_judgement_never_replaced BEFORE INSERT ON pair_judgement
WHEN EXISTS (SELECT 1 FROM pair_judgement WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a judgement is never replaced'); END;
CREATE TRIGGER pair_judgement_never_changes
BEFORE UPDATE OF id, lot_id, swatch_id, to_lot_id, to_swatch_id, to_shade_id, how, verdict, delta_centi,
  uncertainty_centi, diff_l, diff_a, diff_b, light, state, note, at, person_id, request_key ON pair_judgement
BEGIN SELECT RAISE(ABORT, 'a judgement is undone, never changed'); END;
CREATE TRIGGER pair_judgement_undone_once BEFORE UPDATE OF undone_key ON pair_judgement
WHEN OLD.undone_key IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a judgement is undone once'); END;
CREATE TRIGGER pair_judgement_never_goes BEFORE DELETE ON pair_judgement
BEGIN SELECT RAISE(ABORT, 'a judgement is never removed'); END;

-- Colours that were recorded before are readings now: of swatches under the number of what was seen of them, then of
-- lots. All were D65 and the 2 degree observer. How sure they are is that of a reading got like them now.
INSERT INTO colour_reading (id, swatch_id, lab_l, lab_a, lab_b, illuminant, observer, how, uncertainty_centi, state,
  read_on, at, person_id)
SELECT id, swatch_id, lab_l, lab_a, lab_b, 'D65', '2',
  CASE seen_by WHEN 'photo' THEN 'photo card' ELSE seen_by END,
  CASE seen_by WHEN 'instrument' THEN 50 WHEN 'photo' THEN 400 ELSE 800 END,
  state, substr(at, 1, 10), at, person_id
FROM swatch_result WHERE lab_l IS NOT NULL;
INSERT INTO colour_reading (lot_id, lab_l, lab_a, lab_b, illuminant, observer, how, uncertainty_centi, state, read_on, at,
  person_id)
SELECT lot_id, lab_l, lab_a, lab_b, 'D65', '2', CASE how WHEN 'typed' THEN 'list' ELSE how END,
  CASE how WHEN 'typed' THEN 100 ELSE 50 END, 'dry', substr(at, 1, 10), at, person_id
FROM lot_colour ORDER BY lot_id;
DROP TABLE lot_colour;

-- What came of a swatch names the reading that was taken with it.
CREATE TABLE swatch_result_new (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  swatch_id INTEGER NOT NULL REFERENCES swatch (id),
  verdict TEXT CHECK (verdict IN ('approved', 'adjusted', 'given up')),
  seen_by TEXT NOT NULL CHECK (seen_by IN ('eye', 'photo', 'instrument')),
  light TEXT NOT NULL CHECK (length(light) BETWEEN 1 AND 80),
  state TEXT NOT NULL CHECK (state IN ('wet', 'dry')),
  photo TEXT NOT NULL DEFAULT '' CHECK (length(photo) <= 200),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  reading_id INTEGER REFERENCES colour_reading (id),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
INSERT INTO swatch_result_new (id, swatch_id, verdict, seen_by, light, state, photo, note, reading_id, at, person_id)
SELECT id, swatch_id, verdict, seen_by, light, state, photo, note, CASE WHEN lab_l IS NOT NULL THEN id END, at, person_id
FROM swatch_result;
DELETE FROM sqlite_sequence WHERE name = 'swatch_result_new';
INSERT INTO sqlite_sequence (name, seq) SELECT 'swatch_result_new', seq FROM sqlite_sequence WHERE name = 'swatch_result';
DROP TABLE swatch_result;
ALTER TABLE swatch_result_new RENAME TO swatch_result;
CREATE INDEX swatch_result_by_swatch ON swatch_result (swatch_id);
CREATE INDEX swatch_result_by_reading ON swatch_result (reading_id) WHERE reading_id IS NOT NULL;
CREATE TRIGGER swatch_result_never_changes BEFORE UPDATE ON swatch_result
BEGIN SELECT RAISE(ABORT, 'what was seen of a swatch stays; the next verdict counts'); END;
CREATE TRIGGER swatch_result_never_goes BEFORE DELETE ON swatch_result
BEGIN SELECT RAISE(ABORT, 'what was seen of a swatch stays; the next verdict counts'); END;
CREATE TRIGGER swatch_result_never_replaced BEFORE INSERT ON swatch_result
WHEN EXISTS (SELECT 1 FROM swatch_result WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'what was seen of a swatch stays; the next verdict counts'); END;
CREATE TRIGGER swatch_result_with_its_reading BEFORE INSERT ON swatch_result
WHEN NEW.reading_id IS NOT NULL
  AND NOT EXISTS (SELECT 1 FROM colour_reading WHERE id = NEW.reading_id AND swatch_id = NEW.swatch_id)
BEGIN SELECT RAISE(ABORT, 'the reading is of another swatch'); END;

-- The illuminant and observer of the shade that is wanted, and of what was read at the pot.
ALTER TABLE shade ADD COLUMN lab_illuminant TEXT NOT NULL DEFAULT 'D65' CHECK (lab_illuminant IN ('D65', 'D50', 'A', 'F2', 'F11'));
ALTER TABLE shade ADD COLUMN lab_observer TEXT NOT NULL DEFAULT '2' CHECK (lab_observer IN ('2', '10'));
ALTER TABLE batch_log ADD COLUMN lab_illuminant TEXT NOT NULL DEFAULT 'D65' CHECK (lab_illuminant IN ('D65', 'D50', 'A', 'F2', 'F11'));
ALTER TABLE batch_log ADD COLUMN lab_observer TEXT NOT NULL DEFAULT '2' CHECK (lab_observer IN ('2', '10'));

-- How far beyond the limit of a garment lots are still looked at by eye, and not told apart at once, in hundredths of a
-- CIEDE2000 unit. New garments let lots meet up to 0.6 and keep them apart from 1.5.
ALTER TABLE garment ADD COLUMN look_centi_delta_e INTEGER NOT NULL DEFAULT 90 CHECK (look_centi_delta_e BETWEEN 0 AND 10000);
UPDATE garment SET look_centi_delta_e = max(0, 150 - meet_centi_delta_e);

-- Cloths that are judged by photos with a grey card in them. A pair lies side by side; a sheer lies over white and over
-- black; one cloth beside the card alone. Each photo of them is taken after they were folded anew.
CREATE TABLE photo_set (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  kind TEXT NOT NULL CHECK (kind IN ('pair', 'backings', 'alone')),
  lot_id INTEGER REFERENCES lot (id),
  swatch_id INTEGER REFERENCES swatch (id),
  to_lot_id INTEGER REFERENCES lot (id),
  to_swatch_id INTEGER REFERENCES swatch (id),
  to_shade_id INTEGER REFERENCES shade (id),
  layers INTEGER NOT NULL CHECK (layers BETWEEN 1 AND 64),
  backing TEXT CHECK (backing IN ('white', 'black', 'either')),
  state TEXT NOT NULL CHECK (state IN ('dry', 'wet')),
  light TEXT NOT NULL CHECK (length(light) BETWEEN 1 AND 80),
  card_bp INTEGER NOT NULL CHECK (card_bp BETWEEN 100 AND 10000),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  CHECK ((lot_id IS NULL) <> (swatch_id IS NULL)),
  CHECK ((to_lot_id IS NOT NULL) + (to_swatch_id IS NOT NULL) + (to_shade_id IS NOT NULL) = (kind = 'pair')),
  CHECK ((kind = 'backings') = (backing IS NULL)),
  CHECK (lot_id <> to_lot_id),
  CHECK (swatch_id <> to_swatch_id)
) STRICT;
CREATE INDEX photo_set_by_lot ON photo_set (lot_id) WHERE lot_id IS NOT NULL;
CREATE INDEX photo_set_by_swatch ON photo_set (swatch_id) WHERE swatch_id IS NOT NULL;
CREATE INDEX photo_set_to_lot ON photo_set (to_lot_id) WHERE to_lot_id IS NOT NULL;
CREATE INDEX photo_set_to_swatch ON photo_set (to_swatch_id) WHERE to_swatch_id IS NOT NULL;
CREATE INDEX photo_set_to_shade ON photo_set (to_shade_id) WHERE to_shade_id IS NOT NULL;

-- One photo of a set. Its file lies in the folder photos under its hash. One that was taken by mistake is left out.
CREATE TABLE photo (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  set_id INTEGER NOT NULL REFERENCES photo_set (id),
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  width_px INTEGER NOT NULL CHECK (width_px BETWEEN 1 AND 10000),
  height_px INTEGER NOT NULL CHECK (height_px BETWEEN 1 AND 10000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  left_out_key TEXT REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED
) STRICT;
CREATE UNIQUE INDEX photo_once ON photo (set_id, sha256) WHERE left_out_key IS NULL;
CREATE INDEX photo_by_set ON photo (set_id);
CREATE INDEX photo_by_file ON photo (sha256);
CREATE INDEX photo_by_leaving_out ON photo (left_out_key) WHERE left_out_key IS NOT NULL;

-- Where the card and the cloths lie in a photo, and what was measured there; the last marking counts.
CREATE TABLE photo_marking (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  photo_id INTEGER NOT NULL REFERENCES photo (id),
  areas TEXT NOT NULL CHECK (json_valid(areas)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX photo_marking_by_photo ON photo_marking (photo_id);

-- What was kept of a set: the request that wrote its readings and its judgement.
CREATE TABLE photo_result (
  set_id INTEGER NOT NULL REFERENCES photo_set (id),
  request_key TEXT PRIMARY KEY REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;
CREATE INDEX photo_result_by_set ON photo_result (set_id);

CREATE TRIGGER photo_set_never_changes BEFORE UPDATE ON photo_set
BEGIN SELECT RAISE(ABORT, 'photos stay of what they were taken of'); END;
CREATE TRIGGER photo_set_never_goes BEFORE DELETE ON photo_set
BEGIN SELECT RAISE(ABORT, 'photos stay of what they were taken of'); END;
CREATE TRIGGER photo_set_never_replaced BEFORE INSERT ON photo_set
WHEN EXISTS (SELECT 1 FROM photo_set WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'photos stay of what they were taken of'); END;
CREATE TRIGGER photo_never_changes
BEFORE UPDATE OF id, set_id, sha256, width_px, height_px, at, person_id ON photo
BEGIN SELECT RAISE(ABORT, 'a photo is left out, never changed'); END;
CREATE TRIGGER photo_left_out_once BEFORE UPDATE OF left_out_key ON photo
WHEN OLD.left_out_key IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a photo is left out once'); END;
CREATE TRIGGER photo_never_goes BEFORE DELETE ON photo
BEGIN SELECT RAISE(ABORT, 'a photo is left out, never removed'); END;
CREATE TRIGGER photo_never_replaced BEFORE INSERT ON photo
WHEN EXISTS (SELECT 1 FROM photo WHERE id = NEW.id)
  OR EXISTS (SELECT 1 FROM photo WHERE set_id = NEW.set_id AND sha256 = NEW.sha256 AND left_out_key IS NULL)
BEGIN SELECT RAISE(ABORT, 'a photo is there once'); END;
CREATE TRIGGER photo_marking_never_changes BEFORE UPDATE ON photo_marking
BEGIN SELECT RAISE(ABORT, 'a marking stays; the last one counts'); END;
CREATE TRIGGER photo_marking_never_goes BEFORE DELETE ON photo_marking
BEGIN SELECT RAISE(ABORT, 'a marking stays; the last one counts'); END;
CREATE TRIGGER photo_marking_never_replaced BEFORE INSERT ON photo_marking
WHEN EXISTS (SELECT 1 FROM photo_marking WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a marking stays; the last one counts'); END;
CREATE TRIGGER photo_result_never_changes BEFORE UPDATE ON photo_result
BEGIN SELECT RAISE(ABORT, 'a result stays with its photos'); END;
CREATE TRIGGER photo_result_never_goes BEFORE DELETE ON photo_result
BEGIN SELECT RAISE(ABORT, 'a result stays with its photos'); END;
CREATE TRIGGER photo_result_never_replaced BEFORE INSERT ON photo_result
WHEN EXISTS (SELECT 1 FROM photo_result WHERE request_key = NEW.request_key)
BEGIN SELECT RAISE(ABORT, 'a result stays with its photos'); END;

-- Swatches that shades are predicted from and that were dyed outside a swatch job: what was put on which cloth, in
-- thousandths of a percent on weight of fabric, and its colour as it was read. One without a dye is undyed. Figures of a
-- reading are as in its own table; all are read dry. One that was mistaken is undone by a request.
CREATE TABLE dyed_swatch (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  ground_id INTEGER NOT NULL REFERENCES shade (id),
  lab_l REAL NOT NULL CHECK (lab_l BETWEEN 0 AND 100),
  lab_a REAL NOT NULL CHECK (lab_a BETWEEN -200 AND 200),
  lab_b REAL NOT NULL CHECK (lab_b BETWEEN -200 AND 200),
  illuminant TEXT NOT NULL CHECK (illuminant IN ('D65', 'D50', 'A', 'F2', 'F11')),
  observer TEXT NOT NULL CHECK (observer IN ('2', '10')),
  how TEXT NOT NULL CHECK (how IN ('instrument', 'photo pair', 'photo card', 'eye', 'list')),
  uncertainty_centi INTEGER NOT NULL CHECK (uncertainty_centi BETWEEN 0 AND 5000),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  request_key TEXT NOT NULL REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  undone_key TEXT REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED
) STRICT;
CREATE INDEX dyed_swatch_by_cloth ON dyed_swatch (cloth_id);
CREATE INDEX dyed_swatch_by_request ON dyed_swatch (request_key);
CREATE INDEX dyed_swatch_by_undoing ON dyed_swatch (undone_key) WHERE undone_key IS NOT NULL;
CREATE TRIGGER dyed_swatch_never_replaced BEFORE INSERT ON dyed_swatch
WHEN EXISTS (SELECT 1 FROM dyed_swatch WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a dyed swatch is never replaced'); END;
CREATE TRIGGER dyed_swatch_never_changes
BEFORE UPDATE OF id, cloth_id, ground_id, lab_l, lab_a, lab_b, illuminant, observer, how, uncertainty_centi, note, at,
  person_id, request_key ON dyed_swatch
BEGIN SELECT RAISE(ABORT, 'a dyed swatch is undone, never changed'); END;
CREATE TRIGGER dyed_swatch_undone_once BEFORE UPDATE OF undone_key ON dyed_swatch
WHEN OLD.undone_key IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a dyed swatch is undone once'); END;
CREATE TRIGGER dyed_swatch_never_goes BEFORE DELETE ON dyed_swatch
BEGIN SELECT RAISE(ABORT, 'a dyed swatch is never removed'); END;

CREATE TABLE dyed_swatch_dye (
  swatch_id INTEGER NOT NULL REFERENCES dyed_swatch (id),
  dye_id INTEGER NOT NULL REFERENCES dye (id),
  owf_milli INTEGER NOT NULL CHECK (owf_milli BETWEEN 1 AND 20000),
  PRIMARY KEY (swatch_id, dye_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX dyed_swatch_dye_by_dye ON dyed_swatch_dye (dye_id);
CREATE TRIGGER dyed_swatch_dye_never_changes BEFORE UPDATE ON dyed_swatch_dye
BEGIN SELECT RAISE(ABORT, 'a dyed swatch stays as it was dyed'); END;
CREATE TRIGGER dyed_swatch_dye_never_goes BEFORE DELETE ON dyed_swatch_dye
BEGIN SELECT RAISE(ABORT, 'a dyed swatch stays as it was dyed'); END;
CREATE TRIGGER dyed_swatch_dye_never_replaced BEFORE INSERT ON dyed_swatch_dye
WHEN EXISTS (SELECT 1 FROM dyed_swatch_dye WHERE swatch_id = NEW.swatch_id AND dye_id = NEW.dye_id)
BEGIN SELECT RAISE(ABORT, 'a dyed swatch stays as it was dyed'); END;

-- A fluorescent dye gives off light of its own, which no adding up of what dyes absorb foretells.
ALTER TABLE dye ADD COLUMN fluorescent INTEGER NOT NULL DEFAULT 0 CHECK (fluorescent IN (0, 1));

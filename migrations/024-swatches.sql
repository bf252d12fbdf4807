-- Swatches: small pieces of a lot, dyed before the cloth. Ratios are thousandths of litres a kilogram, depths thousandths
-- of a percent on the weight of fabric, of all dyes together.
CREATE TABLE swatch_job (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  lot_id INTEGER NOT NULL REFERENCES lot (id),
  mass_mg INTEGER NOT NULL CHECK (mass_mg BETWEEN 100 AND 1000000),
  lab_ratio_milli INTEGER NOT NULL CHECK (lab_ratio_milli BETWEEN 1000 AND 200000),
  bulk_ratio_milli INTEGER NOT NULL CHECK (bulk_ratio_milli BETWEEN 1000 AND 200000),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  planned_at TEXT NOT NULL CHECK (planned_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX swatch_job_by_lot ON swatch_job (lot_id);

CREATE TABLE swatch (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  job_id INTEGER NOT NULL REFERENCES swatch_job (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 40),
  recipe_id INTEGER NOT NULL REFERENCES recipe (id),
  depth_owf_milli INTEGER NOT NULL CHECK (depth_owf_milli BETWEEN 1 AND 20000),
  UNIQUE (job_id, position)
) STRICT;
CREATE INDEX swatch_by_recipe ON swatch (recipe_id);

-- The lot of each dye that the stocks of a job were made from, where it is known.
CREATE TABLE swatch_dye_lot (
  job_id INTEGER NOT NULL REFERENCES swatch_job (id),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  dye_lot TEXT NOT NULL CHECK (length(dye_lot) BETWEEN 1 AND 120),
  PRIMARY KEY (job_id, name)
) STRICT, WITHOUT ROWID;

-- What came of a swatch, as somebody saw it; the last verdict counts. Without a verdict it was only looked at.
CREATE TABLE swatch_result (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  swatch_id INTEGER NOT NULL REFERENCES swatch (id),
  verdict TEXT CHECK (verdict IN ('approved', 'adjusted', 'given up')),
  seen_by TEXT NOT NULL CHECK (seen_by IN ('eye', 'photo', 'instrument')),
  light TEXT NOT NULL CHECK (length(light) BETWEEN 1 AND 80),
  state TEXT NOT NULL CHECK (state IN ('wet', 'dry')),
  photo TEXT NOT NULL DEFAULT '' CHECK (length(photo) <= 200),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  lab_l REAL CHECK (lab_l BETWEEN 0 AND 100),
  lab_a REAL CHECK (lab_a BETWEEN -200 AND 200),
  lab_b REAL CHECK (lab_b BETWEEN -200 AND 200),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  CHECK ((lab_l IS NULL) = (lab_a IS NULL) AND (lab_a IS NULL) = (lab_b IS NULL))
) STRICT;
CREATE INDEX swatch_result_by_swatch ON swatch_result (swatch_id);

CREATE TRIGGER swatch_job_never_changes BEFORE UPDATE ON swatch_job
BEGIN SELECT RAISE(ABORT, 'a swatch job keeps its plan'); END;
CREATE TRIGGER swatch_job_never_goes BEFORE DELETE ON swatch_job
BEGIN SELECT RAISE(ABORT, 'a swatch job keeps its plan'); END;
CREATE TRIGGER swatch_job_never_replaced BEFORE INSERT ON swatch_job
WHEN EXISTS (SELECT 1 FROM swatch_job WHERE id = NEW.id OR code = NEW.code)
BEGIN SELECT RAISE(ABORT, 'a swatch job keeps its plan'); END;
CREATE TRIGGER swatch_never_changes BEFORE UPDATE ON swatch
BEGIN SELECT RAISE(ABORT, 'a swatch stays as it was dyed'); END;
CREATE TRIGGER swatch_never_goes BEFORE DELETE ON swatch
BEGIN SELECT RAISE(ABORT, 'a swatch stays as it was dyed'); END;
CREATE TRIGGER swatch_never_replaced BEFORE INSERT ON swatch
WHEN EXISTS (SELECT 1 FROM swatch WHERE id = NEW.id OR (job_id = NEW.job_id AND position = NEW.position))
BEGIN SELECT RAISE(ABORT, 'a swatch stays as it was dyed'); END;
CREATE TRIGGER swatch_dye_lot_never_changes BEFORE UPDATE ON swatch_dye_lot
BEGIN SELECT RAISE(ABORT, 'a swatch stays as it was dyed'); END;
CREATE TRIGGER swatch_dye_lot_never_goes BEFORE DELETE ON swatch_dye_lot
BEGIN SELECT RAISE(ABORT, 'a swatch stays as it was dyed'); END;
CREATE TRIGGER swatch_dye_lot_never_replaced BEFORE INSERT ON swatch_dye_lot
WHEN EXISTS (SELECT 1 FROM swatch_dye_lot WHERE job_id = NEW.job_id AND name = NEW.name)
BEGIN SELECT RAISE(ABORT, 'a swatch stays as it was dyed'); END;
CREATE TRIGGER swatch_result_never_changes BEFORE UPDATE ON swatch_result
BEGIN SELECT RAISE(ABORT, 'what was seen of a swatch stays; the next verdict counts'); END;
CREATE TRIGGER swatch_result_never_goes BEFORE DELETE ON swatch_result
BEGIN SELECT RAISE(ABORT, 'what was seen of a swatch stays; the next verdict counts'); END;
CREATE TRIGGER swatch_result_never_replaced BEFORE INSERT ON swatch_result
WHEN EXISTS (SELECT 1 FROM swatch_result WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'what was seen of a swatch stays; the next verdict counts'); END;

-- A graded series: steps of one recipe, or from one to another, each with its own recipe, and a batch where there was
-- cloth for it. moved_bp is how far the dyes are moved to the second recipe. Gradients within one length are dipped: a
-- batch of which each band of the cloth is under for its own time.
CREATE TABLE series (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  from_recipe_id INTEGER NOT NULL REFERENCES recipe (id),
  to_recipe_id INTEGER REFERENCES recipe (id),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  planned_at TEXT NOT NULL CHECK (planned_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;

CREATE TABLE series_step (
  series_id INTEGER NOT NULL REFERENCES series (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 12),
  depth_owf_milli INTEGER NOT NULL CHECK (depth_owf_milli BETWEEN 1 AND 20000),
  moved_bp INTEGER NOT NULL CHECK (moved_bp BETWEEN 0 AND 10000),
  recipe_id INTEGER NOT NULL REFERENCES recipe (id),
  batch_id INTEGER REFERENCES batch (id),
  swatch_id INTEGER REFERENCES swatch (id),
  PRIMARY KEY (series_id, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX series_step_by_batch ON series_step (batch_id);

-- band_ticks is the height of one band, minutes the time of the deepest.
CREATE TABLE dip (
  batch_id INTEGER PRIMARY KEY REFERENCES batch (id),
  way TEXT NOT NULL CHECK (way IN ('lower-in', 'lift-out')),
  bands INTEGER NOT NULL CHECK (bands BETWEEN 3 AND 12),
  band_ticks INTEGER NOT NULL CHECK (band_ticks BETWEEN 1 AND 16000000),
  minutes INTEGER NOT NULL CHECK (minutes BETWEEN 1 AND 600)
) STRICT;

-- Where the cloth hung, and since when: how many bands were under, counted from the deep end.
CREATE TABLE dip_move (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  batch_id INTEGER NOT NULL REFERENCES dip (batch_id),
  bands_under INTEGER NOT NULL CHECK (bands_under BETWEEN 0 AND 12),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 500),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX dip_move_by_batch ON dip_move (batch_id);

CREATE TRIGGER series_never_changes BEFORE UPDATE ON series
BEGIN SELECT RAISE(ABORT, 'a series stays as it was planned'); END;
CREATE TRIGGER series_never_goes BEFORE DELETE ON series
BEGIN SELECT RAISE(ABORT, 'a series stays as it was planned'); END;
CREATE TRIGGER series_never_replaced BEFORE INSERT ON series
WHEN EXISTS (SELECT 1 FROM series WHERE id = NEW.id OR code = NEW.code)
BEGIN SELECT RAISE(ABORT, 'a series stays as it was planned'); END;
CREATE TRIGGER series_step_never_changes BEFORE UPDATE ON series_step
BEGIN SELECT RAISE(ABORT, 'a series stays as it was planned'); END;
CREATE TRIGGER series_step_never_goes BEFORE DELETE ON series_step
BEGIN SELECT RAISE(ABORT, 'a series stays as it was planned'); END;
CREATE TRIGGER series_step_never_replaced BEFORE INSERT ON series_step
WHEN EXISTS (SELECT 1 FROM series_step WHERE series_id = NEW.series_id AND position = NEW.position)
BEGIN SELECT RAISE(ABORT, 'a series stays as it was planned'); END;
CREATE TRIGGER dip_never_changes BEFORE UPDATE ON dip
BEGIN SELECT RAISE(ABORT, 'a gradient stays as it was planned'); END;
CREATE TRIGGER dip_never_goes BEFORE DELETE ON dip
BEGIN SELECT RAISE(ABORT, 'a gradient stays as it was planned'); END;
CREATE TRIGGER dip_never_replaced BEFORE INSERT ON dip
WHEN EXISTS (SELECT 1 FROM dip WHERE batch_id = NEW.batch_id)
BEGIN SELECT RAISE(ABORT, 'a gradient stays as it was planned'); END;
CREATE TRIGGER dip_move_never_changes BEFORE UPDATE ON dip_move
BEGIN SELECT RAISE(ABORT, 'where the cloth hung stays written'); END;
CREATE TRIGGER dip_move_never_goes BEFORE DELETE ON dip_move
BEGIN SELECT RAISE(ABORT, 'where the cloth hung stays written'); END;
CREATE TRIGGER dip_move_never_replaced BEFORE INSERT ON dip_move
WHEN EXISTS (SELECT 1 FROM dip_move WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'where the cloth hung stays written'); END;

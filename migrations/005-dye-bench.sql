-- Recipes, vessels and batches. A batch's state follows from its entries: planned (nothing sent), in the pot
-- (sent, not back), done (back).

CREATE TABLE vessel (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  volume_ml INTEGER NOT NULL CHECK (volume_ml BETWEEN 100 AND 5000000),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 500),
  gone_at TEXT CHECK (gone_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z')
) STRICT;

-- A recipe is never changed: a new version follows the old one. Ratios and percentages on the weight of
-- fabric are thousandths; amounts per litre are milligrams; pH is tenths. marks says by figure where it comes
-- from: published, common practice, from memory, worked out, the maker's label, the workroom's own.
CREATE TABLE recipe (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  version INTEGER NOT NULL CHECK (version BETWEEN 1 AND 10000),
  follows_id INTEGER UNIQUE REFERENCES recipe (id),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  fibre TEXT NOT NULL CHECK (length(fibre) BETWEEN 1 AND 60),
  dye_class TEXT NOT NULL CHECK (length(dye_class) BETWEEN 1 AND 60),
  method TEXT NOT NULL DEFAULT '' CHECK (length(method) <= 120),
  liquor_ratio_milli INTEGER NOT NULL CHECK (liquor_ratio_milli BETWEEN 1000 AND 200000),
  temperature_c INTEGER NOT NULL CHECK (temperature_c BETWEEN 1 AND 140),
  hold_minutes INTEGER NOT NULL CHECK (hold_minutes BETWEEN 1 AND 1440),
  ph_from_tenths INTEGER CHECK (ph_from_tenths BETWEEN 0 AND 140),
  ph_to_tenths INTEGER CHECK (ph_to_tenths BETWEEN ph_from_tenths AND 140),
  shrinkage_bp INTEGER NOT NULL CHECK (shrinkage_bp BETWEEN 0 AND 5000),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  marks TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(marks)),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  UNIQUE (name, version),
  CHECK ((version = 1) = (follows_id IS NULL)),
  CHECK ((ph_from_tenths IS NULL) = (ph_to_tenths IS NULL))
) STRICT;
CREATE INDEX recipe_by_shade ON recipe (shade_id);

CREATE TABLE recipe_dye (
  recipe_id INTEGER NOT NULL REFERENCES recipe (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 20),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  owf_milli INTEGER NOT NULL CHECK (owf_milli BETWEEN 1 AND 20000),
  PRIMARY KEY (recipe_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE recipe_auxiliary (
  recipe_id INTEGER NOT NULL REFERENCES recipe (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 20),
  kind TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 60),
  form TEXT NOT NULL CHECK (length(form) BETWEEN 1 AND 60),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  per TEXT NOT NULL CHECK (per IN ('litre', 'cloth')),
  amount INTEGER NOT NULL CHECK (amount BETWEEN 1 AND 1000000),
  basis TEXT NOT NULL CHECK (basis IN ('published', 'common practice', 'from memory', 'worked out', 'label',
    'own')),
  source TEXT NOT NULL CHECK (length(source) BETWEEN 1 AND 500),
  PRIMARY KEY (recipe_id, position)
) STRICT, WITHOUT ROWID;

-- card: what the bench was told when the batch started (mass, baths, every amount), as JSON.
CREATE TABLE batch (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  recipe_id INTEGER NOT NULL REFERENCES recipe (id),
  vessel_id INTEGER NOT NULL REFERENCES vessel (id),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  due_on TEXT CHECK (due_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  planned_at TEXT NOT NULL CHECK (planned_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  cancelled_at TEXT CHECK (cancelled_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  cancelled_by INTEGER REFERENCES person (id),
  card TEXT CHECK (card IS NULL OR json_valid(card)),
  CHECK ((cancelled_at IS NULL) = (cancelled_by IS NULL))
) STRICT;
CREATE INDEX batch_by_recipe ON batch (recipe_id);

-- The lengths that a planned batch wants from pieces of the shelf. Nothing is promised until it starts.
CREATE TABLE batch_piece (
  batch_id INTEGER NOT NULL REFERENCES batch (id),
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  length_ticks INTEGER NOT NULL CHECK (length_ticks > 0),
  typed TEXT NOT NULL DEFAULT '' CHECK (length(typed) <= 64),
  PRIMARY KEY (batch_id, piece_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX batch_piece_by_piece ON batch_piece (piece_id);

-- A recipe stays as it was written, or no batch could be repeated from it.
CREATE TRIGGER recipe_never_changes BEFORE UPDATE ON recipe
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;
CREATE TRIGGER recipe_never_replaced BEFORE INSERT ON recipe
WHEN EXISTS (SELECT 1 FROM recipe WHERE id = NEW.id OR follows_id = NEW.follows_id
  OR (name = NEW.name AND version = NEW.version))
BEGIN SELECT RAISE(ABORT, 'a recipe is never replaced: a new version follows it'); END;
CREATE TRIGGER recipe_never_goes BEFORE DELETE ON recipe
BEGIN SELECT RAISE(ABORT, 'a recipe is never removed'); END;
CREATE TRIGGER recipe_dye_never_changes BEFORE UPDATE ON recipe_dye
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;
CREATE TRIGGER recipe_dye_never_goes BEFORE DELETE ON recipe_dye
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;
CREATE TRIGGER recipe_dye_before_batches BEFORE INSERT ON recipe_dye
WHEN EXISTS (SELECT 1 FROM batch WHERE recipe_id = NEW.recipe_id)
  OR EXISTS (SELECT 1 FROM recipe_dye WHERE recipe_id = NEW.recipe_id AND position = NEW.position)
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;
CREATE TRIGGER recipe_auxiliary_never_changes BEFORE UPDATE ON recipe_auxiliary
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;
CREATE TRIGGER recipe_auxiliary_never_goes BEFORE DELETE ON recipe_auxiliary
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;
CREATE TRIGGER recipe_auxiliary_before_batches BEFORE INSERT ON recipe_auxiliary
WHEN EXISTS (SELECT 1 FROM batch WHERE recipe_id = NEW.recipe_id)
  OR EXISTS (SELECT 1 FROM recipe_auxiliary WHERE recipe_id = NEW.recipe_id AND position = NEW.position)
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;

-- What was planned stays; starting, cancelling and the note are all that may be written later.
CREATE TRIGGER batch_keeps_its_plan BEFORE UPDATE OF id, code, recipe_id, vessel_id, planned_at, person_id ON batch
BEGIN SELECT RAISE(ABORT, 'a batch keeps its recipe and vessel'); END;
CREATE TRIGGER batch_never_replaced BEFORE INSERT ON batch
WHEN EXISTS (SELECT 1 FROM batch WHERE id = NEW.id OR code = NEW.code)
BEGIN SELECT RAISE(ABORT, 'a batch is never replaced'); END;
CREATE TRIGGER batch_never_goes BEFORE DELETE ON batch
BEGIN SELECT RAISE(ABORT, 'a batch is never removed'); END;
CREATE TRIGGER batch_piece_never_changes BEFORE UPDATE ON batch_piece
BEGIN SELECT RAISE(ABORT, 'a batch keeps its lengths'); END;
CREATE TRIGGER batch_piece_never_replaced BEFORE INSERT ON batch_piece
WHEN EXISTS (SELECT 1 FROM batch_piece WHERE batch_id = NEW.batch_id AND piece_id = NEW.piece_id)
BEGIN SELECT RAISE(ABORT, 'a batch keeps its lengths'); END;
CREATE TRIGGER batch_piece_never_goes BEFORE DELETE ON batch_piece
BEGIN SELECT RAISE(ABORT, 'a batch keeps its lengths'); END;

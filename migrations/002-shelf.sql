-- What lies on the shelf: cloths, shades, lots, pieces. Lengths are ticks of 1/160 mm, masses milligrams,
-- money minor units of the workroom's currency.

CREATE TABLE supplier (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 120),
  lead_days INTEGER CHECK (lead_days BETWEEN 0 AND 730),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000)
) STRICT;

CREATE TABLE place (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 60)
) STRICT;

CREATE TABLE cloth (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 120),
  construction TEXT NOT NULL CHECK (length(construction) BETWEEN 1 AND 60),
  width_ticks INTEGER NOT NULL CHECK (width_ticks BETWEEN 1 AND 1600000),
  usable_width_ticks INTEGER NOT NULL CHECK (usable_width_ticks BETWEEN 1 AND width_ticks),
  mass_per_area_mg_m2 INTEGER CHECK (mass_per_area_mg_m2 BETWEEN 1 AND 5000000),
  finish TEXT NOT NULL DEFAULT '' CHECK (length(finish) <= 120),
  supplier_id INTEGER REFERENCES supplier (id),
  article TEXT NOT NULL DEFAULT '' CHECK (length(article) <= 120),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  typed TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(typed))
) STRICT;

CREATE TABLE cloth_fibre (
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  fibre TEXT NOT NULL CHECK (length(fibre) BETWEEN 1 AND 60),
  share_bp INTEGER NOT NULL CHECK (share_bp BETWEEN 1 AND 10000),
  PRIMARY KEY (cloth_id, fibre)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER cloth_fibre_not_over_whole AFTER INSERT ON cloth_fibre
WHEN (SELECT sum(share_bp) FROM cloth_fibre WHERE cloth_id = NEW.cloth_id) > 10000
BEGIN SELECT RAISE(ABORT, 'the fibres of a cloth add up to more than 100 %'); END;
CREATE TRIGGER cloth_fibre_not_changed BEFORE UPDATE ON cloth_fibre
BEGIN SELECT RAISE(ABORT, 'the fibres of a cloth are replaced, not changed'); END;

-- CIELAB, D65 and the 2 degree observer. ground: cloth in this shade is undyed and may be dyed.
CREATE TABLE shade (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  ground INTEGER NOT NULL CHECK (ground IN (0, 1)),
  lab_l REAL CHECK (lab_l BETWEEN 0 AND 100),
  lab_a REAL CHECK (lab_a BETWEEN -200 AND 200),
  lab_b REAL CHECK (lab_b BETWEEN -200 AND 200),
  lab_how TEXT CHECK (lab_how IN ('instrument', 'photo', 'screen', 'typed')),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  CHECK ((lab_l IS NULL) = (lab_a IS NULL) AND (lab_a IS NULL) = (lab_b IS NULL)
    AND (lab_b IS NULL) = (lab_how IS NULL))
) STRICT;

-- What makes shades differ: the mill's lot as bought, or our own dye batch.
CREATE TABLE lot (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  origin TEXT NOT NULL CHECK (origin IN ('mill', 'dyed')),
  mill_lot TEXT NOT NULL DEFAULT '' CHECK (length(mill_lot) <= 60),
  supplier_id INTEGER REFERENCES supplier (id),
  batch_id INTEGER REFERENCES batch (id),
  UNIQUE (batch_id, cloth_id),
  CHECK ((origin = 'dyed') = (batch_id IS NOT NULL))
) STRICT;
CREATE INDEX lot_by_cloth_shade ON lot (cloth_id, shade_id);
CREATE INDEX lot_by_shade ON lot (shade_id);

-- One physical length. The three balances are a cache kept by the ledger's triggers, and the checks on them
-- hold whatever program writes.
CREATE TABLE piece (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  kind TEXT NOT NULL CHECK (kind IN ('bolt', 'remnant')),
  lot_id INTEGER NOT NULL REFERENCES lot (id),
  usable_width_ticks INTEGER NOT NULL CHECK (usable_width_ticks BETWEEN 1 AND 1600000),
  place_id INTEGER REFERENCES place (id),
  parent_id INTEGER REFERENCES piece (id),
  on_hand_ticks INTEGER NOT NULL DEFAULT 0 CHECK (on_hand_ticks >= 0),
  held_ticks INTEGER NOT NULL DEFAULT 0 CHECK (held_ticks >= 0),
  cost_minor INTEGER NOT NULL DEFAULT 0 CHECK (cost_minor >= 0),
  CHECK (held_ticks <= on_hand_ticks),
  CHECK (on_hand_ticks > 0 OR cost_minor = 0)
) STRICT;
-- A code is looked for as it is written in a hurry: b12 is B12.
CREATE INDEX piece_by_code_in_any_case ON piece (code COLLATE NOCASE);
CREATE INDEX piece_by_lot ON piece (lot_id, on_hand_ticks);
CREATE INDEX piece_on_shelf ON piece (lot_id) WHERE on_hand_ticks > 0;
CREATE INDEX piece_by_place ON piece (place_id) WHERE on_hand_ticks > 0;
CREATE INDEX piece_by_parent ON piece (parent_id) WHERE parent_id IS NOT NULL;

-- Every bath is a lot of its own, in a pot of its own. What was sent, and lots that were made, before baths were told
-- apart have none: such a lot is of all the baths of its batch, as it was.

-- The lot of a bath beside that of a batch, and the lot that somebody judged it to be one with. Its rows and numbers stay.
DROP TRIGGER entry_back_from_dye;
DROP TRIGGER entry_reverses_exactly;
CREATE TABLE lot_new (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  origin TEXT NOT NULL CHECK (origin IN ('mill', 'dyed')),
  mill_lot TEXT NOT NULL DEFAULT '' CHECK (length(mill_lot) <= 60),
  supplier_id INTEGER REFERENCES supplier (id),
  batch_id INTEGER REFERENCES batch (id),
  bath INTEGER CHECK (bath BETWEEN 1 AND 100),
  joined_to_id INTEGER REFERENCES lot (id),
  CHECK ((origin = 'dyed') = (batch_id IS NOT NULL)),
  CHECK (bath IS NULL OR batch_id IS NOT NULL)
) STRICT;
INSERT INTO lot_new (id, code, cloth_id, shade_id, origin, mill_lot, supplier_id, batch_id)
SELECT id, code, cloth_id, shade_id, origin, mill_lot, supplier_id, batch_id FROM lot;
DELETE FROM sqlite_sequence WHERE name = 'lot_new';
INSERT INTO sqlite_sequence (name, seq) SELECT 'lot_new', seq FROM sqlite_sequence WHERE name = 'lot';
DROP TABLE lot;
ALTER TABLE lot_new RENAME TO lot;
CREATE INDEX lot_by_cloth_shade ON lot (cloth_id, shade_id);
CREATE INDEX lot_by_shade ON lot (shade_id);
CREATE UNIQUE INDEX lot_of_batch ON lot (batch_id, cloth_id) WHERE bath IS NULL;
CREATE UNIQUE INDEX lot_of_bath ON lot (batch_id, cloth_id, bath) WHERE bath IS NOT NULL;
CREATE INDEX lot_by_joined ON lot (joined_to_id) WHERE joined_to_id IS NOT NULL;
CREATE TRIGGER lot_keeps_its_cloth BEFORE UPDATE OF id, cloth_id, shade_id, origin, batch_id, bath ON lot
BEGIN SELECT RAISE(ABORT, 'a lot keeps its cloth, shade and batch'); END;
CREATE TRIGGER lot_never_replaced BEFORE INSERT ON lot
WHEN EXISTS (SELECT 1 FROM lot WHERE id = NEW.id OR code = NEW.code)
BEGIN SELECT RAISE(ABORT, 'a lot is never replaced'); END;
CREATE TRIGGER lot_starts_alone BEFORE INSERT ON lot
WHEN NEW.joined_to_id IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a lot starts alone: joining it is a judgement'); END;

-- The bath that a length went into.
ALTER TABLE entry ADD COLUMN bath INTEGER CHECK (bath BETWEEN 1 AND 100) CHECK (bath IS NULL OR batch_id IS NOT NULL);
CREATE TRIGGER entry_reverses_exactly AFTER INSERT ON entry
WHEN NEW.kind = 'reversed' AND NOT EXISTS (
  SELECT 1 FROM entry AS undone
  WHERE undone.id = NEW.reverses_id AND undone.kind <> 'reversed' AND undone.piece_id = NEW.piece_id
    AND undone.length_ticks = -NEW.length_ticks AND undone.held_ticks = -NEW.held_ticks
    AND undone.cost_minor = -NEW.cost_minor
    AND undone.tier_id IS NEW.tier_id AND undone.other_use_id IS NEW.other_use_id
    AND undone.batch_id IS NEW.batch_id AND undone.bath IS NEW.bath
    AND undone.receipt_id IS NEW.receipt_id AND undone.order_line_id IS NEW.order_line_id)
BEGIN SELECT RAISE(ABORT, 'a reversal is the exact opposite of its entry'); END;
CREATE TRIGGER entry_back_from_dye AFTER INSERT ON entry
WHEN NEW.kind = 'back-from-dye' AND (NOT EXISTS (
  SELECT 1 FROM entry AS sent
  JOIN piece AS whole ON whole.id = sent.piece_id
  JOIN lot AS undyed ON undyed.id = whole.lot_id
  JOIN piece AS made ON made.id = NEW.piece_id AND made.parent_id = whole.id
  JOIN lot AS dyed ON dyed.id = made.lot_id AND dyed.batch_id = NEW.batch_id AND dyed.bath IS NEW.bath
    AND dyed.cloth_id = undyed.cloth_id
  WHERE sent.id = NEW.pair_id AND sent.kind = 'sent-to-dye' AND sent.batch_id = NEW.batch_id
    AND sent.bath IS NEW.bath AND sent.length_ticks = -NEW.length_ticks AND -sent.cost_minor <= NEW.cost_minor
    AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = sent.id))
  OR EXISTS (
  SELECT 1 FROM entry AS back
  WHERE back.pair_id = NEW.pair_id AND back.id <> NEW.id
    AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = back.id)))
BEGIN SELECT RAISE(ABORT, 'what comes back from dyeing is what was sent'); END;

-- Somebody's judgement that a lot is one with another of its cloth and shade. A lot joins one that is joined to none, and
-- none is joined to a lot that joins. The difference is in hundredths of a CIEDE2000 unit. It is undone by a request.
CREATE TABLE lot_join (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  lot_id INTEGER NOT NULL REFERENCES lot (id),
  to_id INTEGER NOT NULL REFERENCES lot (id),
  how TEXT NOT NULL CHECK (how IN ('instrument', 'photo', 'eye')),
  delta_centi INTEGER CHECK (delta_centi BETWEEN 0 AND 10000),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  request_key TEXT NOT NULL UNIQUE REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  undone_key TEXT REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  CHECK (how <> 'instrument' OR delta_centi IS NOT NULL)
) STRICT;
CREATE INDEX lot_join_by_lot ON lot_join (lot_id);
CREATE INDEX lot_join_by_undoing ON lot_join (undone_key) WHERE undone_key IS NOT NULL;
CREATE TRIGGER lot_join_of_its_like BEFORE INSERT ON lot_join
WHEN NOT EXISTS (
  SELECT 1 FROM lot AS one JOIN lot AS other ON other.cloth_id = one.cloth_id AND other.shade_id = one.shade_id
  WHERE one.id = NEW.lot_id AND other.id = NEW.to_id AND other.id <> one.id
    AND one.joined_to_id IS NULL AND other.joined_to_id IS NULL
    AND NOT EXISTS (SELECT 1 FROM lot AS joined WHERE joined.joined_to_id = one.id))
BEGIN SELECT RAISE(ABORT, 'a lot joins one of its cloth and shade that is joined to none'); END;
CREATE TRIGGER lot_join_never_replaced BEFORE INSERT ON lot_join
WHEN EXISTS (SELECT 1 FROM lot_join WHERE id = NEW.id OR request_key = NEW.request_key)
BEGIN SELECT RAISE(ABORT, 'a judgement is never replaced'); END;
CREATE TRIGGER lot_join_never_changes
BEFORE UPDATE OF id, lot_id, to_id, how, delta_centi, note, at, person_id, request_key ON lot_join
BEGIN SELECT RAISE(ABORT, 'a judgement is undone, never changed'); END;
CREATE TRIGGER lot_join_undone_once BEFORE UPDATE OF undone_key ON lot_join
WHEN OLD.undone_key IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a judgement is undone once'); END;
CREATE TRIGGER lot_join_never_goes BEFORE DELETE ON lot_join
BEGIN SELECT RAISE(ABORT, 'a judgement is never removed'); END;
CREATE TRIGGER lot_join_joins AFTER INSERT ON lot_join
BEGIN UPDATE lot SET joined_to_id = NEW.to_id WHERE id = NEW.lot_id; END;
CREATE TRIGGER lot_join_parts AFTER UPDATE OF undone_key ON lot_join
BEGIN UPDATE lot SET joined_to_id = NULL WHERE id = NEW.lot_id; END;
CREATE TRIGGER lot_joined_by_judgement AFTER UPDATE OF joined_to_id ON lot
WHEN NEW.joined_to_id IS NOT (SELECT to_id FROM lot_join WHERE lot_id = NEW.id AND undone_key IS NULL)
BEGIN SELECT RAISE(ABORT, 'lots are joined by a judgement'); END;

-- Pots alike: as many baths can stand in them at a time.
ALTER TABLE vessel ADD COLUMN pots INTEGER NOT NULL DEFAULT 1 CHECK (pots BETWEEN 1 AND 20);

-- The bath that a planned length goes into, where that is not left to the plan.
ALTER TABLE batch_piece ADD COLUMN bath INTEGER CHECK (bath BETWEEN 1 AND 100);

-- The pot of a bath where it is another than its batch's, and when it is to begin. It may be changed until it begins.
CREATE TABLE batch_bath (
  batch_id INTEGER NOT NULL REFERENCES batch (id),
  bath INTEGER NOT NULL CHECK (bath BETWEEN 1 AND 100),
  vessel_id INTEGER NOT NULL REFERENCES vessel (id),
  begins_at TEXT CHECK (begins_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  PRIMARY KEY (batch_id, bath)
) STRICT, WITHOUT ROWID;
CREATE INDEX batch_bath_by_vessel ON batch_bath (vessel_id);

-- What the lot of a dye is worth beside the one that the recipe was made with: by line, in hundredths of a percent.
ALTER TABLE batch_amount ADD COLUMN strengths TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(strengths));

-- The log takes what a batch card tells: cloth weighed after the scour (mg), water topped up (mL), the pH of the start,
-- the middle and the end, how clear the bath ended, the shade under two lights, grey scale grades (tenths), how far a
-- bath is from the first (hundredths of a CIEDE2000 unit, or tenths of a grade by eye), and which cautions somebody read.
CREATE TABLE batch_log_new (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  batch_id INTEGER NOT NULL REFERENCES batch (id),
  bath INTEGER NOT NULL CHECK (bath BETWEEN 0 AND 100),
  kind TEXT NOT NULL CHECK (kind IN ('step', 'temperature', 'pH', 'weighed', 'water', 'addition', 'swatch', 'result',
    'note', 'undone', 'scoured', 'topped up', 'bath end', 'shade', 'fastness', 'difference', 'read')),
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
  CHECK (figure IS NOT NULL OR kind NOT IN ('temperature', 'pH', 'weighed', 'water', 'addition', 'scoured',
    'topped up', 'fastness', 'difference')),
  CHECK (kind <> 'swatch' OR what IN ('before', 'after')),
  CHECK (kind <> 'result' OR what IN ('accepted', 'shaded again', 'rejected')),
  CHECK (kind <> 'bath end' OR what IN ('clear', 'nearly clear', 'coloured')),
  CHECK (kind <> 'shade' OR what IN ('daylight: match', 'daylight: near', 'daylight: no match',
    'stage light: match', 'stage light: near', 'stage light: no match')),
  CHECK (kind <> 'fastness' OR figure IN (10, 15, 20, 25, 30, 35, 40, 45, 50)),
  CHECK (kind <> 'difference' OR what IN ('instrument', 'photo', 'eye')),
  CHECK ((lab_l IS NULL) = (lab_a IS NULL) AND (lab_a IS NULL) = (lab_b IS NULL)
    AND (lab_b IS NULL) = (lab_how IS NULL)),
  CHECK ((kind = 'undone') = (undoes_id IS NOT NULL))
) STRICT;
INSERT INTO batch_log_new (id, batch_id, bath, kind, at, person_id, request_key, figure, what, dye_lot, note, lab_l,
  lab_a, lab_b, lab_how, undoes_id)
SELECT id, batch_id, bath, kind, at, person_id, request_key, figure, what, dye_lot, note, lab_l, lab_a, lab_b, lab_how,
  undoes_id
FROM batch_log;
DELETE FROM sqlite_sequence WHERE name = 'batch_log_new';
INSERT INTO sqlite_sequence (name, seq) SELECT 'batch_log_new', seq FROM sqlite_sequence WHERE name = 'batch_log';
DROP TABLE batch_log;
ALTER TABLE batch_log_new RENAME TO batch_log;
CREATE INDEX batch_log_by_batch ON batch_log (batch_id, bath, id);
CREATE INDEX batch_log_by_request ON batch_log (request_key);
CREATE INDEX batch_log_by_what ON batch_log (what, id);
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

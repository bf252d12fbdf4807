-- A dyed lot that came out off its shade is kept as another shade, and may be kept as the former again: the last counts.
-- Only a lot that counts for itself, so that lots that count as one are of one shade.
CREATE TABLE lot_shade (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  lot_id INTEGER NOT NULL REFERENCES lot (id),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  request_key TEXT NOT NULL REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED
) STRICT;
CREATE INDEX lot_shade_by_lot ON lot_shade (lot_id);
CREATE TRIGGER lot_shade_of_a_dyed_lot BEFORE INSERT ON lot_shade
WHEN NOT EXISTS (
  SELECT 1 FROM lot
  WHERE lot.id = NEW.lot_id AND lot.origin = 'dyed' AND lot.shade_id <> NEW.shade_id AND lot.joined_to_id IS NULL
    AND NOT EXISTS (SELECT 1 FROM lot AS joined WHERE joined.joined_to_id = lot.id))
BEGIN SELECT RAISE(ABORT, 'only a dyed lot that counts for itself is kept as another shade'); END;
CREATE TRIGGER lot_shade_never_replaced BEFORE INSERT ON lot_shade
WHEN EXISTS (SELECT 1 FROM lot_shade WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'what a lot was kept as stays; the last counts'); END;
CREATE TRIGGER lot_shade_never_changes BEFORE UPDATE ON lot_shade
BEGIN SELECT RAISE(ABORT, 'what a lot was kept as stays; the last counts'); END;
CREATE TRIGGER lot_shade_never_goes BEFORE DELETE ON lot_shade
BEGIN SELECT RAISE(ABORT, 'what a lot was kept as stays; the last counts'); END;
CREATE TRIGGER lot_shade_counts AFTER INSERT ON lot_shade
BEGIN UPDATE lot SET shade_id = NEW.shade_id WHERE id = NEW.lot_id; END;

DROP TRIGGER lot_keeps_its_cloth;
CREATE TRIGGER lot_keeps_its_cloth BEFORE UPDATE OF id, cloth_id, origin, batch_id, bath ON lot
BEGIN SELECT RAISE(ABORT, 'a lot keeps its cloth, shade and batch'); END;
CREATE TRIGGER lot_of_another_shade AFTER UPDATE OF shade_id ON lot
WHEN NEW.shade_id IS NOT (SELECT shade_id FROM lot_shade WHERE id = (SELECT max(id) FROM lot_shade WHERE lot_id = NEW.id))
BEGIN SELECT RAISE(ABORT, 'a lot is of another shade only where it is kept as that'); END;

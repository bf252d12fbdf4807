-- What was measured on the stand while a garment was made: how far below the waist the lower edge of a tier came to lie. The
-- last measure of a tier counts. How far the tiers that are still to cut were moved by it is kept, so that none moves twice.
CREATE TABLE made_measure (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  lower_ticks INTEGER NOT NULL CHECK (lower_ticks BETWEEN 1 AND 1600000),
  followed_ticks INTEGER NOT NULL CHECK (followed_ticks BETWEEN -1600000 AND 1600000),
  note TEXT NOT NULL CHECK (length(note) <= 300),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX made_measure_by_tier ON made_measure (tier_id, id);

CREATE TRIGGER made_measure_stays BEFORE UPDATE OF id, tier_id, lower_ticks, note, typed, at, person_id ON made_measure
BEGIN SELECT RAISE(ABORT, 'a measure is followed by a newer one, never changed'); END;
CREATE TRIGGER made_measure_never_goes BEFORE DELETE ON made_measure
BEGIN SELECT RAISE(ABORT, 'a measure is followed by a newer one, never removed'); END;
CREATE TRIGGER made_measure_never_replaced BEFORE INSERT ON made_measure
WHEN EXISTS (SELECT 1 FROM made_measure WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a measure is followed by a newer one, never removed'); END;

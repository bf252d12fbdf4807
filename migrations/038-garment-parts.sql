-- What a garment has besides its tiers: a cage, a band, a flounce, a trim. It is kept as it was asked and worked out again
-- from that, whenever it is shown. The unit is that of its bare numbers.
CREATE TABLE garment_part (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  kind TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 40),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  unit TEXT NOT NULL CHECK (unit IN ('mm', 'cm', 'm', 'in', 'ft', 'yd')),
  asked TEXT NOT NULL CHECK (json_valid(asked)),
  pieces INTEGER NOT NULL CHECK (pieces BETWEEN 1 AND 1000),
  cloth_id INTEGER REFERENCES cloth (id),
  shade_id INTEGER REFERENCES shade (id),
  taken_out_at TEXT CHECK (taken_out_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  version INTEGER NOT NULL DEFAULT 1 CHECK (version > 0),
  changed_at TEXT NOT NULL CHECK (changed_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  changed_by_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX garment_part_by_garment ON garment_part (garment_id);
CREATE INDEX garment_part_by_cloth ON garment_part (cloth_id) WHERE cloth_id IS NOT NULL;
CREATE INDEX garment_part_by_shade ON garment_part (shade_id) WHERE shade_id IS NOT NULL;

CREATE TRIGGER garment_part_stays BEFORE UPDATE OF id, garment_id, kind ON garment_part
BEGIN SELECT RAISE(ABORT, 'a part stays what it is, of its garment'); END;
CREATE TRIGGER garment_part_never_goes BEFORE DELETE ON garment_part
BEGIN SELECT RAISE(ABORT, 'a part is taken out, never removed'); END;
CREATE TRIGGER garment_part_never_replaced BEFORE INSERT ON garment_part
WHEN EXISTS (SELECT 1 FROM garment_part WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a part is taken out, never removed'); END;

-- What the water of the workroom was measured to be, newer rows following older ones, and how small amounts are measured:
-- the instrument for a few millilitres, and how far off an amount may be, in hundredths of a percent.

-- Tenths of a mg/L of calcium carbonate, and of a pH; the newest day counts, of one day the row written last.
CREATE TABLE water_test (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  alkalinity_tenths INTEGER NOT NULL CHECK (alkalinity_tenths BETWEEN 0 AND 20000),
  hardness_tenths INTEGER CHECK (hardness_tenths BETWEEN 0 AND 20000),
  ph_tenths INTEGER CHECK (ph_tenths BETWEEN 0 AND 140),
  source TEXT NOT NULL CHECK (length(source) <= 500),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX water_test_by_day ON water_test (on_day, id);

CREATE TRIGGER water_test_never_changes BEFORE UPDATE ON water_test
BEGIN SELECT RAISE(ABORT, 'a test of the water is followed by a newer one, not changed'); END;
CREATE TRIGGER water_test_never_goes BEFORE DELETE ON water_test
BEGIN SELECT RAISE(ABORT, 'a test of the water stays in the book'); END;
CREATE TRIGGER water_test_never_replaced BEFORE INSERT ON water_test
WHEN EXISTS (SELECT 1 FROM water_test WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a test of the water is followed by a newer one, not replaced'); END;

ALTER TABLE workroom ADD COLUMN measures_with TEXT NOT NULL DEFAULT 'pipette'
  CHECK (measures_with IN ('cylinder', 'pipette', 'syringe'));
ALTER TABLE workroom ADD COLUMN amount_off_bp INTEGER NOT NULL DEFAULT 500 CHECK (amount_off_bp BETWEEN 50 AND 5000);

-- A swatch of a cloth that was marked, treated as the garment will be, and measured again. The usable width from before is
-- kept with the one that was set by it, where strips were to follow.
CREATE TABLE wash_test (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  treatment TEXT NOT NULL CHECK (length(treatment) BETWEEN 1 AND 200),
  length_before_ticks INTEGER NOT NULL CHECK (length_before_ticks BETWEEN 1 AND 1600000),
  length_after_ticks INTEGER NOT NULL CHECK (length_after_ticks BETWEEN 1 AND 1600000),
  width_before_ticks INTEGER NOT NULL CHECK (width_before_ticks BETWEEN 1 AND 1600000),
  width_after_ticks INTEGER NOT NULL CHECK (width_after_ticks BETWEEN 1 AND 1600000),
  from_ticks INTEGER NOT NULL CHECK (from_ticks BETWEEN 1 AND 16000000),
  set_ticks INTEGER CHECK (set_ticks BETWEEN 1 AND 16000000),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX wash_test_by_cloth ON wash_test (cloth_id, id);

CREATE TRIGGER wash_test_never_changes BEFORE UPDATE ON wash_test
BEGIN SELECT RAISE(ABORT, 'a test is followed by a newer one, never changed'); END;
CREATE TRIGGER wash_test_never_goes BEFORE DELETE ON wash_test
BEGIN SELECT RAISE(ABORT, 'a test is followed by a newer one, never removed'); END;
CREATE TRIGGER wash_test_never_replaced BEFORE INSERT ON wash_test
WHEN EXISTS (SELECT 1 FROM wash_test WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a test is followed by a newer one, never removed'); END;

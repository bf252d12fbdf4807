-- By when: what the workroom can do in a day, the days on which it is closed, what a garment takes besides what is worked
-- out, and when somebody began and ended work at the table, the machine and the pot.

-- One row at most. `open_days` is a sum: Monday 1, Tuesday 2, Wednesday 4 to Sunday 64. What nobody has said is NULL.
CREATE TABLE work_day (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  open_days INTEGER NOT NULL CHECK (open_days BETWEEN 1 AND 127),
  table_minutes INTEGER CHECK (table_minutes BETWEEN 1 AND 14400),
  strips_hour INTEGER CHECK (strips_hour BETWEEN 1 AND 6000),
  pot_baths INTEGER CHECK (pot_baths BETWEEN 1 AND 24),
  drying_days INTEGER NOT NULL CHECK (drying_days BETWEEN 0 AND 60),
  swatch_days INTEGER NOT NULL CHECK (swatch_days BETWEEN 0 AND 60),
  receiving_days INTEGER NOT NULL CHECK (receiving_days BETWEEN 0 AND 60),
  spare_days INTEGER NOT NULL CHECK (spare_days BETWEEN 0 AND 60),
  finishing_days INTEGER NOT NULL CHECK (finishing_days BETWEEN 0 AND 60)
) STRICT;

-- Minutes that somebody sews on an open day.
CREATE TABLE person_hours (
  person_id INTEGER PRIMARY KEY REFERENCES person (id),
  sewing_minutes INTEGER NOT NULL CHECK (sewing_minutes BETWEEN 1 AND 1440)
) STRICT;

-- From one day to another, both closed: for all, or for one person who is away.
CREATE TABLE closed_day (
  id INTEGER PRIMARY KEY,
  from_on TEXT NOT NULL CHECK (from_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  to_on TEXT NOT NULL CHECK (to_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  why TEXT NOT NULL CHECK (length(why) <= 60),
  person_id INTEGER REFERENCES person (id),
  CHECK (from_on <= to_on)
) STRICT;

-- What is known of a garment besides its tiers: all its sewing, and the day that was agreed for the last fitting.
CREATE TABLE garment_work (
  garment_id INTEGER PRIMARY KEY REFERENCES garment (id),
  sewing_minutes INTEGER CHECK (sewing_minutes BETWEEN 1 AND 600000),
  fitting_on TEXT CHECK (fitting_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]')
) STRICT;

-- Somebody begins work on a garment, leaves it for now, or is done with it for good; the last tap of a work tells how
-- it stands. A tap that was a mistake is followed by another.
CREATE TABLE work_tap (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  work TEXT NOT NULL CHECK (work IN ('swatch', 'dye', 'cut', 'sew', 'fit')),
  tap TEXT NOT NULL CHECK (tap IN ('begun', 'left', 'done')),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX work_tap_by_garment ON work_tap (garment_id, id);

CREATE TRIGGER work_tap_never_changes BEFORE UPDATE ON work_tap
BEGIN SELECT RAISE(ABORT, 'a tap is followed by another, not changed'); END;
CREATE TRIGGER work_tap_never_goes BEFORE DELETE ON work_tap
BEGIN SELECT RAISE(ABORT, 'a tap stays in the book'); END;
CREATE TRIGGER work_tap_never_replaced BEFORE INSERT ON work_tap
WHEN EXISTS (SELECT 1 FROM work_tap WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a tap is followed by another, not replaced'); END;

-- Cloth that is out at a pleater: what was sent, when it is expected, and how it measured when it came back. The length is
-- held for another use of its piece, so that nobody takes it, and cut for that use once it is back; whether it is out
-- is read from those entries, so an undo needs to know nothing of pleating.
CREATE TABLE pleating (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  other_use_id INTEGER NOT NULL UNIQUE REFERENCES other_use (id),
  pleater TEXT NOT NULL CHECK (length(pleater) BETWEEN 1 AND 120),
  asked TEXT NOT NULL CHECK (length(asked) <= 500),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 1 AND 16000000000),
  width_ticks INTEGER NOT NULL CHECK (width_ticks BETWEEN 1 AND 16000000000),
  sent_on TEXT NOT NULL CHECK (sent_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  expected_on TEXT NOT NULL CHECK (expected_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  CHECK (sent_on <= expected_on)
) STRICT;
CREATE INDEX pleating_by_piece ON pleating (piece_id);
CREATE TRIGGER pleating_never_changes BEFORE UPDATE ON pleating
BEGIN SELECT RAISE(ABORT, 'what was sent to a pleater is never changed'); END;
CREATE TRIGGER pleating_never_goes BEFORE DELETE ON pleating
BEGIN SELECT RAISE(ABORT, 'what was sent to a pleater is never removed'); END;
CREATE TRIGGER pleating_never_replaced BEFORE INSERT ON pleating
WHEN EXISTS (SELECT 1 FROM pleating WHERE id = NEW.id OR other_use_id = NEW.other_use_id)
BEGIN SELECT RAISE(ABORT, 'what was sent to a pleater is never removed'); END;

-- The newest row of a pleating holds.
CREATE TABLE pleating_back (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  pleating_id INTEGER NOT NULL REFERENCES pleating (id),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 1 AND 16000000000),
  width_ticks INTEGER NOT NULL CHECK (width_ticks BETWEEN 1 AND 16000000000),
  back_on TEXT NOT NULL CHECK (back_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]')
) STRICT;
CREATE INDEX pleating_back_by_pleating ON pleating_back (pleating_id);
CREATE TRIGGER pleating_back_never_changes BEFORE UPDATE ON pleating_back
BEGIN SELECT RAISE(ABORT, 'how pleated cloth measured is never changed'); END;
CREATE TRIGGER pleating_back_never_goes BEFORE DELETE ON pleating_back
BEGIN SELECT RAISE(ABORT, 'how pleated cloth measured is never removed'); END;
CREATE TRIGGER pleating_back_never_replaced BEFORE INSERT ON pleating_back
WHEN EXISTS (SELECT 1 FROM pleating_back WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'how pleated cloth measured is never removed'); END;

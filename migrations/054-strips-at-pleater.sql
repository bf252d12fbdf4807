-- Strips that were cut and joined, and are out at a pleater: the cloth has left the shelf when it was cut, so nothing of the
-- ledger follows. What comes back is measured; a sending that never happened is called off.
CREATE TABLE strips_pleated (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  strips INTEGER NOT NULL CHECK (strips BETWEEN 1 AND 100000),
  pleater TEXT NOT NULL CHECK (length(pleater) BETWEEN 1 AND 120),
  asked TEXT NOT NULL CHECK (length(asked) <= 500),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 1 AND 16000000000),
  width_ticks INTEGER NOT NULL CHECK (width_ticks BETWEEN 1 AND 16000000000),
  sent_on TEXT NOT NULL CHECK (sent_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  expected_on TEXT NOT NULL CHECK (expected_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  back_on TEXT CHECK (back_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  back_length_ticks INTEGER CHECK (back_length_ticks BETWEEN 1 AND 16000000000),
  back_width_ticks INTEGER CHECK (back_width_ticks BETWEEN 1 AND 16000000000),
  called_off INTEGER NOT NULL DEFAULT 0 CHECK (called_off IN (0, 1)),
  CHECK (sent_on <= expected_on),
  CHECK (back_on >= sent_on),
  CHECK ((back_on IS NULL) = (back_length_ticks IS NULL)),
  CHECK ((back_on IS NULL) = (back_width_ticks IS NULL)),
  CHECK (called_off = 0 OR back_on IS NULL)
) STRICT;
CREATE INDEX strips_pleated_by_tier ON strips_pleated (tier_id);
CREATE TRIGGER strips_pleated_keeps_what_was_sent
BEFORE UPDATE OF id, tier_id, strips, pleater, asked, length_ticks, width_ticks, sent_on, expected_on ON strips_pleated
BEGIN SELECT RAISE(ABORT, 'what was sent to a pleater is never changed'); END;
CREATE TRIGGER strips_pleated_never_goes BEFORE DELETE ON strips_pleated
BEGIN SELECT RAISE(ABORT, 'what was sent to a pleater is never removed'); END;
CREATE TRIGGER strips_pleated_never_replaced BEFORE INSERT ON strips_pleated
WHEN EXISTS (SELECT 1 FROM strips_pleated WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'what was sent to a pleater is never replaced'); END;

-- Whether a credit that differs from what was expected is settled, so that nobody has to look at it again.
ALTER TABLE return_credit ADD COLUMN settled INTEGER NOT NULL DEFAULT 0 CHECK (settled IN (0, 1));

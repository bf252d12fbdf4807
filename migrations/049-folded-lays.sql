-- How often a cloth is folded lengthwise to be cut, whether a fold line may lie in a strip of it, and what work at the
-- cutting table takes.
ALTER TABLE cloth ADD COLUMN fold_limit INTEGER NOT NULL DEFAULT 0 CHECK (fold_limit BETWEEN 0 AND 3);
ALTER TABLE cloth ADD COLUMN fold_line_in_strips INTEGER NOT NULL DEFAULT 1 CHECK (fold_line_in_strips IN (0, 1));

-- One row at most: seconds for a length, a fold, the pins of a stack and a stroke; ticks that the knife goes in a minute.
CREATE TABLE table_rate (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  pull_seconds INTEGER NOT NULL CHECK (pull_seconds BETWEEN 0 AND 3600),
  fold_seconds INTEGER NOT NULL CHECK (fold_seconds BETWEEN 0 AND 3600),
  pin_seconds INTEGER NOT NULL CHECK (pin_seconds BETWEEN 0 AND 3600),
  stroke_seconds INTEGER NOT NULL CHECK (stroke_seconds BETWEEN 0 AND 3600),
  knife_ticks_min INTEGER NOT NULL CHECK (knife_ticks_min BETWEEN 1 AND 16000000),
  fold_allowance_ticks INTEGER NOT NULL CHECK (fold_allowance_ticks BETWEEN 0 AND 3200),
  typed TEXT NOT NULL CHECK (json_valid(typed))
) STRICT;

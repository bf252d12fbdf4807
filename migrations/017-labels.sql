-- Labels with a code that a phone reads: the address that stands in the code, the sheets that labels are printed
-- on, and what was printed when. Lengths are ticks of 1/160 mm.

-- The address of the workroom on its network; the newest is in force, and labels at an older one are found.
CREATE TABLE label_address (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  address TEXT NOT NULL CHECK (length(address) BETWEEN 8 AND 120),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;

CREATE TABLE label_sheet (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  paper TEXT NOT NULL CHECK (paper IN ('A4', 'Letter')),
  columns INTEGER NOT NULL CHECK (columns BETWEEN 1 AND 10),
  rows INTEGER NOT NULL CHECK (rows BETWEEN 1 AND 20),
  width_ticks INTEGER NOT NULL CHECK (width_ticks BETWEEN 1 AND 160000),
  height_ticks INTEGER NOT NULL CHECK (height_ticks BETWEEN 1 AND 160000),
  left_ticks INTEGER NOT NULL CHECK (left_ticks BETWEEN 0 AND 160000),
  top_ticks INTEGER NOT NULL CHECK (top_ticks BETWEEN 0 AND 160000),
  across_ticks INTEGER NOT NULL CHECK (across_ticks BETWEEN 0 AND 160000),
  down_ticks INTEGER NOT NULL CHECK (down_ticks BETWEEN 0 AND 160000),
  nudge_right_ticks INTEGER NOT NULL CHECK (nudge_right_ticks BETWEEN -1600 AND 1600),
  nudge_down_ticks INTEGER NOT NULL CHECK (nudge_down_ticks BETWEEN -1600 AND 1600)
) STRICT;

CREATE TABLE label_run (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  label_sheet_id INTEGER NOT NULL REFERENCES label_sheet (id),
  label_address_id INTEGER NOT NULL REFERENCES label_address (id),
  first_place INTEGER NOT NULL CHECK (first_place BETWEEN 1 AND 200),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;

-- One label: of a piece with its length as it was printed, of a batch, or of a place.
CREATE TABLE label (
  label_run_id INTEGER NOT NULL REFERENCES label_run (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 500),
  piece_id INTEGER REFERENCES piece (id),
  batch_id INTEGER REFERENCES batch (id),
  place_id INTEGER REFERENCES place (id),
  on_hand_ticks INTEGER CHECK (on_hand_ticks >= 0),
  PRIMARY KEY (label_run_id, position),
  CHECK ((piece_id IS NOT NULL) + (batch_id IS NOT NULL) + (place_id IS NOT NULL) = 1),
  CHECK ((piece_id IS NULL) = (on_hand_ticks IS NULL))
) STRICT, WITHOUT ROWID;
CREATE INDEX label_by_piece ON label (piece_id, label_run_id) WHERE piece_id IS NOT NULL;
CREATE INDEX label_by_batch ON label (batch_id, label_run_id) WHERE batch_id IS NOT NULL;
CREATE INDEX label_by_place ON label (place_id, label_run_id) WHERE place_id IS NOT NULL;

-- What is made: a garment, the girths it hangs over, its tiers and their colour blocks.

-- `version` counts the changes, so that a form that was opened before somebody else's change is noticed.
CREATE TABLE garment (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  due_on TEXT CHECK (due_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  finished_at TEXT CHECK (finished_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  changed_at TEXT CHECK (changed_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  changed_by_id INTEGER REFERENCES person (id)
) STRICT;
CREATE INDEX garment_open ON garment (due_on) WHERE finished_at IS NULL;
CREATE INDEX garment_finished ON garment (finished_at) WHERE finished_at IS NOT NULL;

CREATE TABLE girth (
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  drop_ticks INTEGER NOT NULL CHECK (drop_ticks BETWEEN 0 AND 1600000),
  girth_ticks INTEGER NOT NULL CHECK (girth_ticks BETWEEN 1 AND 16000000),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  PRIMARY KEY (garment_id, drop_ticks)
) STRICT, WITHOUT ROWID;

-- A tier hangs from the form at a drop, or edges another tier's lower edge.
CREATE TABLE tier (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 1000),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  drop_ticks INTEGER CHECK (drop_ticks BETWEEN 0 AND 1600000),
  edges_tier_id INTEGER REFERENCES tier (id),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  depth_ticks INTEGER NOT NULL CHECK (depth_ticks BETWEEN 1 AND 1600000),
  fullness_milli INTEGER NOT NULL CHECK (fullness_milli BETWEEN 1000 AND 20000),
  ring INTEGER NOT NULL CHECK (ring IN (0, 1)),
  seam_ticks INTEGER NOT NULL CHECK (seam_ticks BETWEEN 0 AND 160000),
  end_ticks INTEGER NOT NULL CHECK (end_ticks BETWEEN 0 AND 160000),
  heading_ticks INTEGER NOT NULL CHECK (heading_ticks BETWEEN 0 AND 160000),
  hang_seam_ticks INTEGER NOT NULL DEFAULT 0 CHECK (hang_seam_ticks BETWEEN 0 AND 160000),
  hem_ticks INTEGER NOT NULL CHECK (hem_ticks BETWEEN 0 AND 160000),
  strip_length_ticks INTEGER CHECK (strip_length_ticks BETWEEN 1 AND 16000000),
  finish_repeat INTEGER NOT NULL CHECK (finish_repeat IN (0, 1)),
  taken_out_at TEXT CHECK (taken_out_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  changed_at TEXT CHECK (changed_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  changed_by_id INTEGER REFERENCES person (id),
  CHECK ((drop_ticks IS NULL) <> (edges_tier_id IS NULL)),
  CHECK (edges_tier_id IS NULL OR edges_tier_id <> id)
) STRICT;
CREATE INDEX tier_by_garment ON tier (garment_id, position);
CREATE INDEX tier_by_edged ON tier (edges_tier_id) WHERE edges_tier_id IS NOT NULL;

-- The size of strip that a tier asked for, from which entry of the ledger on: strips that were cut before a
-- change are of the older size.
CREATE TABLE tier_size (
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  after_entry_id INTEGER NOT NULL CHECK (after_entry_id >= 0),
  cut_depth_ticks INTEGER NOT NULL CHECK (cut_depth_ticks BETWEEN 1 AND 16000000),
  strip_length_ticks INTEGER NOT NULL CHECK (strip_length_ticks BETWEEN 1 AND 16000000),
  PRIMARY KEY (tier_id, after_entry_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE colour_block (
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 200),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  strips INTEGER NOT NULL CHECK (strips BETWEEN 1 AND 10000),
  lots TEXT NOT NULL DEFAULT 'one' CHECK (lots IN ('one', 'any')),
  PRIMARY KEY (tier_id, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX colour_block_by_shade ON colour_block (shade_id);

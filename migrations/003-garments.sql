-- What is made: a garment, the girths it hangs over, its tiers and their colour blocks.

CREATE TABLE garment (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  due_on TEXT CHECK (due_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  finished_at TEXT CHECK (finished_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z')
) STRICT;

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
  hem_ticks INTEGER NOT NULL CHECK (hem_ticks BETWEEN 0 AND 160000),
  strip_length_ticks INTEGER CHECK (strip_length_ticks BETWEEN 1 AND 16000000),
  finish_repeat INTEGER NOT NULL CHECK (finish_repeat IN (0, 1)),
  taken_out_at TEXT CHECK (taken_out_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  CHECK ((drop_ticks IS NULL) <> (edges_tier_id IS NULL)),
  CHECK (edges_tier_id IS NULL OR edges_tier_id <> id)
) STRICT;
CREATE INDEX tier_by_garment ON tier (garment_id, position);

CREATE TABLE colour_block (
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 200),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  strips INTEGER NOT NULL CHECK (strips BETWEEN 1 AND 10000),
  PRIMARY KEY (tier_id, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX colour_block_by_shade ON colour_block (shade_id);

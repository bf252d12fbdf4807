-- What a garment hangs over in full, and where and how each tier is sewn on.

ALTER TABLE garment ADD COLUMN waist_height_ticks INTEGER CHECK (waist_height_ticks BETWEEN 1 AND 1600000);
ALTER TABLE garment ADD COLUMN clearance_ticks INTEGER CHECK (clearance_ticks BETWEEN 0 AND 1600000);
-- Drops from the waist to a level hem over a tilted form, measured down the surface.
ALTER TABLE garment ADD COLUMN front_drop_ticks INTEGER CHECK (front_drop_ticks BETWEEN 1 AND 1600000);
ALTER TABLE garment ADD COLUMN side_drop_ticks INTEGER CHECK (side_drop_ticks BETWEEN 1 AND 1600000);
ALTER TABLE garment ADD COLUMN back_drop_ticks INTEGER CHECK (back_drop_ticks BETWEEN 1 AND 1600000);
-- How the form runs between two hoops.
ALTER TABLE garment ADD COLUMN profile TEXT NOT NULL DEFAULT 'straight' CHECK (profile IN ('straight', 'domed'));
-- How much more the foundation layer measures round than the form.
ALTER TABLE garment ADD COLUMN foundation_ease_ticks INTEGER NOT NULL DEFAULT 0 CHECK (foundation_ease_ticks BETWEEN 0 AND 1600000);
-- How far lots that meet may differ, in hundredths of a CIEDE2000 unit.
ALTER TABLE garment ADD COLUMN meet_centi_delta_e INTEGER NOT NULL DEFAULT 100 CHECK (meet_centi_delta_e BETWEEN 0 AND 10000);
ALTER TABLE garment ADD COLUMN typed TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(typed));

-- A hoop is given by its width and, where it is not round, its depth from front to back. The girth follows from them.
ALTER TABLE girth ADD COLUMN hoop_width_ticks INTEGER CHECK (hoop_width_ticks BETWEEN 1 AND 16000000);
ALTER TABLE girth ADD COLUMN hoop_depth_ticks INTEGER CHECK (hoop_depth_ticks BETWEEN 1 AND 16000000) CHECK (hoop_depth_ticks IS NULL OR hoop_width_ticks IS NOT NULL);

-- A tier hangs from the form or its foundation layer at a drop, edges another tier's lower edge, or lies on another
-- tier's face at a height above that edge. Its fullness is of what it is sewn on, or of the cut length of another tier.
CREATE TABLE tier_new (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 1000),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  hangs TEXT NOT NULL CHECK (hangs IN ('form', 'foundation', 'edge', 'face')),
  drop_ticks INTEGER CHECK (drop_ticks BETWEEN 0 AND 1600000),
  on_tier_id INTEGER REFERENCES tier (id),
  height_ticks INTEGER CHECK (height_ticks BETWEEN 1 AND 1600000),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  depth_ticks INTEGER NOT NULL CHECK (depth_ticks BETWEEN 1 AND 1600000),
  overlap_ticks INTEGER NOT NULL DEFAULT 0 CHECK (overlap_ticks BETWEEN 0 AND 1600000),
  fullness_milli INTEGER NOT NULL CHECK (fullness_milli BETWEEN 1000 AND 20000),
  ratio_tier_id INTEGER REFERENCES tier (id),
  ring INTEGER NOT NULL CHECK (ring IN (0, 1)),
  seam_kind TEXT NOT NULL DEFAULT 'plain' CHECK (seam_kind IN ('plain', 'french', 'overlocked')),
  seam_ticks INTEGER NOT NULL CHECK (seam_ticks BETWEEN 0 AND 160000),
  end_ticks INTEGER NOT NULL CHECK (end_ticks BETWEEN 0 AND 160000),
  heading_ticks INTEGER NOT NULL CHECK (heading_ticks BETWEEN 0 AND 160000),
  upper_edge TEXT NOT NULL DEFAULT 'seam' CHECK (upper_edge IN ('seam', 'rolled', 'narrow', 'faced', 'bound', 'raw')),
  hang_seam_ticks INTEGER NOT NULL DEFAULT 0 CHECK (hang_seam_ticks BETWEEN 0 AND 160000),
  lower_edge TEXT NOT NULL DEFAULT 'narrow' CHECK (lower_edge IN ('rolled', 'narrow', 'faced', 'bound', 'raw')),
  hem_ticks INTEGER NOT NULL CHECK (hem_ticks BETWEEN 0 AND 160000),
  hem_first INTEGER NOT NULL DEFAULT 0 CHECK (hem_first IN (0, 1)),
  direction TEXT NOT NULL DEFAULT 'across' CHECK (direction IN ('across', 'along', 'either')),
  strip_length_ticks INTEGER CHECK (strip_length_ticks BETWEEN 1 AND 16000000),
  offset_strips INTEGER NOT NULL DEFAULT 0 CHECK (offset_strips BETWEEN 0 AND 10000),
  finish_repeat INTEGER NOT NULL CHECK (finish_repeat IN (0, 1)),
  taken_out_at TEXT CHECK (taken_out_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  version INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  changed_at TEXT CHECK (changed_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  changed_by_id INTEGER REFERENCES person (id),
  CHECK ((drop_ticks IS NULL) = (hangs IN ('edge', 'face'))),
  CHECK ((on_tier_id IS NULL) = (hangs IN ('form', 'foundation'))),
  CHECK ((height_ticks IS NULL) = (hangs <> 'face')),
  CHECK (on_tier_id IS NULL OR on_tier_id <> id),
  CHECK (ratio_tier_id IS NULL OR ratio_tier_id <> id)
) STRICT;
INSERT INTO tier_new (
  id, garment_id, position, name, hangs, drop_ticks, on_tier_id, cloth_id, depth_ticks, fullness_milli, ring,
  seam_ticks, end_ticks, heading_ticks, hang_seam_ticks, hem_ticks, strip_length_ticks, finish_repeat, taken_out_at,
  typed, version, changed_at, changed_by_id)
SELECT
  id, garment_id, position, name, iif(edges_tier_id IS NULL, 'form', 'edge'), drop_ticks, edges_tier_id, cloth_id,
  depth_ticks, fullness_milli, ring, seam_ticks, end_ticks, heading_ticks, hang_seam_ticks, hem_ticks,
  strip_length_ticks, finish_repeat, taken_out_at, typed, version, changed_at, changed_by_id
FROM tier;
-- A number is never given twice, not even one whose tier is gone.
DELETE FROM sqlite_sequence WHERE name = 'tier_new';
INSERT INTO sqlite_sequence (name, seq) SELECT 'tier_new', seq FROM sqlite_sequence WHERE name = 'tier';
DROP TABLE tier;
ALTER TABLE tier_new RENAME TO tier;
CREATE INDEX tier_by_garment ON tier (garment_id, position);
CREATE INDEX tier_by_on ON tier (on_tier_id) WHERE on_tier_id IS NOT NULL;
CREATE INDEX tier_by_ratio ON tier (ratio_tier_id) WHERE ratio_tier_id IS NOT NULL;

-- The size of strip that a tier asked for of each of its cloths, from which entry of the ledger on.
CREATE TABLE tier_size_new (
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  after_entry_id INTEGER NOT NULL CHECK (after_entry_id >= 0),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  cut_depth_ticks INTEGER NOT NULL CHECK (cut_depth_ticks BETWEEN 1 AND 16000000),
  strip_length_ticks INTEGER NOT NULL CHECK (strip_length_ticks BETWEEN 1 AND 16000000),
  PRIMARY KEY (tier_id, after_entry_id, cloth_id)
) STRICT, WITHOUT ROWID;
INSERT INTO tier_size_new (tier_id, after_entry_id, cloth_id, cut_depth_ticks, strip_length_ticks)
SELECT tier_id, after_entry_id, tier.cloth_id, cut_depth_ticks, tier_size.strip_length_ticks
FROM tier_size JOIN tier ON tier.id = tier_size.tier_id;
DROP TABLE tier_size;
ALTER TABLE tier_size_new RENAME TO tier_size;

-- A block without a cloth of its own is cut from its tier's cloth.
CREATE TABLE colour_block_new (
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 200),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  cloth_id INTEGER REFERENCES cloth (id),
  strips INTEGER NOT NULL CHECK (strips BETWEEN 1 AND 10000),
  lots TEXT NOT NULL DEFAULT 'one' CHECK (lots IN ('one', 'meet', 'any')),
  PRIMARY KEY (tier_id, position)
) STRICT, WITHOUT ROWID;
INSERT INTO colour_block_new (tier_id, position, shade_id, strips, lots)
SELECT tier_id, position, shade_id, strips, lots FROM colour_block;
DROP TABLE colour_block;
ALTER TABLE colour_block_new RENAME TO colour_block;
CREATE INDEX colour_block_by_shade ON colour_block (shade_id);

-- How the workroom sews: its own rates, measured thread and stitches, and the thread of a tier. All of it is asked,
-- so what nobody has given is NULL or has no row.

-- One row at most. A shop cuts cloth to a step of its own, by the metre or by the yard.
CREATE TABLE sewing (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  waste_bp INTEGER CHECK (waste_bp BETWEEN 0 AND 10000),
  put_up_ticks INTEGER CHECK (put_up_ticks BETWEEN 1600000 AND 16000000000),
  metric_step_ticks INTEGER NOT NULL CHECK (metric_step_ticks BETWEEN 160 AND 1600000),
  imperial_step_ticks INTEGER NOT NULL CHECK (imperial_step_ticks BETWEEN 127 AND 1463040),
  typed TEXT NOT NULL CHECK (json_valid(typed))
) STRICT;

-- What is sewn alike: a kind of seam or edge, gathering, attaching. `passes` counts how often the same length is
-- sewn, such as two rows of gathering; the rate is the length sewn in a minute. The ratios are thread for a length
-- of seam as measured on a sample, one for each thread of the stitch or one for all of them together.
CREATE TABLE sewing_job (
  job TEXT NOT NULL CHECK (job IN ('plain', 'french', 'overlocked', 'rolled', 'narrow', 'faced', 'bound', 'gathering', 'attaching')),
  stitch TEXT CHECK (stitch IN ('101', '301', '304', '401', '504')),
  stitches_milli_in INTEGER CHECK (stitches_milli_in BETWEEN 1 AND 100000),
  thickness_um INTEGER CHECK (thickness_um BETWEEN 1 AND 50000),
  stitch_width_um INTEGER CHECK (stitch_width_um BETWEEN 1 AND 50000),
  ratio_1_milli INTEGER CHECK (ratio_1_milli BETWEEN 1 AND 100000),
  ratio_2_milli INTEGER CHECK (ratio_2_milli BETWEEN 1 AND 100000),
  ratio_3_milli INTEGER CHECK (ratio_3_milli BETWEEN 1 AND 100000),
  passes INTEGER NOT NULL CHECK (passes BETWEEN 1 AND 10),
  rate_ticks_min INTEGER CHECK (rate_ticks_min BETWEEN 1 AND 16000000),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  PRIMARY KEY (job)
) STRICT, WITHOUT ROWID;

-- The thread that a tier is sewn with, where it is not that of the shade with most strips.
CREATE TABLE tier_thread (
  tier_id INTEGER PRIMARY KEY REFERENCES tier (id),
  shade_id INTEGER NOT NULL REFERENCES shade (id)
) STRICT;

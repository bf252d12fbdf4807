-- Cut plans that are held, and what a lot really looks like.

-- A plan is of one cloth and shade of one garment. It is written when it is held, in the transaction that holds its
-- lengths: `held_key` is that request, which says who and when. It is held as long as entries of that request stand,
-- and given up once a request in `given_up_key` stands; so an undo needs to know nothing of plans. What was found of a
-- plan stays as it was: the job's hash, what was wished for, what is charged and what is proved. Areas are square ticks.
CREATE TABLE cut_plan (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  held_key TEXT NOT NULL REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  given_up_key TEXT REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  job_hash TEXT NOT NULL CHECK (length(job_hash) = 64),
  wish TEXT NOT NULL CHECK (wish IN ('least length', 'fewest lays', 'longest remnants')),
  short_strips INTEGER NOT NULL CHECK (short_strips BETWEEN 0 AND 10000),
  charged_ticks INTEGER NOT NULL CHECK (charged_ticks BETWEEN 0 AND 16000000000),
  charged_area INTEGER NOT NULL CHECK (charged_area BETWEEN 0 AND 9000000000000000),
  bound_area INTEGER NOT NULL CHECK (bound_area BETWEEN 0 AND 9000000000000000),
  bound_over TEXT NOT NULL CHECK (bound_over IN ('all lots', 'these lots'))
) STRICT;
CREATE INDEX cut_plan_by_need ON cut_plan (garment_id, cloth_id, shade_id);
CREATE TRIGGER cut_plan_stays BEFORE UPDATE OF id, garment_id, cloth_id, shade_id, held_key, job_hash, wish,
  short_strips, charged_ticks, charged_area, bound_area, bound_over ON cut_plan
BEGIN SELECT RAISE(ABORT, 'a cut plan stays as it was held'); END;
CREATE TRIGGER cut_plan_never_goes BEFORE DELETE ON cut_plan
BEGIN SELECT RAISE(ABORT, 'a cut plan is given up, not removed'); END;

-- One straight drop of a piece, in the order of cutting. Along the piece it is counted from where the free end first
-- was, as flaws are. `slit_into` is a list of runs of equal strips from the left edge: tier, size, whether turned, how
-- many beside and behind each other. `cut_key` is the request that cut it, and says so as long as its entries stand.
CREATE TABLE cut_lay (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  plan_id INTEGER NOT NULL REFERENCES cut_plan (id),
  position INTEGER NOT NULL CHECK (position BETWEEN 1 AND 10000),
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  from_ticks INTEGER NOT NULL CHECK (from_ticks BETWEEN 0 AND 16000000000),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 1 AND 1600000000),
  slit_into TEXT NOT NULL CHECK (json_valid(slit_into)),
  cut_key TEXT REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  UNIQUE (plan_id, position)
) STRICT;
CREATE INDEX cut_lay_by_piece ON cut_lay (piece_id);
CREATE TRIGGER cut_lay_stays BEFORE UPDATE OF id, plan_id, position, piece_id, from_ticks, length_ticks, slit_into ON cut_lay
BEGIN SELECT RAISE(ABORT, 'a lay stays as it was held'); END;
CREATE TRIGGER cut_lay_never_goes BEFORE DELETE ON cut_lay
BEGIN SELECT RAISE(ABORT, 'a lay is never removed'); END;

-- What a lay gives each tier, and how much of its length is held for that tier: the parts add up to the lay's length.
CREATE TABLE cut_lay_tier (
  lay_id INTEGER NOT NULL REFERENCES cut_lay (id),
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  strips INTEGER NOT NULL CHECK (strips BETWEEN 1 AND 10000),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 1 AND 1600000000),
  PRIMARY KEY (lay_id, tier_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX cut_lay_tier_by_tier ON cut_lay_tier (tier_id);
CREATE TRIGGER cut_lay_tier_stays BEFORE UPDATE ON cut_lay_tier
BEGIN SELECT RAISE(ABORT, 'what a lay gives stays as it was held'); END;
CREATE TRIGGER cut_lay_tier_never_goes BEFORE DELETE ON cut_lay_tier
BEGIN SELECT RAISE(ABORT, 'what a lay gives is never removed'); END;

-- The colour of a lot itself, beside the shade it was meant to be: CIELAB, D65 and the 2 degree observer.
CREATE TABLE lot_colour (
  lot_id INTEGER PRIMARY KEY REFERENCES lot (id),
  lab_l REAL NOT NULL CHECK (lab_l BETWEEN 0 AND 100),
  lab_a REAL NOT NULL CHECK (lab_a BETWEEN -200 AND 200),
  lab_b REAL NOT NULL CHECK (lab_b BETWEEN -200 AND 200),
  how TEXT NOT NULL CHECK (how IN ('instrument', 'typed')),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;

-- A request is written last in its transaction, and what already points to it is then looked for.
CREATE INDEX cut_plan_by_held ON cut_plan (held_key);
CREATE INDEX cut_plan_by_given_up ON cut_plan (given_up_key) WHERE given_up_key IS NOT NULL;
CREATE INDEX cut_lay_by_cut ON cut_lay (cut_key) WHERE cut_key IS NOT NULL;

-- Buying: on what terms suppliers sell, what they offer at which price, what an order was priced by, and what was
-- measured and found on what came. Terms, offers and inspections are added to and never changed: the newest that is
-- in force counts, and the older ones are the history of prices.

-- The rate is millionths of the workroom's currency for one whole unit of the supplier's. Freight and the goods from
-- which it is free are minor units of the supplier's currency; without that sum it is never free.
CREATE TABLE supplier_terms (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  supplier_id INTEGER NOT NULL REFERENCES supplier (id),
  from_on TEXT NOT NULL CHECK (from_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  currency TEXT NOT NULL CHECK (currency GLOB '[A-Z][A-Z][A-Z]'),
  rate_millionths INTEGER NOT NULL CHECK (rate_millionths BETWEEN 1 AND 1000000000000),
  freight_minor INTEGER NOT NULL CHECK (freight_minor BETWEEN 0 AND 1000000000),
  freight_free_minor INTEGER CHECK (freight_free_minor BETWEEN 0 AND 1000000000),
  tax_bp INTEGER NOT NULL CHECK (tax_bp BETWEEN 0 AND 10000),
  returns TEXT NOT NULL DEFAULT '' CHECK (length(returns) <= 2000),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX supplier_terms_by_supplier ON supplier_terms (supplier_id, from_on);
CREATE TRIGGER supplier_terms_never_change BEFORE UPDATE ON supplier_terms
BEGIN SELECT RAISE(ABORT, 'terms are followed by newer ones, not changed'); END;
CREATE TRIGGER supplier_terms_never_go BEFORE DELETE ON supplier_terms
BEGIN SELECT RAISE(ABORT, 'terms stay in the book'); END;

-- One cloth of a supplier, in one shade or in any. What is sold by the length is cut in whole steps, and no less
-- than the least.
CREATE TABLE offer (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  supplier_id INTEGER NOT NULL REFERENCES supplier (id),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  shade_id INTEGER REFERENCES shade (id),
  article TEXT NOT NULL DEFAULT '' CHECK (length(article) <= 120),
  width_ticks INTEGER CHECK (width_ticks BETWEEN 1 AND 1600000),
  lead_days INTEGER CHECK (lead_days BETWEEN 0 AND 730),
  from_on TEXT NOT NULL CHECK (from_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  currency TEXT NOT NULL CHECK (currency GLOB '[A-Z][A-Z][A-Z]'),
  step_ticks INTEGER CHECK (step_ticks BETWEEN 1 AND 160000000),
  least_ticks INTEGER CHECK (least_ticks BETWEEN 0 AND 16000000000),
  withdrawn INTEGER NOT NULL CHECK (withdrawn IN (0, 1)),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  CHECK ((step_ticks IS NULL) = (least_ticks IS NULL))
) STRICT;
CREATE INDEX offer_by_supplier ON offer (supplier_id, cloth_id, shade_id, from_on);
CREATE INDEX offer_by_cloth ON offer (cloth_id);
CREATE TRIGGER offer_never_changes BEFORE UPDATE ON offer
BEGIN SELECT RAISE(ABORT, 'an offer is followed by a newer one, not changed'); END;
CREATE TRIGGER offer_never_goes BEFORE DELETE ON offer
BEGIN SELECT RAISE(ABORT, 'an offer stays in the book'); END;

-- A bolt of a length at a price for the whole of it, or a price by the length from some length on.
CREATE TABLE offer_price (
  offer_id INTEGER NOT NULL REFERENCES offer (id),
  put_up TEXT NOT NULL CHECK (put_up IN ('bolt', 'length')),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 0 AND 16000000000),
  price_minor INTEGER NOT NULL CHECK (price_minor BETWEEN 0 AND 1000000000),
  price_ticks INTEGER NOT NULL CHECK (price_ticks BETWEEN 1 AND 16000000000),
  PRIMARY KEY (offer_id, put_up, length_ticks)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER offer_price_never_changes BEFORE UPDATE ON offer_price
BEGIN SELECT RAISE(ABORT, 'a price is followed by a newer one, not changed'); END;
CREATE TRIGGER offer_price_never_goes BEFORE DELETE ON offer_price
BEGIN SELECT RAISE(ABORT, 'a price stays in the book'); END;

-- What an order is paid in and what comes on top of its lines. An order without a row is in the workroom's currency.
CREATE TABLE order_terms (
  order_id INTEGER PRIMARY KEY REFERENCES "order" (id),
  currency TEXT NOT NULL CHECK (currency GLOB '[A-Z][A-Z][A-Z]'),
  rate_millionths INTEGER NOT NULL CHECK (rate_millionths BETWEEN 1 AND 1000000000000),
  freight_minor INTEGER NOT NULL CHECK (freight_minor BETWEEN 0 AND 1000000000),
  tax_bp INTEGER NOT NULL CHECK (tax_bp BETWEEN 0 AND 10000)
) STRICT;

-- How a line was put up: so many bolts of an offer, or by the length.
CREATE TABLE order_line_offer (
  line_id INTEGER PRIMARY KEY REFERENCES order_line (id),
  offer_id INTEGER REFERENCES offer (id),
  bolts INTEGER CHECK (bolts BETWEEN 1 AND 10000)
) STRICT;

-- What is bought of a cloth beyond the need, in hundredths of a percent.
CREATE TABLE cloth_spare (
  cloth_id INTEGER PRIMARY KEY REFERENCES cloth (id),
  spare_bp INTEGER NOT NULL CHECK (spare_bp BETWEEN 0 AND 10000)
) STRICT;

-- How what comes is judged; the newest row counts.
CREATE TABLE grading_rule (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  holes TEXT NOT NULL CHECK (holes IN ('by size', 'always four')),
  most_points INTEGER NOT NULL CHECK (most_points BETWEEN 0 AND 400),
  short_bp INTEGER NOT NULL CHECK (short_bp BETWEEN 0 AND 10000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;

-- What was measured and found on a piece that came, and the rules it was judged by then; the newest counts.
CREATE TABLE inspection (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  marked_ticks INTEGER CHECK (marked_ticks BETWEEN 1 AND 16000000000),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 1 AND 16000000000),
  width_ticks INTEGER NOT NULL CHECK (width_ticks BETWEEN 1 AND 1600000),
  swatch_area_mm2 INTEGER CHECK (swatch_area_mm2 BETWEEN 10000 AND 100000000),
  swatch_mass_mg INTEGER CHECK (swatch_mass_mg BETWEEN 1 AND 1000000000),
  flaws TEXT NOT NULL CHECK (json_valid(flaws)),
  holes TEXT NOT NULL CHECK (holes IN ('by size', 'always four')),
  most_points INTEGER NOT NULL CHECK (most_points BETWEEN 0 AND 400),
  short_bp INTEGER NOT NULL CHECK (short_bp BETWEEN 0 AND 10000),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 500),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  CHECK ((swatch_area_mm2 IS NULL) = (swatch_mass_mg IS NULL))
) STRICT;
CREATE INDEX inspection_by_piece ON inspection (piece_id);
CREATE TRIGGER inspection_never_changes BEFORE UPDATE ON inspection
BEGIN SELECT RAISE(ABORT, 'an inspection is followed by a newer one, not changed'); END;
CREATE TRIGGER inspection_never_goes BEFORE DELETE ON inspection
BEGIN SELECT RAISE(ABORT, 'an inspection stays in the book'); END;

-- What a garment may cost, what fuel and auxiliaries cost, and what a delivery cost on top of its goods. Newer rows
-- follow older ones; the newest counts.

CREATE TABLE garment_budget (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  budget_minor INTEGER NOT NULL CHECK (budget_minor BETWEEN 0 AND 1000000000000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX garment_budget_by_garment ON garment_budget (garment_id, id);

-- Minor units for a kilowatt-hour.
CREATE TABLE energy_price (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  price_minor INTEGER NOT NULL CHECK (price_minor BETWEEN 0 AND 1000000000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;

-- Minor units for so many milligrams of an auxiliary in one form.
CREATE TABLE auxiliary_price (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  kind TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 60),
  form TEXT NOT NULL CHECK (length(form) BETWEEN 1 AND 60),
  price_minor INTEGER NOT NULL CHECK (price_minor BETWEEN 0 AND 1000000000),
  price_mg INTEGER NOT NULL CHECK (price_mg BETWEEN 1 AND 1000000000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX auxiliary_price_by_kind ON auxiliary_price (kind, form, id);

-- What the months cost is asked of these kinds only, by time.
CREATE INDEX entry_of_spending ON entry (at, kind, cost_minor)
WHERE kind IN ('received', 'back-from-dye', 'returned', 'written-off');

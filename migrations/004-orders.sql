-- What was asked of a supplier, and what came.

CREATE TABLE "order" (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  code TEXT NOT NULL UNIQUE CHECK (length(code) BETWEEN 1 AND 40),
  supplier_id INTEGER NOT NULL REFERENCES supplier (id),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  drafted_at TEXT NOT NULL CHECK (drafted_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  expected_on TEXT CHECK (expected_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  sent_at TEXT CHECK (sent_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  closed_at TEXT CHECK (closed_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  cancelled_at TEXT CHECK (cancelled_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  CHECK (closed_at IS NULL OR sent_at IS NOT NULL),
  CHECK (closed_at IS NULL OR cancelled_at IS NULL)
) STRICT;
CREATE INDEX order_open ON "order" (expected_on) WHERE closed_at IS NULL AND cancelled_at IS NULL;

-- The price is minor units for each price_ticks of length; money is rounded once a line.
CREATE TABLE order_line (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  order_id INTEGER NOT NULL REFERENCES "order" (id),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 1 AND 16000000000),
  price_minor INTEGER CHECK (price_minor BETWEEN 0 AND 1000000000),
  price_ticks INTEGER CHECK (price_ticks BETWEEN 1 AND 160000000),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  CHECK ((price_minor IS NULL) = (price_ticks IS NULL))
) STRICT;
CREATE INDEX order_line_by_order ON order_line (order_id);
CREATE INDEX order_line_by_cloth_shade ON order_line (cloth_id, shade_id);

-- One delivery, with an order or without one.
CREATE TABLE receipt (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  order_id INTEGER REFERENCES "order" (id),
  supplier_id INTEGER REFERENCES supplier (id),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX receipt_by_order ON receipt (order_id) WHERE order_id IS NOT NULL;

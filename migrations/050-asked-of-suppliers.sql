-- What is asked of suppliers besides the cloth: its lot, a sample, that a bolt is kept, and credit for what went back; and the
-- numbers that their papers have.
ALTER TABLE "order" ADD COLUMN supplier_number TEXT NOT NULL DEFAULT '' CHECK (length(supplier_number) <= 60);
CREATE INDEX order_by_supplier_number ON "order" (supplier_number COLLATE NOCASE) WHERE supplier_number <> '';
ALTER TABLE receipt ADD COLUMN invoice_number TEXT NOT NULL DEFAULT '' CHECK (length(invoice_number) <= 60);
CREATE INDEX receipt_by_invoice_number ON receipt (invoice_number COLLATE NOCASE) WHERE invoice_number <> '';

-- A line is asked for in one lot; in which, where it is to match what lies there.
CREATE TABLE order_line_lot (
  line_id INTEGER PRIMARY KEY REFERENCES order_line (id),
  lot_id INTEGER REFERENCES lot (id)
) STRICT;

-- Whether a delivery met what was asked of a line's lot.
CREATE TABLE lot_answer (
  receipt_id INTEGER NOT NULL REFERENCES receipt (id),
  line_id INTEGER NOT NULL REFERENCES order_line_lot (line_id),
  met INTEGER NOT NULL CHECK (met IN (0, 1)),
  PRIMARY KEY (receipt_id, line_id)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER lot_answer_never_replaced BEFORE INSERT ON lot_answer
WHEN EXISTS (SELECT 1 FROM lot_answer WHERE receipt_id = NEW.receipt_id AND line_id = NEW.line_id)
BEGIN SELECT RAISE(ABORT, 'what a delivery met is never replaced'); END;
CREATE TRIGGER lot_answer_never_changes BEFORE UPDATE ON lot_answer
BEGIN SELECT RAISE(ABORT, 'what a delivery met is never changed'); END;
CREATE TRIGGER lot_answer_never_goes BEFORE DELETE ON lot_answer
BEGIN SELECT RAISE(ABORT, 'what a delivery met stays in the book'); END;

-- A supplier keeps a length for the workroom until a day, the last included; it ends by an order or is let go.
CREATE TABLE reservation (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  supplier_id INTEGER NOT NULL REFERENCES supplier (id),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  shade_id INTEGER NOT NULL REFERENCES shade (id),
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN 1 AND 16000000000),
  typed TEXT NOT NULL CHECK (length(typed) <= 64),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 500),
  until_on TEXT NOT NULL CHECK (until_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  ended TEXT CHECK (ended IN ('ordered', 'let go')),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX reservation_by_supplier ON reservation (supplier_id);
CREATE INDEX reservation_open ON reservation (until_on) WHERE ended IS NULL;
CREATE TRIGGER reservation_keeps_its_length BEFORE UPDATE OF id, supplier_id, cloth_id, shade_id, length_ticks ON reservation
BEGIN SELECT RAISE(ABORT, 'a reservation keeps what it is of'); END;
CREATE TRIGGER reservation_never_replaced BEFORE INSERT ON reservation
WHEN EXISTS (SELECT 1 FROM reservation WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a reservation ends and is never replaced'); END;
CREATE TRIGGER reservation_never_goes BEFORE DELETE ON reservation
BEGIN SELECT RAISE(ABORT, 'a reservation ends and stays in the book'); END;

-- A sample that was asked of a supplier: when it came, and whether it is right. It may have been held against a swatch.
CREATE TABLE sample_request (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  supplier_id INTEGER NOT NULL REFERENCES supplier (id),
  cloth_id INTEGER NOT NULL REFERENCES cloth (id),
  shade_id INTEGER REFERENCES shade (id),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 500),
  asked_on TEXT NOT NULL CHECK (asked_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  came_on TEXT CHECK (came_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  verdict TEXT CHECK (verdict IN ('right', 'not right')),
  swatch_id INTEGER REFERENCES swatch (id),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  CHECK (came_on >= asked_on),
  CHECK (verdict IS NULL OR came_on IS NOT NULL)
) STRICT;
CREATE INDEX sample_request_by_supplier ON sample_request (supplier_id);
CREATE INDEX sample_request_by_swatch ON sample_request (swatch_id) WHERE swatch_id IS NOT NULL;
CREATE TRIGGER sample_request_keeps_its_cloth BEFORE UPDATE OF id, supplier_id, cloth_id, shade_id, asked_on ON sample_request
BEGIN SELECT RAISE(ABORT, 'a sample keeps what was asked'); END;
CREATE TRIGGER sample_request_never_replaced BEFORE INSERT ON sample_request
WHEN EXISTS (SELECT 1 FROM sample_request WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'what was asked of a supplier is never replaced'); END;
CREATE TRIGGER sample_request_never_goes BEFORE DELETE ON sample_request
BEGIN SELECT RAISE(ABORT, 'what was asked of a supplier stays in the book'); END;

-- The credit that is expected for what went back, and what came of it, in the workroom's minor units. A return that was
-- undone gets no credit, and one that credit came for is not undone.
CREATE TABLE return_credit (
  entry_id INTEGER PRIMARY KEY REFERENCES entry (id),
  expected_minor INTEGER NOT NULL CHECK (expected_minor BETWEEN 0 AND 1000000000000),
  come_minor INTEGER CHECK (come_minor BETWEEN 0 AND 1000000000000),
  come_on TEXT CHECK (come_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  number TEXT NOT NULL DEFAULT '' CHECK (length(number) <= 60),
  CHECK ((come_minor IS NULL) = (come_on IS NULL))
) STRICT;
CREATE TRIGGER return_credit_of_a_return AFTER INSERT ON return_credit
WHEN NOT EXISTS (SELECT 1 FROM entry WHERE id = NEW.entry_id AND kind = 'returned')
BEGIN SELECT RAISE(ABORT, 'credit is for what went back'); END;
CREATE TRIGGER return_credit_keeps_its_return BEFORE UPDATE OF entry_id, expected_minor ON return_credit
BEGIN SELECT RAISE(ABORT, 'a credit keeps its return and what was expected'); END;
CREATE TRIGGER return_credit_of_no_undone_return AFTER UPDATE OF come_minor ON return_credit
WHEN NEW.come_minor IS NOT NULL AND EXISTS (SELECT 1 FROM entry WHERE reverses_id = NEW.entry_id)
BEGIN SELECT RAISE(ABORT, 'a return that was undone gets no credit'); END;
CREATE TRIGGER return_credit_never_replaced BEFORE INSERT ON return_credit
WHEN EXISTS (SELECT 1 FROM return_credit WHERE entry_id = NEW.entry_id)
BEGIN SELECT RAISE(ABORT, 'a credit is never replaced'); END;
CREATE TRIGGER return_credit_never_goes BEFORE DELETE ON return_credit
BEGIN SELECT RAISE(ABORT, 'a credit stays in the book'); END;
CREATE TRIGGER entry_of_credit_is_not_undone BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM return_credit WHERE entry_id = NEW.reverses_id AND come_minor IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'a return that credit came for is not undone'); END;

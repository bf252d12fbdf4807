-- What suppliers offer of supplies, in whole put-ups: a tub of 100 g, a cone of 5000 m, a box of 50. Offers are added to and
-- never changed, as those of cloth.
CREATE TABLE supply_offer (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  supplier_id INTEGER NOT NULL REFERENCES supplier (id),
  supply_id INTEGER NOT NULL REFERENCES supply (id),
  article TEXT NOT NULL DEFAULT '' CHECK (length(article) <= 120),
  lead_days INTEGER CHECK (lead_days BETWEEN 0 AND 730),
  from_on TEXT NOT NULL CHECK (from_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  currency TEXT NOT NULL CHECK (currency GLOB '[A-Z][A-Z][A-Z]'),
  withdrawn INTEGER NOT NULL CHECK (withdrawn IN (0, 1)),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX supply_offer_by_supplier ON supply_offer (supplier_id, supply_id, from_on);
CREATE INDEX supply_offer_by_supply ON supply_offer (supply_id);
CREATE TRIGGER supply_offer_never_changes BEFORE UPDATE ON supply_offer
BEGIN SELECT RAISE(ABORT, 'an offer of a supply is followed by a newer one, not changed'); END;
CREATE TRIGGER supply_offer_never_goes BEFORE DELETE ON supply_offer
BEGIN SELECT RAISE(ABORT, 'an offer of a supply stays in the book'); END;
CREATE TRIGGER supply_offer_never_replaced BEFORE INSERT ON supply_offer
WHEN EXISTS (SELECT 1 FROM supply_offer WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an offer of a supply is followed by a newer one, not replaced'); END;

-- The price of one put-up, which holds so much of the supply, where so many or more are bought. put_up is what it is
-- called: "tub", "cone", or nothing.
CREATE TABLE supply_offer_price (
  offer_id INTEGER NOT NULL REFERENCES supply_offer (id),
  amount INTEGER NOT NULL CHECK (amount BETWEEN 1 AND 1000000000000),
  from_count INTEGER NOT NULL CHECK (from_count BETWEEN 1 AND 10000),
  put_up TEXT NOT NULL DEFAULT '' CHECK (length(put_up) <= 40),
  price_minor INTEGER NOT NULL CHECK (price_minor BETWEEN 0 AND 1000000000),
  PRIMARY KEY (offer_id, amount, from_count)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER supply_offer_price_never_changes BEFORE UPDATE ON supply_offer_price
BEGIN SELECT RAISE(ABORT, 'a price of a supply is followed by a newer one, not changed'); END;
CREATE TRIGGER supply_offer_price_never_goes BEFORE DELETE ON supply_offer_price
BEGIN SELECT RAISE(ABORT, 'a price of a supply stays in the book'); END;
CREATE TRIGGER supply_offer_price_never_replaced BEFORE INSERT ON supply_offer_price
WHEN EXISTS (SELECT 1 FROM supply_offer_price
  WHERE offer_id = NEW.offer_id AND amount = NEW.amount AND from_count = NEW.from_count)
BEGIN SELECT RAISE(ABORT, 'a price of a supply is followed by a newer one, not replaced'); END;

-- A line of an order that asks for a supply: so many put-ups, each of so much, at a price for one of them. It stands
-- beside the lines of cloth, which are counted by length and shade.
CREATE TABLE supply_order_line (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  order_id INTEGER NOT NULL REFERENCES "order" (id),
  supply_id INTEGER NOT NULL REFERENCES supply (id),
  offer_id INTEGER REFERENCES supply_offer (id),
  put_ups INTEGER NOT NULL CHECK (put_ups BETWEEN 1 AND 10000),
  put_up TEXT NOT NULL DEFAULT '' CHECK (length(put_up) <= 40),
  amount INTEGER NOT NULL CHECK (amount BETWEEN 1 AND 1000000000000),
  price_minor INTEGER CHECK (price_minor BETWEEN 0 AND 1000000000),
  typed TEXT NOT NULL CHECK (json_valid(typed))
) STRICT;
CREATE INDEX supply_order_line_by_order ON supply_order_line (order_id);
CREATE INDEX supply_order_line_by_supply ON supply_order_line (supply_id);
CREATE TRIGGER workroom_keeps_currency_of_supply_orders BEFORE UPDATE OF currency ON workroom
WHEN NEW.currency <> OLD.currency AND EXISTS (SELECT 1 FROM supply_order_line WHERE price_minor IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'the currency stays once a supply is ordered at a price'); END;

-- Some of a lot can be promised to a garment: it is held, and what is free is on hand less held.
ALTER TABLE supply_lot ADD COLUMN held INTEGER NOT NULL DEFAULT 0 CHECK (held BETWEEN 0 AND on_hand);
DROP INDEX supply_lot_by_supply;
CREATE INDEX supply_lot_by_supply ON supply_lot (supply_id, on_hand, held, cost_minor);

-- The ledger of supplies is built again, since the checks of a table cannot be changed: entries may hold and release, and
-- what was received may be of a delivery and of a line of an order. The rows, their numbers and all other rules stay.
DROP TRIGGER request_of_its_supply_entries;
DROP TRIGGER supply_lot_follows_entries;
DROP TRIGGER workroom_keeps_currency_of_supplies;
CREATE TABLE supply_entry_new (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  supply_lot_id INTEGER NOT NULL REFERENCES supply_lot (id),
  kind TEXT NOT NULL,
  amount INTEGER NOT NULL CHECK (amount <= 1000000000000),
  held INTEGER NOT NULL DEFAULT 0,
  cost_minor INTEGER NOT NULL CHECK (cost_minor <= 1000000000000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  why TEXT NOT NULL DEFAULT '' CHECK (length(why) <= 500),
  typed TEXT NOT NULL DEFAULT '' CHECK (length(typed) <= 64),
  request_key TEXT NOT NULL REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  garment_id INTEGER REFERENCES garment (id),
  batch_log_id INTEGER REFERENCES batch_log (id),
  receipt_id INTEGER REFERENCES receipt (id),
  order_line_id INTEGER REFERENCES supply_order_line (id),
  reverses_id INTEGER UNIQUE REFERENCES supply_entry (id),
  CHECK (CASE kind
    WHEN 'received' THEN amount > 0
    WHEN 'used' THEN amount < 0 AND held BETWEEN amount AND 0 AND cost_minor <= 0
    WHEN 'counted' THEN amount <> 0 AND cost_minor <= 0
    WHEN 'written-off' THEN amount < 0 AND cost_minor <= 0
    WHEN 'held' THEN amount = 0 AND held > 0 AND cost_minor = 0
    WHEN 'released' THEN amount = 0 AND held < 0 AND cost_minor = 0
    ELSE kind = 'reversed' END),
  CHECK (kind = 'reversed' OR reverses_id IS NULL),
  -- So nothing is held by what came, was counted or was written off.
  CHECK (held = 0 OR garment_id IS NOT NULL),
  CHECK (kind IN ('used', 'held', 'released', 'reversed') OR garment_id IS NULL),
  CHECK (kind IN ('used', 'released', 'reversed') OR batch_log_id IS NULL),
  CHECK (kind = 'received' OR receipt_id IS NULL),
  CHECK (receipt_id IS NOT NULL OR order_line_id IS NULL)
) STRICT;
INSERT INTO supply_entry_new (
  id, supply_lot_id, kind, amount, cost_minor, at, person_id, why, typed, request_key, garment_id, batch_log_id,
  reverses_id)
SELECT
  id, supply_lot_id, kind, amount, cost_minor, at, person_id, why, typed, request_key, garment_id, batch_log_id,
  reverses_id
FROM supply_entry;
-- No number is given twice.
DELETE FROM sqlite_sequence WHERE name = 'supply_entry_new';
INSERT INTO sqlite_sequence (name, seq) SELECT 'supply_entry_new', seq FROM sqlite_sequence WHERE name = 'supply_entry';
DROP TABLE supply_entry;
ALTER TABLE supply_entry_new RENAME TO supply_entry;
CREATE INDEX supply_entry_by_lot ON supply_entry (supply_lot_id, amount, held, cost_minor);
CREATE INDEX supply_entry_by_hold ON supply_entry (supply_lot_id, garment_id, held);
CREATE INDEX supply_entry_by_request ON supply_entry (request_key);
CREATE INDEX supply_entry_by_garment ON supply_entry (garment_id) WHERE garment_id IS NOT NULL;
CREATE INDEX supply_entry_by_log ON supply_entry (batch_log_id) WHERE batch_log_id IS NOT NULL;
CREATE INDEX supply_entry_by_receipt ON supply_entry (receipt_id) WHERE receipt_id IS NOT NULL;
CREATE INDEX supply_entry_by_order_line ON supply_entry (order_line_id) WHERE order_line_id IS NOT NULL;

-- So much of a lot as is promised to a garment; a row at nothing is dropped. It is kept by the triggers of its entries.
CREATE TABLE supply_hold (
  supply_lot_id INTEGER NOT NULL REFERENCES supply_lot (id),
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  held INTEGER NOT NULL CHECK (held > 0),
  UNIQUE (supply_lot_id, garment_id)
) STRICT;
CREATE INDEX supply_hold_by_garment ON supply_hold (garment_id);

-- The guards of the ledger of supplies as they were, for what is held too.
CREATE TRIGGER supply_entry_never_changes BEFORE UPDATE ON supply_entry
BEGIN SELECT RAISE(ABORT, 'an entry of a supply is never changed'); END;
CREATE TRIGGER supply_entry_never_goes BEFORE DELETE ON supply_entry
BEGIN SELECT RAISE(ABORT, 'an entry of a supply is never removed'); END;
CREATE TRIGGER supply_entry_never_replaced BEFORE INSERT ON supply_entry
WHEN EXISTS (SELECT 1 FROM supply_entry WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an entry of a supply is never replaced'); END;
CREATE TRIGGER supply_entry_before_its_request BEFORE INSERT ON supply_entry
WHEN EXISTS (SELECT 1 FROM request WHERE key = NEW.request_key)
BEGIN SELECT RAISE(ABORT, 'a request that was carried out gets no more entries of supplies'); END;
CREATE TRIGGER request_of_its_supply_entries BEFORE INSERT ON request
WHEN EXISTS (
  SELECT 1 FROM supply_entry WHERE request_key = NEW.key AND (at <> NEW.at OR person_id <> NEW.person_id))
BEGIN SELECT RAISE(ABORT, 'the entries of supplies are of their person and their instant'); END;
CREATE TRIGGER supply_entry_begins_its_lot BEFORE INSERT ON supply_entry
WHEN (NEW.kind = 'received') = EXISTS (SELECT 1 FROM supply_entry WHERE supply_lot_id = NEW.supply_lot_id)
BEGIN SELECT RAISE(ABORT, 'a lot of a supply begins with the one entry that it was received by'); END;
-- What came of a line is the supply that was ordered, in a delivery of that order.
CREATE TRIGGER supply_entry_of_its_line BEFORE INSERT ON supply_entry
WHEN NEW.order_line_id IS NOT NULL AND NOT EXISTS (
  SELECT 1 FROM supply_order_line AS line
  JOIN supply_lot AS lot ON lot.supply_id = line.supply_id
  JOIN receipt ON receipt.order_id = line.order_id
  WHERE line.id = NEW.order_line_id AND lot.id = NEW.supply_lot_id AND receipt.id = NEW.receipt_id)
BEGIN SELECT RAISE(ABORT, 'what came of an order is the supply that its line asked for'); END;
CREATE TRIGGER supply_entry_leaves_balance_standing BEFORE INSERT ON supply_entry
WHEN EXISTS (
  SELECT 1 FROM supply_lot WHERE id = NEW.supply_lot_id AND (
    held + NEW.held > on_hand + NEW.amount
    OR cost_minor + NEW.cost_minor < 0
    OR on_hand + NEW.amount = 0 AND cost_minor + NEW.cost_minor > 0))
BEGIN SELECT RAISE(ABORT, 'a lot of a supply gives no more than it has free'); END;
CREATE TRIGGER supply_entry_leaves_hold_standing BEFORE INSERT ON supply_entry
WHEN -NEW.held > coalesce(
  (SELECT held FROM supply_hold WHERE supply_lot_id = NEW.supply_lot_id AND garment_id IS NEW.garment_id), 0)
BEGIN SELECT RAISE(ABORT, 'a garment gives no more of a supply than it holds'); END;
CREATE TRIGGER supply_entry_reverses_exactly AFTER INSERT ON supply_entry
WHEN NEW.kind = 'reversed' AND NOT EXISTS (
  SELECT 1 FROM supply_entry AS undone
  WHERE undone.id = NEW.reverses_id AND undone.kind <> 'reversed' AND undone.supply_lot_id = NEW.supply_lot_id
    AND undone.amount = -NEW.amount AND undone.held = -NEW.held AND undone.cost_minor = -NEW.cost_minor
    AND undone.garment_id IS NEW.garment_id AND undone.batch_log_id IS NEW.batch_log_id)
BEGIN SELECT RAISE(ABORT, 'a reversal is the exact opposite of its entry of a supply'); END;
CREATE TRIGGER supply_entry_moves_balance AFTER INSERT ON supply_entry
BEGIN
  UPDATE supply_lot SET on_hand = on_hand + NEW.amount, held = held + NEW.held,
    cost_minor = cost_minor + NEW.cost_minor
  WHERE id = NEW.supply_lot_id;
END;
CREATE TRIGGER supply_entry_moves_hold AFTER INSERT ON supply_entry
WHEN NEW.held <> 0
BEGIN
  DELETE FROM supply_hold
  WHERE supply_lot_id = NEW.supply_lot_id AND garment_id = NEW.garment_id AND held = -NEW.held;
  UPDATE supply_hold SET held = held + NEW.held
  WHERE supply_lot_id = NEW.supply_lot_id AND garment_id = NEW.garment_id;
  INSERT INTO supply_hold (supply_lot_id, garment_id, held)
  SELECT NEW.supply_lot_id, NEW.garment_id, NEW.held
  WHERE NEW.held > 0 AND NOT EXISTS (
    SELECT 1 FROM supply_hold WHERE supply_lot_id = NEW.supply_lot_id AND garment_id = NEW.garment_id);
END;
CREATE TRIGGER supply_lot_follows_entries AFTER UPDATE OF on_hand, held, cost_minor ON supply_lot
WHEN EXISTS (
  SELECT 1 FROM (
    SELECT coalesce(sum(amount), 0) AS amount, coalesce(sum(held), 0) AS held, coalesce(sum(cost_minor), 0) AS cost
    FROM supply_entry WHERE supply_lot_id = NEW.id) AS summed
  WHERE summed.amount <> NEW.on_hand OR summed.held <> NEW.held OR summed.cost <> NEW.cost_minor)
BEGIN SELECT RAISE(ABORT, 'the balance of a supply is the sum of its entries'); END;
CREATE TRIGGER supply_hold_put_follows_entries AFTER INSERT ON supply_hold
WHEN NEW.held <> coalesce((SELECT sum(held) FROM supply_entry
  WHERE supply_lot_id = NEW.supply_lot_id AND garment_id = NEW.garment_id), 0)
BEGIN SELECT RAISE(ABORT, 'a hold of a supply is the sum of its entries'); END;
CREATE TRIGGER supply_hold_change_follows_entries AFTER UPDATE ON supply_hold
WHEN NEW.supply_lot_id <> OLD.supply_lot_id OR NEW.garment_id <> OLD.garment_id
  OR NEW.held <> coalesce((SELECT sum(held) FROM supply_entry
    WHERE supply_lot_id = NEW.supply_lot_id AND garment_id = NEW.garment_id), 0)
BEGIN SELECT RAISE(ABORT, 'a hold of a supply is the sum of its entries'); END;
CREATE TRIGGER supply_hold_goes_when_empty BEFORE DELETE ON supply_hold
WHEN 0 <> coalesce((SELECT sum(held) FROM supply_entry
  WHERE supply_lot_id = OLD.supply_lot_id AND garment_id = OLD.garment_id), 0)
BEGIN SELECT RAISE(ABORT, 'a hold of a supply is the sum of its entries'); END;
CREATE TRIGGER workroom_keeps_currency_of_supplies BEFORE UPDATE OF currency ON workroom
WHEN NEW.currency <> OLD.currency AND EXISTS (SELECT 1 FROM supply_entry WHERE cost_minor <> 0)
BEGIN SELECT RAISE(ABORT, 'the currency stays once a supply has a price'); END;

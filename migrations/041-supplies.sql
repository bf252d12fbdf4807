-- A small stock of what is not cloth: dyes, chemicals, thread, trims, notions and small tools. measure says what its
-- amounts count: milligrams of a mass, microlitres of a volume, ticks of a length, whole pieces of a count. least is what
-- is to be kept. A dye may be one of the list of dyes, a chemical an auxiliary of recipes in one form.
CREATE TABLE supply (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 120),
  kind TEXT NOT NULL CHECK (kind IN ('dye', 'chemical', 'thread', 'trim', 'notion', 'tool')),
  measure TEXT NOT NULL CHECK (measure IN ('mass', 'volume', 'length', 'count')),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 2000),
  least INTEGER CHECK (least BETWEEN 1 AND 1000000000000),
  place_id INTEGER REFERENCES place (id),
  supplier_id INTEGER REFERENCES supplier (id),
  dye_id INTEGER REFERENCES dye (id),
  auxiliary_kind TEXT CHECK (length(auxiliary_kind) BETWEEN 1 AND 60),
  auxiliary_form TEXT CHECK (length(auxiliary_form) BETWEEN 1 AND 60),
  typed TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(typed)),
  gone_at TEXT CHECK (gone_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  CHECK ((auxiliary_kind IS NULL) = (auxiliary_form IS NULL)),
  CHECK (dye_id IS NULL OR auxiliary_kind IS NULL)
) STRICT;
CREATE TRIGGER supply_never_replaced BEFORE INSERT ON supply
WHEN EXISTS (SELECT 1 FROM supply WHERE id = NEW.id OR name = NEW.name)
BEGIN SELECT RAISE(ABORT, 'a supply is never replaced'); END;
CREATE TRIGGER supply_never_goes BEFORE DELETE ON supply
BEGIN SELECT RAISE(ABORT, 'a supply is put away, never removed'); END;

-- What came of a supply at once: a tub, a reel, a card or a box. Its balance is kept by the triggers of its entries.
CREATE TABLE supply_lot (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  supply_id INTEGER NOT NULL REFERENCES supply (id),
  lot TEXT NOT NULL DEFAULT '' CHECK (length(lot) <= 120),
  supplier_id INTEGER REFERENCES supplier (id),
  opened_on TEXT CHECK (opened_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  on_hand INTEGER NOT NULL DEFAULT 0 CHECK (on_hand >= 0),
  cost_minor INTEGER NOT NULL DEFAULT 0 CHECK (cost_minor >= 0),
  CHECK (on_hand > 0 OR cost_minor = 0)
) STRICT;
CREATE INDEX supply_lot_by_supply ON supply_lot (supply_id, on_hand, cost_minor);
CREATE TRIGGER supply_lot_starts_empty BEFORE INSERT ON supply_lot
WHEN NEW.on_hand <> 0 OR EXISTS (SELECT 1 FROM supply_lot WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a lot of a supply starts empty and is never replaced'); END;
CREATE TRIGGER supply_lot_never_goes BEFORE DELETE ON supply_lot
BEGIN SELECT RAISE(ABORT, 'a lot of a supply is never removed'); END;
CREATE TRIGGER supply_lot_keeps_its_supply BEFORE UPDATE OF id, supply_id ON supply_lot
BEGIN SELECT RAISE(ABORT, 'a lot keeps its number and supply'); END;
-- What an amount counts stays, or the entries would mean something else.
CREATE TRIGGER supply_keeps_its_measure BEFORE UPDATE OF measure ON supply
WHEN NEW.measure <> OLD.measure AND EXISTS (SELECT 1 FROM supply_lot WHERE supply_id = OLD.id)
BEGIN SELECT RAISE(ABORT, 'a supply keeps what its amounts count'); END;

-- The ledger of supplies: an entry changes one lot by its amount and its cost. It is for a garment, or for what was
-- weighed at the pot, or for neither.
CREATE TABLE supply_entry (
  id INTEGER PRIMARY KEY AUTOINCREMENT CHECK (id > 0),
  supply_lot_id INTEGER NOT NULL REFERENCES supply_lot (id),
  kind TEXT NOT NULL,
  amount INTEGER NOT NULL CHECK (amount <= 1000000000000),
  cost_minor INTEGER NOT NULL CHECK (cost_minor <= 1000000000000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  why TEXT NOT NULL DEFAULT '' CHECK (length(why) <= 500),
  typed TEXT NOT NULL DEFAULT '' CHECK (length(typed) <= 64),
  request_key TEXT NOT NULL REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  garment_id INTEGER REFERENCES garment (id),
  batch_log_id INTEGER REFERENCES batch_log (id),
  reverses_id INTEGER UNIQUE REFERENCES supply_entry (id),
  CHECK (CASE kind
    WHEN 'received' THEN amount > 0
    WHEN 'used' THEN amount < 0 AND cost_minor <= 0
    WHEN 'counted' THEN amount <> 0 AND cost_minor <= 0
    WHEN 'written-off' THEN amount < 0 AND cost_minor <= 0
    ELSE kind = 'reversed' END),
  CHECK (kind = 'reversed' OR reverses_id IS NULL),
  CHECK (kind IN ('used', 'reversed') OR (garment_id IS NULL AND batch_log_id IS NULL))
) STRICT;
CREATE INDEX supply_entry_by_lot ON supply_entry (supply_lot_id, amount, cost_minor);
CREATE INDEX supply_entry_by_request ON supply_entry (request_key);
CREATE INDEX supply_entry_by_garment ON supply_entry (garment_id) WHERE garment_id IS NOT NULL;
CREATE INDEX supply_entry_by_log ON supply_entry (batch_log_id) WHERE batch_log_id IS NOT NULL;

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
CREATE TRIGGER supply_entry_leaves_balance_standing BEFORE INSERT ON supply_entry
WHEN EXISTS (
  SELECT 1 FROM supply_lot WHERE id = NEW.supply_lot_id AND (
    on_hand + NEW.amount < 0
    OR cost_minor + NEW.cost_minor < 0
    OR on_hand + NEW.amount = 0 AND cost_minor + NEW.cost_minor > 0))
BEGIN SELECT RAISE(ABORT, 'a lot of a supply gives no more than it has'); END;
CREATE TRIGGER supply_entry_reverses_exactly AFTER INSERT ON supply_entry
WHEN NEW.kind = 'reversed' AND NOT EXISTS (
  SELECT 1 FROM supply_entry AS undone
  WHERE undone.id = NEW.reverses_id AND undone.kind <> 'reversed' AND undone.supply_lot_id = NEW.supply_lot_id
    AND undone.amount = -NEW.amount AND undone.cost_minor = -NEW.cost_minor
    AND undone.garment_id IS NEW.garment_id AND undone.batch_log_id IS NEW.batch_log_id)
BEGIN SELECT RAISE(ABORT, 'a reversal is the exact opposite of its entry of a supply'); END;
CREATE TRIGGER supply_entry_moves_balance AFTER INSERT ON supply_entry
BEGIN
  UPDATE supply_lot SET on_hand = on_hand + NEW.amount, cost_minor = cost_minor + NEW.cost_minor
  WHERE id = NEW.supply_lot_id;
END;
CREATE TRIGGER supply_lot_follows_entries AFTER UPDATE OF on_hand, cost_minor ON supply_lot
WHEN EXISTS (
  SELECT 1 FROM (
    SELECT coalesce(sum(amount), 0) AS amount, coalesce(sum(cost_minor), 0) AS cost
    FROM supply_entry WHERE supply_lot_id = NEW.id) AS summed
  WHERE summed.amount <> NEW.on_hand OR summed.cost <> NEW.cost_minor)
BEGIN SELECT RAISE(ABORT, 'the balance of a supply is the sum of its entries'); END;
CREATE TRIGGER workroom_keeps_currency_of_supplies BEFORE UPDATE OF currency ON workroom
WHEN NEW.currency <> OLD.currency AND EXISTS (SELECT 1 FROM supply_entry WHERE cost_minor <> 0)
BEGIN SELECT RAISE(ABORT, 'the currency stays once a supply has a price'); END;

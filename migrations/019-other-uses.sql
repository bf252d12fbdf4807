-- Cloth that is cut or held for something other than a tier: a repair, a sample, a swatch, a part such as a sash, a
-- length sold or lent. Such a use is written down once, in the transaction that first cuts or holds for it, and says
-- what the length is for; who did it, and whether it still stands, is in the ledger.

CREATE TABLE other_use (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  kind TEXT NOT NULL CHECK (kind IN ('repair', 'sample', 'swatch', 'part', 'sold', 'lent', 'other')),
  garment_id INTEGER REFERENCES garment (id),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 200),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  CHECK (kind <> 'other' OR note <> '')
) STRICT;
CREATE INDEX other_use_by_garment ON other_use (garment_id) WHERE garment_id IS NOT NULL;
CREATE TRIGGER other_use_never_changes BEFORE UPDATE ON other_use
BEGIN SELECT RAISE(ABORT, 'what a length was cut or held for is never changed'); END;
CREATE TRIGGER other_use_never_goes BEFORE DELETE ON other_use
BEGIN SELECT RAISE(ABORT, 'what a length was cut or held for is never removed'); END;
CREATE TRIGGER other_use_never_replaced BEFORE INSERT ON other_use
WHEN EXISTS (SELECT 1 FROM other_use WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'what a length was cut or held for is never replaced'); END;

-- The ledger is built again, since the checks of a table cannot be changed: an entry is for a tier or for another use,
-- never for both, and only the strips of a tier are counted. The rows, their numbers and all other rules stay.
DROP TRIGGER request_of_its_entries;
DROP TRIGGER piece_balance_follows_entries;
DROP TRIGGER workroom_keeps_its_currency;
CREATE TABLE entry_new (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  kind TEXT NOT NULL,
  length_ticks INTEGER NOT NULL CHECK (length_ticks BETWEEN -16000000000 AND 16000000000),
  held_ticks INTEGER NOT NULL CHECK (held_ticks BETWEEN -16000000000 AND 16000000000),
  cost_minor INTEGER NOT NULL CHECK (cost_minor BETWEEN -1000000000000 AND 1000000000000),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  why TEXT NOT NULL DEFAULT '' CHECK (length(why) <= 500),
  typed TEXT NOT NULL DEFAULT '' CHECK (length(typed) <= 64),
  request_key TEXT NOT NULL REFERENCES request (key) DEFERRABLE INITIALLY DEFERRED,
  tier_id INTEGER REFERENCES tier (id),
  other_use_id INTEGER REFERENCES other_use (id),
  strips INTEGER CHECK (strips BETWEEN 1 AND 10000),
  batch_id INTEGER REFERENCES batch (id),
  receipt_id INTEGER REFERENCES receipt (id),
  order_line_id INTEGER REFERENCES order_line (id),
  -- The other half: of a split, of the reversal of a split, of what was sent to dye or cut.
  pair_id INTEGER REFERENCES entry (id) DEFERRABLE INITIALLY DEFERRED,
  reverses_id INTEGER REFERENCES entry (id),
  -- What each kind may do to a piece. A length that is taken frees no more than itself of what was held.
  CHECK (CASE kind
    WHEN 'received' THEN length_ticks > 0 AND held_ticks = 0 AND cost_minor >= 0
    WHEN 'cut' THEN length_ticks < 0 AND held_ticks BETWEEN length_ticks AND 0 AND cost_minor <= 0
    WHEN 'split-off' THEN length_ticks < 0 AND held_ticks BETWEEN length_ticks AND 0 AND cost_minor <= 0
    WHEN 'joined' THEN length_ticks > 0 AND held_ticks >= 0 AND cost_minor >= 0
    WHEN 'held' THEN length_ticks = 0 AND held_ticks > 0 AND cost_minor = 0
    WHEN 'released' THEN length_ticks = 0 AND held_ticks < 0 AND cost_minor = 0
    WHEN 'sent-to-dye' THEN length_ticks < 0 AND held_ticks BETWEEN length_ticks AND 0 AND cost_minor <= 0
    WHEN 'back-from-dye' THEN length_ticks > 0 AND held_ticks = 0 AND cost_minor >= 0
    WHEN 'shrunk' THEN length_ticks < 0 AND held_ticks = 0 AND cost_minor = 0
    WHEN 'recounted' THEN length_ticks <> 0 AND held_ticks = 0 AND cost_minor <= 0
    WHEN 'written-off' THEN length_ticks < 0 AND held_ticks = 0 AND cost_minor <= 0
    WHEN 'returned' THEN length_ticks < 0 AND held_ticks = 0 AND cost_minor <= 0
    ELSE kind = 'reversed' END),
  CHECK (kind = 'reversed' OR reverses_id IS NULL),
  CHECK (held_ticks = 0 OR tier_id IS NOT NULL OR other_use_id IS NOT NULL),
  CHECK (tier_id IS NULL OR other_use_id IS NULL),
  CHECK (strips IS NULL OR tier_id IS NOT NULL),
  CHECK (kind <> 'cut' OR strips IS NOT NULL OR other_use_id IS NOT NULL),
  CHECK (kind NOT IN ('sent-to-dye', 'back-from-dye', 'shrunk') OR batch_id IS NOT NULL),
  CHECK (kind = 'reversed' OR (kind IN ('split-off', 'joined', 'back-from-dye')) = (pair_id IS NOT NULL))
) STRICT;
INSERT INTO entry_new (
  id, piece_id, kind, length_ticks, held_ticks, cost_minor, at, person_id, why, typed, request_key, tier_id, strips,
  batch_id, receipt_id, order_line_id, pair_id, reverses_id)
SELECT
  id, piece_id, kind, length_ticks, held_ticks, cost_minor, at, person_id, why, typed, request_key, tier_id, strips,
  batch_id, receipt_id, order_line_id, pair_id, reverses_id
FROM entry;
-- No number is given twice.
DELETE FROM sqlite_sequence WHERE name = 'entry_new';
INSERT INTO sqlite_sequence (name, seq) SELECT 'entry_new', seq FROM sqlite_sequence WHERE name = 'entry';

-- Length of a piece promised to a tier or to another use; a row at nothing is dropped.
CREATE TABLE hold_new (
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  tier_id INTEGER REFERENCES tier (id),
  other_use_id INTEGER REFERENCES other_use (id),
  held_ticks INTEGER NOT NULL CHECK (held_ticks > 0),
  CHECK ((tier_id IS NULL) <> (other_use_id IS NULL)),
  UNIQUE (piece_id, tier_id),
  UNIQUE (piece_id, other_use_id)
) STRICT;
INSERT INTO hold_new (piece_id, tier_id, held_ticks)
SELECT piece_id, tier_id, held_ticks FROM hold ORDER BY piece_id, tier_id;
DROP TABLE hold;
DROP TABLE entry;
ALTER TABLE entry_new RENAME TO entry;
ALTER TABLE hold_new RENAME TO hold;
CREATE INDEX hold_by_tier ON hold (tier_id) WHERE tier_id IS NOT NULL;
CREATE INDEX hold_by_other_use ON hold (other_use_id) WHERE other_use_id IS NOT NULL;

-- Covers the derivation of every balance and hold, so that the whole ledger is proved in one pass over an index.
CREATE INDEX entry_by_piece ON entry (piece_id, id, length_ticks, held_ticks, cost_minor);
CREATE INDEX entry_by_hold ON entry (piece_id, tier_id, other_use_id, held_ticks) WHERE held_ticks <> 0;
CREATE INDEX entry_by_request ON entry (request_key);
CREATE INDEX entry_by_tier ON entry (tier_id, kind) WHERE tier_id IS NOT NULL;
CREATE INDEX entry_by_other_use ON entry (other_use_id, kind) WHERE other_use_id IS NOT NULL;
CREATE INDEX entry_by_batch ON entry (batch_id) WHERE batch_id IS NOT NULL;
CREATE INDEX entry_by_receipt ON entry (receipt_id) WHERE receipt_id IS NOT NULL;
CREATE INDEX entry_by_order_line ON entry (order_line_id) WHERE order_line_id IS NOT NULL;
CREATE INDEX entry_by_pair ON entry (pair_id) WHERE pair_id IS NOT NULL;
CREATE UNIQUE INDEX entry_reversed_once ON entry (reverses_id) WHERE reverses_id IS NOT NULL;
CREATE INDEX entry_of_spending ON entry (at, kind, cost_minor)
WHERE kind IN ('received', 'back-from-dye', 'returned', 'written-off');

-- The guards of the ledger as they were, for other uses as for tiers. What each is for stands in 006 and 011.
CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_never_goes BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never removed'); END;
CREATE TRIGGER entry_never_replaced BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an entry is never replaced'); END;
CREATE TRIGGER entry_at_the_end AFTER INSERT ON entry
WHEN NEW.id <> 1 + coalesce((SELECT id FROM entry WHERE id <> NEW.id ORDER BY id DESC LIMIT 1), 0)
BEGIN SELECT RAISE(ABORT, 'an entry goes at the end of the ledger'); END;
CREATE TRIGGER entry_before_its_request BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM request WHERE key = NEW.request_key)
BEGIN SELECT RAISE(ABORT, 'a request that was carried out gets no more entries'); END;
CREATE TRIGGER request_of_its_entries BEFORE INSERT ON request
WHEN EXISTS (
  SELECT 1 FROM entry WHERE request_key = NEW.key AND (at <> NEW.at OR person_id <> NEW.person_id))
BEGIN SELECT RAISE(ABORT, 'the entries of a request are of its person and its instant'); END;
CREATE TRIGGER entry_begins_its_piece BEFORE INSERT ON entry
WHEN (NEW.kind IN ('received', 'joined', 'back-from-dye'))
  = EXISTS (SELECT 1 FROM entry WHERE piece_id = NEW.piece_id)
BEGIN SELECT RAISE(ABORT, 'a piece begins with the one entry that brings it to the shelf'); END;
CREATE TRIGGER entry_leaves_balance_standing BEFORE INSERT ON entry
WHEN EXISTS (
  SELECT 1 FROM piece WHERE id = NEW.piece_id AND (
    held_ticks + NEW.held_ticks > on_hand_ticks + NEW.length_ticks
    OR cost_minor + NEW.cost_minor < 0
    OR on_hand_ticks + NEW.length_ticks = 0 AND cost_minor + NEW.cost_minor > 0))
BEGIN SELECT RAISE(ABORT, 'a piece gives no more length or cost than it has free'); END;
CREATE TRIGGER entry_leaves_hold_standing BEFORE INSERT ON entry
WHEN -NEW.held_ticks > coalesce(
  (SELECT held_ticks FROM hold
    WHERE piece_id = NEW.piece_id AND tier_id IS NEW.tier_id AND other_use_id IS NEW.other_use_id), 0)
BEGIN SELECT RAISE(ABORT, 'a tier or another use gives no more length than it holds'); END;
CREATE TRIGGER entry_reverses_exactly AFTER INSERT ON entry
WHEN NEW.kind = 'reversed' AND NOT EXISTS (
  SELECT 1 FROM entry AS undone
  WHERE undone.id = NEW.reverses_id AND undone.kind <> 'reversed' AND undone.piece_id = NEW.piece_id
    AND undone.length_ticks = -NEW.length_ticks AND undone.held_ticks = -NEW.held_ticks
    AND undone.cost_minor = -NEW.cost_minor
    AND undone.tier_id IS NEW.tier_id AND undone.other_use_id IS NEW.other_use_id
    AND undone.batch_id IS NEW.batch_id
    AND undone.receipt_id IS NEW.receipt_id AND undone.order_line_id IS NEW.order_line_id)
BEGIN SELECT RAISE(ABORT, 'a reversal is the exact opposite of its entry'); END;
CREATE TRIGGER entry_reversed_last AFTER INSERT ON entry
WHEN EXISTS (
  SELECT 1 FROM entry AS came
  WHERE came.pair_id = NEW.reverses_id AND came.kind IN ('back-from-dye', 'joined')
    AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = came.id))
BEGIN SELECT RAISE(ABORT, 'later work depends on this entry'); END;
CREATE TRIGGER entry_names_its_other_half AFTER INSERT ON entry
WHEN (NEW.kind = 'split-off' AND NEW.pair_id <> NEW.id + 1)
  OR (NEW.kind = 'reversed' AND NEW.pair_id IS NOT (
    SELECT NEW.id + 1 FROM entry AS joined JOIN entry AS off ON off.id = joined.pair_id
    WHERE joined.id = NEW.reverses_id AND off.kind = 'split-off'))
BEGIN SELECT RAISE(ABORT, 'half a split names the entry that follows it'); END;
CREATE TRIGGER entry_is_the_other_half AFTER INSERT ON entry
WHEN EXISTS (
  SELECT 1 FROM entry AS first
  WHERE first.pair_id = NEW.id
    AND NOT (NEW.kind = 'joined' AND NEW.pair_id = first.id
      AND NEW.length_ticks = -first.length_ticks AND NEW.cost_minor = -first.cost_minor
      AND NEW.held_ticks = -first.held_ticks AND NEW.tier_id IS first.tier_id
      AND NEW.other_use_id IS first.other_use_id)
    AND NOT (first.kind = 'reversed' AND NEW.reverses_id IS (
      SELECT joined.pair_id FROM entry AS joined WHERE joined.id = first.reverses_id)))
BEGIN SELECT RAISE(ABORT, 'what a split takes off is what the new piece gets'); END;
CREATE TRIGGER entry_joined_from AFTER INSERT ON entry
WHEN NEW.kind = 'joined' AND NOT EXISTS (
  SELECT 1 FROM entry AS off
  JOIN piece AS whole ON whole.id = off.piece_id
  JOIN piece AS made ON made.id = NEW.piece_id
  WHERE off.id = NEW.pair_id AND made.lot_id = whole.lot_id AND made.parent_id = whole.id
    AND (off.pair_id = NEW.id
      OR (off.kind = 'cut' AND off.request_key = NEW.request_key AND NEW.held_ticks = 0)))
BEGIN SELECT RAISE(ABORT, 'what joins the shelf came off another piece'); END;
CREATE TRIGGER entry_kept_within AFTER INSERT ON entry
WHEN NEW.kind = 'joined' AND EXISTS (
  SELECT 1 FROM entry AS off
  JOIN piece AS whole ON whole.id = off.piece_id
  JOIN piece AS made ON made.id = NEW.piece_id
  WHERE off.id = NEW.pair_id AND (
    NEW.length_ticks > (SELECT -sum(along.length_ticks) FROM entry AS along
      WHERE along.request_key = NEW.request_key AND along.piece_id = off.piece_id AND along.kind = off.kind
        AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = along.id))
    OR made.usable_width_ticks > whole.usable_width_ticks
    OR EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = off.id)
    OR (SELECT sum(beside.cost_minor) > -off.cost_minor
        OR sum(beside.length_ticks * kept.usable_width_ticks) > -off.length_ticks * whole.usable_width_ticks
      FROM entry AS beside JOIN piece AS kept ON kept.id = beside.piece_id
      WHERE beside.pair_id = off.id)))
BEGIN SELECT RAISE(ABORT, 'what joins the shelf is no more than came off'); END;
CREATE TRIGGER entry_back_from_dye AFTER INSERT ON entry
WHEN NEW.kind = 'back-from-dye' AND (NOT EXISTS (
  SELECT 1 FROM entry AS sent
  JOIN piece AS whole ON whole.id = sent.piece_id
  JOIN lot AS undyed ON undyed.id = whole.lot_id
  JOIN piece AS made ON made.id = NEW.piece_id AND made.parent_id = whole.id
  JOIN lot AS dyed ON dyed.id = made.lot_id AND dyed.batch_id = NEW.batch_id
    AND dyed.cloth_id = undyed.cloth_id
  WHERE sent.id = NEW.pair_id AND sent.kind = 'sent-to-dye' AND sent.batch_id = NEW.batch_id
    AND sent.length_ticks = -NEW.length_ticks AND -sent.cost_minor <= NEW.cost_minor
    AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = sent.id))
  OR EXISTS (
  SELECT 1 FROM entry AS back
  WHERE back.pair_id = NEW.pair_id AND back.id <> NEW.id
    AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = back.id)))
BEGIN SELECT RAISE(ABORT, 'what comes back from dyeing is what was sent'); END;
CREATE TRIGGER entry_moves_balance AFTER INSERT ON entry
BEGIN
  UPDATE piece SET
    on_hand_ticks = on_hand_ticks + NEW.length_ticks,
    held_ticks = held_ticks + NEW.held_ticks,
    cost_minor = cost_minor + NEW.cost_minor
  WHERE id = NEW.piece_id;
END;
CREATE TRIGGER entry_moves_hold AFTER INSERT ON entry
WHEN NEW.held_ticks <> 0
BEGIN
  DELETE FROM hold
  WHERE piece_id = NEW.piece_id AND tier_id IS NEW.tier_id AND other_use_id IS NEW.other_use_id
    AND held_ticks = -NEW.held_ticks;
  UPDATE hold SET held_ticks = held_ticks + NEW.held_ticks
  WHERE piece_id = NEW.piece_id AND tier_id IS NEW.tier_id AND other_use_id IS NEW.other_use_id;
  INSERT INTO hold (piece_id, tier_id, other_use_id, held_ticks)
  SELECT NEW.piece_id, NEW.tier_id, NEW.other_use_id, NEW.held_ticks
  WHERE NEW.held_ticks > 0 AND NOT EXISTS (
    SELECT 1 FROM hold
    WHERE piece_id = NEW.piece_id AND tier_id IS NEW.tier_id AND other_use_id IS NEW.other_use_id);
END;
CREATE TRIGGER piece_balance_follows_entries AFTER UPDATE OF on_hand_ticks, held_ticks, cost_minor ON piece
WHEN EXISTS (
  SELECT 1 FROM (
    SELECT coalesce(sum(length_ticks), 0) AS length, coalesce(sum(held_ticks), 0) AS held,
      coalesce(sum(cost_minor), 0) AS cost
    FROM entry WHERE piece_id = NEW.id) AS summed
  WHERE summed.length <> NEW.on_hand_ticks OR summed.held <> NEW.held_ticks OR summed.cost <> NEW.cost_minor)
BEGIN SELECT RAISE(ABORT, 'a balance is the sum of its entries'); END;
CREATE TRIGGER hold_put_follows_entries AFTER INSERT ON hold
WHEN NEW.held_ticks <> coalesce((SELECT sum(held_ticks) FROM entry
  WHERE piece_id = NEW.piece_id AND tier_id IS NEW.tier_id AND other_use_id IS NEW.other_use_id
    AND held_ticks <> 0), 0)
BEGIN SELECT RAISE(ABORT, 'a hold is the sum of its entries'); END;
CREATE TRIGGER hold_change_follows_entries AFTER UPDATE ON hold
WHEN NEW.piece_id <> OLD.piece_id OR NEW.tier_id IS NOT OLD.tier_id OR NEW.other_use_id IS NOT OLD.other_use_id
  OR NEW.held_ticks <> coalesce((SELECT sum(held_ticks) FROM entry
    WHERE piece_id = NEW.piece_id AND tier_id IS NEW.tier_id AND other_use_id IS NEW.other_use_id
      AND held_ticks <> 0), 0)
BEGIN SELECT RAISE(ABORT, 'a hold is the sum of its entries'); END;
CREATE TRIGGER hold_goes_when_empty BEFORE DELETE ON hold
WHEN 0 <> coalesce((SELECT sum(held_ticks) FROM entry
  WHERE piece_id = OLD.piece_id AND tier_id IS OLD.tier_id AND other_use_id IS OLD.other_use_id
    AND held_ticks <> 0), 0)
BEGIN SELECT RAISE(ABORT, 'a hold is the sum of its entries'); END;
CREATE TRIGGER workroom_keeps_its_currency BEFORE UPDATE OF currency ON workroom
WHEN NEW.currency <> OLD.currency AND (EXISTS (SELECT 1 FROM entry WHERE cost_minor <> 0)
  OR EXISTS (SELECT 1 FROM order_line WHERE price_minor IS NOT NULL))
BEGIN SELECT RAISE(ABORT, 'the currency stays once something has a price'); END;

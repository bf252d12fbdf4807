-- The ledger: entries that only ever grow, and the balances that follow from them.
-- An entry changes one piece by three signed integers: length on hand, length held, cost.

CREATE TABLE entry (
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
  strips INTEGER CHECK (strips BETWEEN 1 AND 10000),
  batch_id INTEGER REFERENCES batch (id),
  receipt_id INTEGER REFERENCES receipt (id),
  order_line_id INTEGER REFERENCES order_line (id),
  pair_id INTEGER REFERENCES entry (id) DEFERRABLE INITIALLY DEFERRED,
  reverses_id INTEGER UNIQUE REFERENCES entry (id),
  -- What each kind may do to a piece.
  CHECK (CASE kind
    WHEN 'received' THEN length_ticks > 0 AND held_ticks = 0 AND cost_minor >= 0
    WHEN 'cut' THEN length_ticks < 0 AND held_ticks <= 0 AND cost_minor <= 0
    WHEN 'split-off' THEN length_ticks < 0 AND held_ticks <= 0 AND cost_minor <= 0
    WHEN 'joined' THEN length_ticks > 0 AND held_ticks >= 0 AND cost_minor >= 0
    WHEN 'held' THEN length_ticks = 0 AND held_ticks > 0 AND cost_minor = 0
    WHEN 'released' THEN length_ticks = 0 AND held_ticks < 0 AND cost_minor = 0
    WHEN 'sent-to-dye' THEN length_ticks < 0 AND held_ticks <= 0 AND cost_minor <= 0
    WHEN 'back-from-dye' THEN length_ticks > 0 AND held_ticks = 0 AND cost_minor >= 0
    WHEN 'shrunk' THEN length_ticks < 0 AND held_ticks = 0 AND cost_minor = 0
    WHEN 'recounted' THEN length_ticks <> 0 AND held_ticks = 0 AND cost_minor <= 0
    WHEN 'written-off' THEN length_ticks < 0 AND held_ticks = 0 AND cost_minor <= 0
    WHEN 'returned' THEN length_ticks < 0 AND held_ticks = 0 AND cost_minor <= 0
    WHEN 'reversed' THEN reverses_id IS NOT NULL
    ELSE 0 END),
  CHECK (kind = 'reversed' OR reverses_id IS NULL),
  CHECK (held_ticks = 0 OR tier_id IS NOT NULL),
  CHECK (kind <> 'cut' OR (tier_id IS NOT NULL AND strips IS NOT NULL)),
  CHECK (kind NOT IN ('sent-to-dye', 'back-from-dye') OR batch_id IS NOT NULL),
  CHECK ((kind IN ('split-off', 'joined', 'back-from-dye')) = (pair_id IS NOT NULL))
) STRICT;

-- Covers the derivation of every balance, so that the whole ledger is proved in one pass over an index.
CREATE INDEX entry_by_piece ON entry (piece_id, id, length_ticks, held_ticks, cost_minor);
CREATE INDEX entry_by_hold ON entry (piece_id, tier_id, held_ticks) WHERE held_ticks <> 0;
CREATE INDEX entry_by_request ON entry (request_key);
CREATE INDEX entry_by_tier ON entry (tier_id, kind) WHERE tier_id IS NOT NULL;
CREATE INDEX entry_by_batch ON entry (batch_id) WHERE batch_id IS NOT NULL;
CREATE INDEX entry_by_receipt ON entry (receipt_id) WHERE receipt_id IS NOT NULL;
CREATE INDEX entry_by_order_line ON entry (order_line_id) WHERE order_line_id IS NOT NULL;
CREATE INDEX entry_by_pair ON entry (pair_id) WHERE pair_id IS NOT NULL;

-- Length of a piece promised to a tier; rows at nothing are dropped.
CREATE TABLE hold (
  piece_id INTEGER NOT NULL REFERENCES piece (id),
  tier_id INTEGER NOT NULL REFERENCES tier (id),
  held_ticks INTEGER NOT NULL CHECK (held_ticks >= 0),
  PRIMARY KEY (piece_id, tier_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX hold_by_tier ON hold (tier_id);

-- Append only. The third trigger stands against INSERT OR REPLACE, which skips the delete trigger where
-- recursive triggers are off.
CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_never_goes BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never removed'); END;
CREATE TRIGGER entry_never_replaced BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id)
  OR EXISTS (SELECT 1 FROM entry WHERE reverses_id = NEW.reverses_id)
BEGIN SELECT RAISE(ABORT, 'an entry is never replaced'); END;
CREATE TRIGGER entry_at_the_end AFTER INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE id > NEW.id)
BEGIN SELECT RAISE(ABORT, 'an entry goes at the end of the ledger'); END;

-- A reversal is the exact opposite of one entry of the same piece, and is not itself reversed.
CREATE TRIGGER entry_reverses_exactly AFTER INSERT ON entry
WHEN NEW.kind = 'reversed' AND NOT EXISTS (
  SELECT 1 FROM entry AS undone
  WHERE undone.id = NEW.reverses_id AND undone.id < NEW.id AND undone.kind <> 'reversed'
    AND undone.piece_id = NEW.piece_id AND undone.tier_id IS NEW.tier_id
    AND undone.length_ticks = -NEW.length_ticks AND undone.held_ticks = -NEW.held_ticks
    AND undone.cost_minor = -NEW.cost_minor)
BEGIN SELECT RAISE(ABORT, 'a reversal is the exact opposite of its entry'); END;

-- Length and cost are conserved in a split: what is split off names, in advance, the entry that brings it to
-- the new piece, and the commit fails without that entry.
CREATE TRIGGER entry_split_names_its_pair AFTER INSERT ON entry
WHEN NEW.kind = 'split-off' AND NEW.pair_id <= NEW.id
BEGIN SELECT RAISE(ABORT, 'a split names the entry that follows it'); END;
CREATE TRIGGER entry_pair_conserves AFTER INSERT ON entry
WHEN EXISTS (
  SELECT 1 FROM entry AS off
  WHERE off.pair_id = NEW.id AND off.kind = 'split-off'
    AND NOT (NEW.kind = 'joined' AND NEW.pair_id = off.id AND NEW.piece_id <> off.piece_id
      AND NEW.length_ticks = -off.length_ticks AND NEW.cost_minor = -off.cost_minor
      AND NEW.held_ticks = -off.held_ticks AND NEW.tier_id IS off.tier_id))
BEGIN SELECT RAISE(ABORT, 'what a split takes off is what the new piece gets'); END;

-- What joins the shelf came off another piece: by a split, or beside the strips of a cut.
CREATE TRIGGER entry_joined_from AFTER INSERT ON entry
WHEN NEW.kind = 'joined' AND NOT EXISTS (
  SELECT 1 FROM entry AS off
  WHERE off.id = NEW.pair_id AND off.id < NEW.id AND off.piece_id <> NEW.piece_id
    AND ((off.kind = 'split-off' AND off.pair_id = NEW.id)
      OR (off.kind = 'cut' AND off.request_key = NEW.request_key AND NEW.held_ticks = 0
        AND NEW.length_ticks <= -off.length_ticks
        AND (SELECT sum(beside.cost_minor) FROM entry AS beside
          WHERE beside.pair_id = off.id AND beside.kind = 'joined') <= -off.cost_minor)))
BEGIN SELECT RAISE(ABORT, 'what joins the shelf came off another piece'); END;

-- What comes back from dyeing is the whole of one length that was sent, once; shrinkage is its own entry.
CREATE TRIGGER entry_back_from_dye_conserves AFTER INSERT ON entry
WHEN NEW.kind = 'back-from-dye' AND (NOT EXISTS (
  SELECT 1 FROM entry AS sent
  WHERE sent.id = NEW.pair_id AND sent.kind = 'sent-to-dye' AND sent.batch_id = NEW.batch_id
    AND sent.piece_id <> NEW.piece_id
    AND sent.length_ticks = -NEW.length_ticks AND -sent.cost_minor <= NEW.cost_minor
    AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = sent.id))
  OR EXISTS (
  SELECT 1 FROM entry AS back
  WHERE back.pair_id = NEW.pair_id AND back.id <> NEW.id
    AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = back.id)))
BEGIN SELECT RAISE(ABORT, 'what comes back from dyeing is what was sent'); END;

-- A length that came back from dyeing cannot be un-sent before its coming back is reversed.
CREATE TRIGGER entry_sent_stays_sent AFTER INSERT ON entry
WHEN NEW.kind = 'reversed' AND EXISTS (
  SELECT 1 FROM entry AS back
  WHERE back.pair_id = NEW.reverses_id AND back.kind IN ('back-from-dye', 'joined')
    AND NOT EXISTS (SELECT 1 FROM entry AS undone WHERE undone.reverses_id = back.id))
BEGIN SELECT RAISE(ABORT, 'later work depends on this entry'); END;

-- Balances.
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
  INSERT INTO hold (piece_id, tier_id, held_ticks)
  VALUES (NEW.piece_id, NEW.tier_id, (
    SELECT sum(held_ticks) FROM entry
    WHERE piece_id = NEW.piece_id AND tier_id = NEW.tier_id AND held_ticks <> 0))
  ON CONFLICT (piece_id, tier_id) DO UPDATE SET held_ticks = excluded.held_ticks;
  DELETE FROM hold WHERE piece_id = NEW.piece_id AND tier_id = NEW.tier_id AND held_ticks = 0;
END;

-- Nobody writes a balance by hand: it equals the sum of the entries or the statement fails.
CREATE TRIGGER piece_balance_follows_entries AFTER UPDATE OF on_hand_ticks, held_ticks, cost_minor ON piece
WHEN EXISTS (
  SELECT 1 FROM (
    SELECT coalesce(sum(length_ticks), 0) AS length, coalesce(sum(held_ticks), 0) AS held,
      coalesce(sum(cost_minor), 0) AS cost
    FROM entry WHERE piece_id = NEW.id) AS summed
  WHERE summed.length <> NEW.on_hand_ticks OR summed.held <> NEW.held_ticks OR summed.cost <> NEW.cost_minor)
BEGIN SELECT RAISE(ABORT, 'a balance is the sum of its entries'); END;
CREATE TRIGGER piece_starts_empty BEFORE INSERT ON piece
WHEN NEW.on_hand_ticks <> 0 OR NEW.held_ticks <> 0 OR NEW.cost_minor <> 0
  OR EXISTS (SELECT 1 FROM piece WHERE id = NEW.id OR code = NEW.code)
BEGIN SELECT RAISE(ABORT, 'a piece starts empty and is never replaced'); END;
CREATE TRIGGER piece_never_goes BEFORE DELETE ON piece
BEGIN SELECT RAISE(ABORT, 'a piece is never removed'); END;
CREATE TRIGGER piece_keeps_its_lot BEFORE UPDATE OF id, lot_id, parent_id ON piece
BEGIN SELECT RAISE(ABORT, 'a piece keeps its number, lot and parent'); END;
CREATE TRIGGER hold_put_follows_entries AFTER INSERT ON hold
WHEN NEW.held_ticks <> coalesce((SELECT sum(held_ticks) FROM entry
  WHERE piece_id = NEW.piece_id AND tier_id = NEW.tier_id AND held_ticks <> 0), 0)
BEGIN SELECT RAISE(ABORT, 'a hold is the sum of its entries'); END;
CREATE TRIGGER hold_change_follows_entries AFTER UPDATE ON hold
WHEN NEW.piece_id <> OLD.piece_id OR NEW.tier_id <> OLD.tier_id
  OR NEW.held_ticks <> coalesce((SELECT sum(held_ticks) FROM entry
    WHERE piece_id = NEW.piece_id AND tier_id = NEW.tier_id AND held_ticks <> 0), 0)
BEGIN SELECT RAISE(ABORT, 'a hold is the sum of its entries'); END;
CREATE TRIGGER hold_goes_when_empty BEFORE DELETE ON hold
WHEN 0 <> coalesce((SELECT sum(held_ticks) FROM entry
  WHERE piece_id = OLD.piece_id AND tier_id = OLD.tier_id AND held_ticks <> 0), 0)
BEGIN SELECT RAISE(ABORT, 'a hold is the sum of its entries'); END;

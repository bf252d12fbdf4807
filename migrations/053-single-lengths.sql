-- What is kept by the metre is kept by single lengths: a lot is a reel, or what is left on a card. A length that is cut off
-- one and kept begins a lot of its own: what it is received by names the count that took it off the other, so that neither
-- length nor cost is lost between them.
ALTER TABLE supply_entry ADD COLUMN split_of_id INTEGER REFERENCES supply_entry (id);
CREATE UNIQUE INDEX supply_entry_by_split ON supply_entry (split_of_id) WHERE split_of_id IS NOT NULL;
CREATE TRIGGER supply_entry_splits_a_length BEFORE INSERT ON supply_entry
WHEN NEW.split_of_id IS NOT NULL AND NOT EXISTS (
  SELECT 1 FROM supply_entry AS off
  JOIN supply_lot AS reel ON reel.id = off.supply_lot_id
  JOIN supply ON supply.id = reel.supply_id
  JOIN supply_lot AS lot ON lot.supply_id = reel.supply_id
  WHERE off.id = NEW.split_of_id AND off.kind = 'counted' AND off.request_key = NEW.request_key
    AND off.amount = -NEW.amount AND off.cost_minor = -NEW.cost_minor
    AND lot.id = NEW.supply_lot_id AND supply.measure = 'length'
    AND NEW.kind = 'received' AND NEW.receipt_id IS NULL)
BEGIN SELECT RAISE(ABORT, 'a length that is cut off and kept is what a count took off another length'); END;
CREATE TRIGGER request_undoes_splits_whole BEFORE INSERT ON request
WHEN EXISTS (
  SELECT 1 FROM supply_entry AS back
  JOIN supply_entry AS part ON part.split_of_id IS NOT NULL AND back.reverses_id IN (part.id, part.split_of_id)
  WHERE back.request_key = NEW.key AND 2 <> (
    SELECT count(*) FROM supply_entry AS each WHERE each.reverses_id IN (part.id, part.split_of_id)))
BEGIN SELECT RAISE(ABORT, 'a length that was cut off and kept goes back onto its reel whole'); END;

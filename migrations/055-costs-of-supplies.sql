-- What a supply that came with a delivery cost, by parts, as it is kept of pieces: the parts come to the cost of its entry.
-- Tax that is reclaimed is in no cost and kept beside. Freight is shared by value, since supplies have no common measure.
CREATE TABLE supply_received_cost (
  supply_entry_id INTEGER PRIMARY KEY REFERENCES supply_entry (id),
  goods_minor INTEGER NOT NULL CHECK (goods_minor BETWEEN 0 AND 1000000000000),
  freight_minor INTEGER NOT NULL CHECK (freight_minor BETWEEN 0 AND 1000000000000),
  tax_minor INTEGER NOT NULL CHECK (tax_minor BETWEEN 0 AND 1000000000000),
  reclaimed_minor INTEGER NOT NULL CHECK (reclaimed_minor BETWEEN 0 AND 1000000000000)
) STRICT;
CREATE TRIGGER supply_received_cost_adds_up AFTER INSERT ON supply_received_cost
WHEN NOT EXISTS (
  SELECT 1 FROM supply_entry WHERE id = NEW.supply_entry_id AND kind = 'received'
    AND cost_minor = NEW.goods_minor + NEW.freight_minor + NEW.tax_minor)
BEGIN SELECT RAISE(ABORT, 'the parts of a cost add up to what came of a supply'); END;
CREATE TRIGGER supply_received_cost_never_replaced BEFORE INSERT ON supply_received_cost
WHEN EXISTS (SELECT 1 FROM supply_received_cost WHERE supply_entry_id = NEW.supply_entry_id)
BEGIN SELECT RAISE(ABORT, 'the parts of a cost of a supply are never replaced'); END;
CREATE TRIGGER supply_received_cost_never_changes BEFORE UPDATE ON supply_received_cost
BEGIN SELECT RAISE(ABORT, 'the parts of a cost of a supply are never changed'); END;
CREATE TRIGGER supply_received_cost_never_goes BEFORE DELETE ON supply_received_cost
BEGIN SELECT RAISE(ABORT, 'the parts of a cost of a supply stay in the book'); END;

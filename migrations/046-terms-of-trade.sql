-- Terms met in the trade: what is taken off the list price, what a cut length costs on top, the least that is sold, and
-- whether the tax comes back. An order keeps those it was drafted by. Minimums are of an order or of one cloth in one
-- shade, in money less the discount or in length.
ALTER TABLE supplier_terms ADD COLUMN discount_bp INTEGER NOT NULL DEFAULT 0 CHECK (discount_bp BETWEEN 0 AND 10000);
ALTER TABLE supplier_terms ADD COLUMN cut_fee_minor INTEGER NOT NULL DEFAULT 0 CHECK (cut_fee_minor BETWEEN 0 AND 1000000000);
ALTER TABLE supplier_terms ADD COLUMN tax_reclaimed INTEGER NOT NULL DEFAULT 0 CHECK (tax_reclaimed IN (0, 1));
ALTER TABLE supplier_terms ADD COLUMN least_order_minor INTEGER CHECK (least_order_minor BETWEEN 1 AND 1000000000);
ALTER TABLE supplier_terms ADD COLUMN least_order_ticks INTEGER CHECK (least_order_ticks BETWEEN 1 AND 16000000000);
ALTER TABLE supplier_terms ADD COLUMN least_line_minor INTEGER CHECK (least_line_minor BETWEEN 1 AND 1000000000);
ALTER TABLE supplier_terms ADD COLUMN least_line_ticks INTEGER CHECK (least_line_ticks BETWEEN 1 AND 16000000000);

ALTER TABLE order_terms ADD COLUMN discount_bp INTEGER NOT NULL DEFAULT 0 CHECK (discount_bp BETWEEN 0 AND 10000);
ALTER TABLE order_terms ADD COLUMN cut_fee_minor INTEGER NOT NULL DEFAULT 0 CHECK (cut_fee_minor BETWEEN 0 AND 1000000000);
ALTER TABLE order_terms ADD COLUMN tax_reclaimed INTEGER NOT NULL DEFAULT 0 CHECK (tax_reclaimed IN (0, 1));

-- What a piece cost where it lies, by parts that add up to the cost of its entry, in the workroom's minor units: cloth less
-- the discount, cut fees, freight, and tax that is not reclaimed. Tax that is reclaimed is kept beside, in no cost. share_by
-- says how the freight of the delivery was shared out.
CREATE TABLE received_cost (
  entry_id INTEGER PRIMARY KEY REFERENCES entry (id),
  cloth_minor INTEGER NOT NULL CHECK (cloth_minor BETWEEN 0 AND 1000000000000),
  cut_fees_minor INTEGER NOT NULL CHECK (cut_fees_minor BETWEEN 0 AND 1000000000000),
  freight_minor INTEGER NOT NULL CHECK (freight_minor BETWEEN 0 AND 1000000000000),
  tax_minor INTEGER NOT NULL CHECK (tax_minor BETWEEN 0 AND 1000000000000),
  reclaimed_minor INTEGER NOT NULL CHECK (reclaimed_minor BETWEEN 0 AND 1000000000000),
  share_by TEXT NOT NULL CHECK (share_by IN ('value', 'length'))
) STRICT;
CREATE TRIGGER received_cost_adds_up AFTER INSERT ON received_cost
WHEN NOT EXISTS (
  SELECT 1 FROM entry WHERE id = NEW.entry_id AND kind = 'received'
    AND cost_minor = NEW.cloth_minor + NEW.cut_fees_minor + NEW.freight_minor + NEW.tax_minor)
BEGIN SELECT RAISE(ABORT, 'the parts of a cost add up to what came'); END;
CREATE TRIGGER received_cost_never_replaced BEFORE INSERT ON received_cost
WHEN EXISTS (SELECT 1 FROM received_cost WHERE entry_id = NEW.entry_id)
BEGIN SELECT RAISE(ABORT, 'the parts of a cost are never replaced'); END;
CREATE TRIGGER received_cost_never_changes BEFORE UPDATE ON received_cost
BEGIN SELECT RAISE(ABORT, 'the parts of a cost are never changed'); END;
CREATE TRIGGER received_cost_never_goes BEFORE DELETE ON received_cost
BEGIN SELECT RAISE(ABORT, 'the parts of a cost stay in the book'); END;

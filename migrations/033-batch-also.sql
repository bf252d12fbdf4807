-- The fibres of thread, trim, elastic or lining that go into the bath with the cloth of this batch, beside those that its
-- recipe names, as a list of their codes.

ALTER TABLE batch_amount ADD COLUMN also TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(also));

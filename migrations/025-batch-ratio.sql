-- The liquor ratio that a batch is made with where somebody asked for another than the recipe's, in thousandths.

ALTER TABLE batch_amount ADD COLUMN liquor_ratio_milli INTEGER CHECK (liquor_ratio_milli BETWEEN 5000 AND 200000);

-- A tier is placed by the drop of its upper edge, by that of its lower edge, by how high that is above the floor, or level
-- with the lower edge of another tier. What it is not placed by follows from its depth; drop_ticks is the drop as it was
-- when the tier was saved.
ALTER TABLE tier ADD COLUMN placed_by TEXT NOT NULL DEFAULT 'upper' CHECK (placed_by IN ('upper', 'lower', 'floor', 'level'));
ALTER TABLE tier ADD COLUMN placed_ticks INTEGER CHECK (placed_ticks BETWEEN 0 AND 1600000);
ALTER TABLE tier ADD COLUMN level_tier_id INTEGER REFERENCES tier (id) CHECK ((level_tier_id IS NOT NULL) = (placed_by = 'level'));
CREATE INDEX tier_by_level ON tier (level_tier_id) WHERE level_tier_id IS NOT NULL;

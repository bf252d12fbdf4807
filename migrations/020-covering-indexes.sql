-- Sums that are asked at every page are read from an index alone, without the rows: strips that were cut for a tier, by
-- piece, and what lies on the shelf, by lot.

DROP INDEX entry_by_tier;
CREATE INDEX entry_by_tier ON entry (tier_id, kind, piece_id, strips) WHERE tier_id IS NOT NULL;
DROP INDEX piece_on_shelf;
CREATE INDEX piece_on_shelf ON piece (lot_id, on_hand_ticks, held_ticks) WHERE on_hand_ticks > 0;

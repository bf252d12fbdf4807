-- A part of a garment that is cut of cloth has a row of its own among the tiers, so that lengths are held and cut for it
-- strip by strip as for a tier, in plans and at the bench too. What is cut follows from the part: of the row only its
-- number, its name and whether it is taken out say anything. It hangs nowhere and has no colour blocks.
ALTER TABLE tier ADD COLUMN garment_part_id INTEGER REFERENCES garment_part (id);
CREATE UNIQUE INDEX tier_of_part ON tier (garment_part_id) WHERE garment_part_id IS NOT NULL;

-- Parts that are kept already get theirs; a book without any cloth has none to cut.
INSERT INTO tier (garment_id, position, name, hangs, drop_ticks, cloth_id, depth_ticks, fullness_milli, ring, seam_ticks,
  end_ticks, heading_ticks, hem_ticks, finish_repeat, taken_out_at, typed, changed_at, changed_by_id, garment_part_id)
SELECT garment_id, 1000, name, 'form', 0, coalesce(cloth_id, (SELECT min(id) FROM cloth)), 1, 1000, 0, 0,
  0, 0, 0, 0, taken_out_at, '{}', changed_at, changed_by_id, id
FROM garment_part WHERE EXISTS (SELECT 1 FROM cloth) ORDER BY id;

CREATE TRIGGER tier_of_its_part BEFORE INSERT ON tier
WHEN EXISTS (SELECT 1 FROM garment_part WHERE id = NEW.garment_part_id AND garment_id <> NEW.garment_id)
BEGIN SELECT RAISE(ABORT, 'what is cut for a part is cut for its garment'); END;
CREATE TRIGGER tier_keeps_its_part BEFORE UPDATE OF garment_id, garment_part_id ON tier
WHEN NEW.garment_part_id IS NOT OLD.garment_part_id OR NEW.garment_id <> OLD.garment_id
BEGIN SELECT RAISE(ABORT, 'what is cut for a tier or part stays for it'); END;
CREATE TRIGGER colour_block_of_a_tier BEFORE INSERT ON colour_block
WHEN EXISTS (SELECT 1 FROM tier WHERE id = NEW.tier_id AND garment_part_id IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'a part has a shade and no colour blocks'); END;

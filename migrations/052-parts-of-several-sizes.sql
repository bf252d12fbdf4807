-- A part may be cut in several sizes, such as a band with its facing: each has a row of its own among the tiers. The main
-- size has no name, and is what parts had before.
ALTER TABLE tier ADD COLUMN part_size TEXT NOT NULL DEFAULT ''
  CHECK (length(part_size) <= 40 AND (part_size = '' OR garment_part_id IS NOT NULL));
DROP INDEX tier_of_part;
CREATE UNIQUE INDEX tier_of_part_size ON tier (garment_part_id, part_size) WHERE garment_part_id IS NOT NULL;

DROP TRIGGER tier_keeps_its_part;
CREATE TRIGGER tier_keeps_its_part BEFORE UPDATE OF garment_id, garment_part_id, part_size ON tier
WHEN NEW.garment_part_id IS NOT OLD.garment_part_id OR NEW.garment_id <> OLD.garment_id OR NEW.part_size <> OLD.part_size
BEGIN SELECT RAISE(ABORT, 'what is cut for a tier or part stays for it'); END;

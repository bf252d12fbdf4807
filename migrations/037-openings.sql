-- How deep a garment opens below the waist, what holds it closed and how far apart, and the girth that it is put on over.
ALTER TABLE garment ADD COLUMN opening_ticks INTEGER CHECK (opening_ticks BETWEEN 1 AND 1600000);
ALTER TABLE garment ADD COLUMN fastening TEXT NOT NULL DEFAULT 'hooks' CHECK (fastening IN ('hooks', 'snaps', 'buttons', 'zip', 'lacing', 'ties'));
ALTER TABLE garment ADD COLUMN fastener_ticks INTEGER CHECK (fastener_ticks BETWEEN 1 AND 1600000);
ALTER TABLE garment ADD COLUMN over_ticks INTEGER CHECK (over_ticks BETWEEN 1 AND 16000000);
-- What becomes of a tier where the garment opens: two finished ends, a seam that is left unsewn, or it stays closed.
ALTER TABLE tier ADD COLUMN opening_way TEXT NOT NULL DEFAULT 'finished' CHECK (opening_way IN ('finished', 'unsewn', 'closed'));

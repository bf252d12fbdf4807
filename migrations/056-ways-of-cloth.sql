-- A cloth with a way (nap, pile, an up and a down) lets no strip be turned; one with a pattern gives whole repeats along it, and
-- of a half-drop neighbours stand half a repeat apart.
ALTER TABLE cloth ADD COLUMN one_way INTEGER NOT NULL DEFAULT 0 CHECK (one_way IN (0, 1));
ALTER TABLE cloth ADD COLUMN repeat_ticks INTEGER CHECK (repeat_ticks BETWEEN 1 AND 16000000);
ALTER TABLE cloth ADD COLUMN half_drop INTEGER NOT NULL DEFAULT 0
  CHECK (half_drop IN (0, 1) AND (half_drop = 0 OR repeat_ticks IS NOT NULL));

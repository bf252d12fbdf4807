-- A piston pipette is an instrument for small volumes too: what the workroom measures them with is asked anew.

ALTER TABLE workroom DROP COLUMN measures_with;
ALTER TABLE workroom ADD COLUMN measures_with TEXT NOT NULL DEFAULT 'pipette'
  CHECK (measures_with IN ('cylinder', 'pipette', 'piston', 'syringe'));

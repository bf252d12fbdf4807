-- What a cloth was given before it came, as far as its dyeing goes: '' and 0 are what nobody has said. finish stays the
-- words that the supplier has for it.
ALTER TABLE cloth ADD COLUMN state TEXT NOT NULL DEFAULT '' CHECK (state IN ('', 'greige', 'prepared', 'heat-set'));
ALTER TABLE cloth ADD COLUMN nylon TEXT NOT NULL DEFAULT '' CHECK (nylon IN ('', '6', '66'));
ALTER TABLE cloth ADD COLUMN flame_retardant INTEGER NOT NULL DEFAULT 0 CHECK (flame_retardant IN (0, 1));
ALTER TABLE cloth ADD COLUMN water_repellent INTEGER NOT NULL DEFAULT 0 CHECK (water_repellent IN (0, 1));
ALTER TABLE cloth ADD COLUMN parchment INTEGER NOT NULL DEFAULT 0 CHECK (parchment IN (0, 1));
ALTER TABLE cloth ADD COLUMN starched INTEGER NOT NULL DEFAULT 0 CHECK (starched IN (0, 1));

-- The fibres of thread, trim, elastic or lining that are in the bath with the cloth, as a list of their codes.
ALTER TABLE recipe ADD COLUMN also TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(also));

-- What an auxiliary was that went into a bath by hand: the row of the log has its name and mass.
CREATE TABLE batch_log_auxiliary (
  log_id INTEGER PRIMARY KEY REFERENCES batch_log (id),
  kind TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 60),
  form TEXT NOT NULL CHECK (length(form) BETWEEN 1 AND 60)
) STRICT;

CREATE TRIGGER batch_log_auxiliary_never_changes BEFORE UPDATE ON batch_log_auxiliary
BEGIN SELECT RAISE(ABORT, 'what was logged is never changed'); END;
CREATE TRIGGER batch_log_auxiliary_never_goes BEFORE DELETE ON batch_log_auxiliary
BEGIN SELECT RAISE(ABORT, 'what was logged is never removed'); END;
CREATE TRIGGER batch_log_auxiliary_never_replaced BEFORE INSERT ON batch_log_auxiliary
WHEN EXISTS (SELECT 1 FROM batch_log_auxiliary WHERE log_id = NEW.log_id)
BEGIN SELECT RAISE(ABORT, 'what was logged is never replaced'); END;

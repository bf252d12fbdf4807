-- garment-versions
-- What a garment was after each change of its form, tiers and colour blocks: kept for good, so that what was cut
-- can be told from what was changed since. `after_entry_id` is the last entry of the ledger before the change:
-- strips cut by later entries were cut from this version or a later one.
CREATE TABLE garment_version (
  garment_id INTEGER NOT NULL REFERENCES garment (id),
  number INTEGER NOT NULL,
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  said TEXT NOT NULL CHECK (length(said) BETWEEN 1 AND 1000),
  after_entry_id INTEGER NOT NULL CHECK (after_entry_id >= 0),
  snapshot TEXT NOT NULL CHECK (json_valid(snapshot)),
  PRIMARY KEY (garment_id, number)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER garment_version_follows BEFORE INSERT ON garment_version
WHEN NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM garment_version WHERE garment_id = NEW.garment_id)
BEGIN
  SELECT RAISE(ABORT, 'the versions of a garment are numbered one after another');
END;

CREATE TRIGGER garment_version_never_changed BEFORE UPDATE ON garment_version
BEGIN
  SELECT RAISE(ABORT, 'a version of a garment is never changed');
END;

CREATE TRIGGER garment_version_never_removed BEFORE DELETE ON garment_version
BEGIN
  SELECT RAISE(ABORT, 'a version of a garment is never removed');
END;

-- What the maker's label of a dye, or of what a recipe is made of, says of how it is worked. A label is followed by a newer
-- one; one that says nothing takes the earlier away. Of a recipe it holds for later versions of its name too.

CREATE TABLE maker_label (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  dye_id INTEGER REFERENCES dye (id),
  recipe_id INTEGER REFERENCES recipe (id),
  label TEXT NOT NULL CHECK (json_valid(label)),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  person_id INTEGER NOT NULL REFERENCES person (id),
  CHECK ((dye_id IS NULL) <> (recipe_id IS NULL))
) STRICT;
CREATE INDEX maker_label_by_dye ON maker_label (dye_id, id) WHERE dye_id IS NOT NULL;
CREATE INDEX maker_label_by_recipe ON maker_label (recipe_id, id) WHERE recipe_id IS NOT NULL;

CREATE TRIGGER maker_label_never_changes BEFORE UPDATE ON maker_label
BEGIN SELECT RAISE(ABORT, 'a label of a maker is followed by a newer one, not changed'); END;
CREATE TRIGGER maker_label_never_goes BEFORE DELETE ON maker_label
BEGIN SELECT RAISE(ABORT, 'a label of a maker stays in the book'); END;
CREATE TRIGGER maker_label_never_replaced BEFORE INSERT ON maker_label
WHEN EXISTS (SELECT 1 FROM maker_label WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a label of a maker is followed by a newer one, not replaced'); END;

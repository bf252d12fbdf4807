-- How a print, a paint or a transfer is fixed, as the label of it says: beside the recipe, and kept as that is. °C and
-- seconds.

CREATE TABLE recipe_fixing (
  recipe_id INTEGER PRIMARY KEY REFERENCES recipe (id),
  how TEXT NOT NULL CHECK (how IN ('steam', 'dry heat', 'press')),
  temperature_c INTEGER NOT NULL CHECK (temperature_c BETWEEN 20 AND 230),
  seconds INTEGER NOT NULL CHECK (seconds BETWEEN 1 AND 21600)
) STRICT;

CREATE TRIGGER recipe_fixing_never_changes BEFORE UPDATE ON recipe_fixing
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;
CREATE TRIGGER recipe_fixing_never_goes BEFORE DELETE ON recipe_fixing
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;
CREATE TRIGGER recipe_fixing_before_batches BEFORE INSERT ON recipe_fixing
WHEN EXISTS (SELECT 1 FROM batch WHERE recipe_id = NEW.recipe_id)
  OR EXISTS (SELECT 1 FROM recipe_fixing WHERE recipe_id = NEW.recipe_id)
BEGIN SELECT RAISE(ABORT, 'a recipe is never changed: a new version follows it'); END;

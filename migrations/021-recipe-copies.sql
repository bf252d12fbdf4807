-- A recipe that was copied from another, for another shade, cloth or fibre. cloth_id is the cloth that it was copied for.
CREATE TABLE recipe_copy (
  recipe_id INTEGER PRIMARY KEY REFERENCES recipe (id),
  of_id INTEGER NOT NULL REFERENCES recipe (id),
  cloth_id INTEGER REFERENCES cloth (id),
  CHECK (of_id <> recipe_id)
) STRICT;
CREATE INDEX recipe_copy_by_recipe ON recipe_copy (of_id);

CREATE TRIGGER recipe_copy_never_changes BEFORE UPDATE ON recipe_copy
BEGIN SELECT RAISE(ABORT, 'a recipe was copied from what it was copied from'); END;
CREATE TRIGGER recipe_copy_never_goes BEFORE DELETE ON recipe_copy
BEGIN SELECT RAISE(ABORT, 'a recipe was copied from what it was copied from'); END;
CREATE TRIGGER recipe_copy_never_replaced BEFORE INSERT ON recipe_copy
WHEN EXISTS (SELECT 1 FROM recipe_copy WHERE recipe_id = NEW.recipe_id)
BEGIN SELECT RAISE(ABORT, 'a recipe was copied from what it was copied from'); END;

-- A version is the same recipe, better known: for another shade or fibre a recipe is copied.
CREATE TRIGGER recipe_version_keeps_its_shade AFTER INSERT ON recipe
WHEN EXISTS (SELECT 1 FROM recipe WHERE id = NEW.follows_id AND shade_id <> NEW.shade_id)
BEGIN SELECT RAISE(ABORT, 'a new version is for the shade of the one before'); END;
CREATE TRIGGER recipe_version_keeps_its_fibre AFTER INSERT ON recipe
WHEN EXISTS (SELECT 1 FROM recipe WHERE id = NEW.follows_id AND fibre <> NEW.fibre)
BEGIN SELECT RAISE(ABORT, 'a new version is for the fibre of the one before'); END;

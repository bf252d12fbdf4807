import type { Reader, Tx } from '../../database/book.ts';

/** The recipe that a recipe was copied from, and the cloth that it was copied for; null for one that is no copy. */
export function readCopied(reader: Reader, recipeId: number) {
  const row = reader.first(
    reader.db
      .selectFrom('recipe_copy')
      .leftJoin('cloth', 'cloth.id', 'recipe_copy.cloth_id')
      .select(['recipe_copy.of_id', 'cloth.id as cloth_id', 'cloth.name as cloth_name'])
      .where('recipe_copy.recipe_id', '=', recipeId),
  );
  if (!row) return null;
  const { of_id: ofId, cloth_id: id, cloth_name: name } = row;
  return { ofId, cloth: id === null || name === null ? null : { id, name } };
}

export function keepCopied(tx: Tx, recipeId: number, ofId: number, clothId: number | null): void {
  tx.run(tx.db.insertInto('recipe_copy').values({ recipe_id: recipeId, of_id: ofId, cloth_id: clothId }));
}

import type { Fixing } from '../../../src/dye/label-class.ts';
import type { Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';

const fixingOf = prepared((db, recipeId: Param<number>) =>
  db.selectFrom('recipe_fixing').selectAll().where('recipe_id', '=', recipeId),
);

/** How a recipe is fixed by its label; undefined where it is not. */
export function readFixing(reader: Reader, recipeId: number): Fixing | undefined {
  const row = reader.first(fixingOf(recipeId));
  return row && { how: row.how, temperatureC: row.temperature_c, seconds: row.seconds };
}

export function keepFixing(tx: Tx, recipeId: number, { how, temperatureC, seconds }: Fixing): void {
  const values = { recipe_id: recipeId, how, temperature_c: temperatureC, seconds };
  tx.run(tx.db.insertInto('recipe_fixing').values(values));
}

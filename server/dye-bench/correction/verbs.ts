import type { z } from 'zod';
import { withAlso } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import { type StripMethod, stripMethod, stripRecipe } from '../../../src/dye/strip.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { batchPath } from '../../kit/paths.ts';
import { findNamed } from '../../kit/same-name.ts';
import { conflict, refuseAny } from '../../refusal.ts';
import { logRead } from '../pot/read-cautions.ts';
import { insertRecipe, type StoredRecipe } from '../recipe/store.ts';
import { readBatchToCorrect } from './batch.ts';
import { type CORRECTION_READ, NEW_SHADE, type StripForm } from './form.ts';

/**
 * Writes the recipe of a stripping bath for a batch down and leads on to planning it, with the pieces that came back.
 * @throws {Refusal} conflict where nothing is back, invalid where the cloth does not stand it
 */
export function planStrip(tx: Tx, code: string, form: StripForm, units: Units): Answer {
  const { content, also, water, pieces, stored } = readBatchToCorrect(tx, code);
  if (pieces.length === 0) {
    throw conflict(`Nothing of ${code} is back and free: finish the batch first, then strip its pieces.`, {
      text: `Batch ${code}`,
      href: batchPath(code),
    });
  }
  const method = stripMethod(form.strip);
  const given = stripRecipe(method, content);
  if (!given) throw conflict(`${method.name}: no figure is given for the fibres of this cloth.`);
  const recipe = withAlso(given, also);
  refuseAny(checkRecipe(recipe, content, water).problems.map(({ message }) => ({ field: 'strip', message })));
  const shadeId = form.becomes === NEW_SHADE ? strippedShade(tx, stored) : Number(form.becomes);
  const name = nameFor(tx, method, code);
  const recipeId = insertRecipe(tx, {
    name,
    version: 1,
    followsId: null,
    shadeId,
    fibre: stored.fibre,
    recipe,
    auxiliaryMarks: recipe.auxiliaries.map(() => method.mark),
    shrinkageBp: 0,
    note: `For ${code}.`,
    typed: {},
  });
  const rows = pieces.flatMap(({ code: piece, freeTicks }, at) => [
    [`pieces.${at}.piece`, piece],
    [`pieces.${at}.length`, writeLength(freeTicks, units)],
  ]);
  return {
    location: address('/dye-bench/batches/new', {
      recipe_id: recipeId,
      over: 'yes',
      ...Object.fromEntries(rows),
    }),
    said: `${name} is kept as a recipe. Choose the vessel and the lengths.`,
  };
}

/** Keeps that the cautions of these baths were read, and leads back to them. */
export function logReadForCorrection(
  tx: Tx,
  code: string,
  { trouble, after, cautions }: z.output<typeof CORRECTION_READ>,
): Answer {
  return logRead(tx, code, cautions, address(`${batchPath(code)}/correction`, { trouble, after }));
}

/** The shade of what is stripped of a shade, to be dyed over like an undyed ground. */
function strippedShade(tx: Tx, { shade }: StoredRecipe): number {
  const name = `Stripped ${shade.name}`.slice(0, 120);
  const known = findNamed(tx, 'shade', name);
  if (known) return known.id;
  const colour = { lab_l: null, lab_a: null, lab_b: null, lab_how: null };
  return tx.run(tx.db.insertInto('shade').values({ name, ground: 1, ...colour })).lastId;
}

function nameFor(tx: Tx, { name }: StripMethod, code: string): string {
  const wanted = `${name}, ${code}`;
  const isTaken = (tried: string) =>
    tx.first(tx.db.selectFrom('recipe').select('id').where('name', '=', tried)) !== undefined;
  for (let at = 1; ; at += 1) {
    const tried = at === 1 ? wanted : `${wanted} (${at})`;
    if (!isTaken(tried)) return tried;
  }
}

import { nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { markOf, type Recipe } from '../../../src/dye/recipe.ts';
import type { Typed } from '../../kit/typed.ts';
import { sayMeasured } from './figures.ts';
import { sayAmount } from './offer.ts';
import type { StoredRecipe } from './store.ts';

/** A recipe's form as it was typed, with other dyes and auxiliaries: its own at another depth, or mixed with another's. */
export function typedWith(stored: Pick<StoredRecipe, 'typed'>, recipe: Recipe): Typed {
  const kept = Object.entries(stored.typed).filter(([field]) => !/^(?:dyes|auxiliaries)\./.test(field));
  const dyes = recipe.dyes.flatMap(({ name, owfMilli }, row) => [
    [`dyes.${row}.name`, name],
    [`dyes.${row}.owf`, String(owfMilli / 1000)],
  ]);
  const auxiliaries = recipe.auxiliaries.flatMap((auxiliary, row) => {
    const { kind, form, name } = auxiliary;
    return [
      [`auxiliaries.${row}.what`, `${kind}/${form}`],
      [`auxiliaries.${row}.amount`, sayMeasured(kind, form, sayAmount(auxiliary))],
      [`auxiliaries.${row}.name`, name === nameOfForm(kind, form) ? '' : name],
      [`auxiliaries.${row}.label`, markOf(recipe, `auxiliaries.${kind}`).basis === 'label' ? 'yes' : ''],
    ];
  });
  return Object.fromEntries([...kept, ...dyes, ...auxiliaries]);
}

/**
 * From the tub to what goes into the bath: dye is weighed, pasted, and dissolved, stirred up or reduced, as steps of their
 * own, since it is there that dust flies.
 */

import { published } from '../quantity/provenance.ts';
import type { Recipe } from './recipe.ts';
import { VAT_SAYS, VAT_WAYS, vatFamilyOf } from './vat.ts';
import { type DraftStep, draftStep } from './work-step.ts';

/** How long weighing and dissolving take in the plan (common practice). */
const WEIGH_MINUTES = 10;
const DISSOLVE_MINUTES = 10;

export function weighStep({ dyes }: Recipe): DraftStep {
  const says =
    'In still air, in a shallow dish, the tub closed at once. Mark each jar with its bath. Where the card proposes a stock, measure that.';
  return { ...draftStep('weigh', 'Weigh the dye', WEIGH_MINUTES, says), adds: dyes.map(({ name }) => name) };
}

const PASTING = 'Wet the powder to a smooth paste with a little water poured onto it, ';

/** From powder to what goes into the bath: pasted, then dissolved, stirred up, or reduced. */
export function dissolveSteps(recipe: Recipe): readonly DraftStep[] {
  const mark = published('a university costume shop’s dye page: pasting; the rest common practice');
  const step = (title: string, says: string, toC: number): DraftStep => ({
    ...draftStep('dissolve', title, DISSOLVE_MINUTES, says),
    fromC: toC,
    toC,
    mark,
  });
  switch (recipe.dyeClass) {
    case 'vat':
      return [
        step(
          'Paste the dye',
          `${PASTING}with wetting agent, thin it with warm water, and strain it; for sheer cloth twice: specks show.`,
          40,
        ),
        vatStep(recipe),
      ];
    case 'disperse':
      return [
        step(
          'Disperse the dye',
          `${PASTING}thin it with warm water of 40 °C, stir, and strain it. It stays a dispersion, and settles: shake it before it is used.`,
          40,
        ),
      ];
    case 'reactive':
      return [
        step(
          'Dissolve the dye',
          `${PASTING}then dissolve it in warm water of 40 °C and strain it. Use it within hours, and let no soda near it.`,
          40,
        ),
      ];
    case 'basic':
      return [
        step(
          'Dissolve the dye',
          `${PASTING}with a little vinegar in it, then dissolve it in hot water of 60 °C and strain it.`,
          60,
        ),
      ];
    default:
      return [
        step('Dissolve the dye', `${PASTING}then dissolve it in hot water of 80 °C and strain it.`, 80),
      ];
  }
}

/** The stock vat takes half of what the vat takes (our rule: no share is published), the blank bath the rest. */
function vatStep(recipe: Recipe): DraftStep {
  const family = vatFamilyOf(recipe);
  const toC = family ? VAT_WAYS[family].vattingC : recipe.temperatureC;
  const own = ['caustic-soda', 'hydrosulphite'];
  const adds = recipe.auxiliaries.filter(({ kind }) => own.includes(kind)).map(({ name }) => name);
  return {
    ...draftStep('vat', `Reduce the dye in a stock vat at ${toC} °C`, 15, VAT_SAYS.stock(family)),
    fromC: toC,
    toC,
    adds,
    mark: { basis: 'from memory', source: 'from memory; half and half is our rule; heat: Broadbent, p. 367' },
  };
}

import type { Card } from '../../../src/dye/card.ts';
import { type WantedPh, wantedPh } from '../../../src/dye/expected-ph.ts';
import { phOfStep, type StepPh } from '../../../src/dye/step-ph.ts';
import { sayExpected, sayRange } from '../card/ph-show.ts';
import type { BathState } from './bath-state.ts';

/** What a step of a bath wants of the pH and what is to be expected. A card of before goes by its recipe alone. */
export function phAtStep({ steps, bath }: BathState, key: string, { recipe, ph }: Card): StepPh {
  const { wants, water } = ph ?? { wants: wantedPh(recipe, []), water: null };
  return phOfStep(steps, key, { bath, wants, water });
}

/**
 * What a reading at a step is held against: the pH of the recipe, and nothing while the last of the acid or the alkali
 * goes in. What only the class of dye wants is told and not held against anybody.
 */
export function heldAgainst(state: BathState, key: string, card: Card): WantedPh | null {
  const { wants, moves } = phAtStep(state, key, card);
  return moves || card.recipe.pHFrom === undefined ? null : wants;
}

/** "pH 10 to 11 wanted; expected 10.9, ±0.3: measure", '' where there is nothing to measure. */
export function sayStepPh({ wants, expected }: StepPh): string {
  const said = [wants ? `pH ${sayRange(wants)} wanted` : '', expected ? sayExpected(expected) : ''];
  const text = said.filter((each) => each !== '').join('; ');
  return wants || text === '' ? text : `pH ${text}`;
}

/** The pH around which a step is read: the middle of what it wants, else what is to be expected; 7 where nothing is known. */
export function middlePh({ wants, expected }: StepPh): number {
  if (wants) return (wants.from + wants.to) / 2;
  return expected?.pH ?? expected?.between?.[0] ?? 7;
}

import type { Units } from '../../src/quantity/length-show.ts';
import { unitOfMeasure } from '../../src/supply/amount.ts';
import type { Reader } from '../database/book.ts';
import type { Choice } from '../kit/choices.ts';
import { readSupplies } from './store.ts';

/** The supplies that are kept, each with the unit that a bare number takes: "Soda ash (g)". */
export function supplyChoices(reader: Reader, units: Units): Choice[] {
  const kept = readSupplies(reader).filter(({ gone }) => gone === '');
  return kept.map(({ id, name, measure }) => ({
    value: String(id),
    label: `${name} (${unitOfMeasure(measure, units)})`,
  }));
}

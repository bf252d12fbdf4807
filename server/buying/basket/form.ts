import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { WHOLE_SHARE_BP } from '../../../src/quantity/whole.ts';
import { MOST_OF_SUPPLY, readSupplyAmount } from '../../../src/supply/amount.ts';
import type { Reader } from '../../database/book.ts';
import { chosenField, clothChoices, shadeChoices } from '../../kit/choices.ts';
import {
  lengthField,
  optionalDay,
  optionalPercent,
  optionalWhole,
  placeField,
  rowsField,
  textField,
  withPlaces,
} from '../../kit/fields.ts';
import { askedAs } from '../../kit/form-drawing.ts';
import { lengthUnit } from '../../kit/units.ts';
import { supplyChoices } from '../../supplies/choices.ts';
import { readSupplies } from '../../supplies/store.ts';
import type { Asker } from '../../web/house.ts';

export const MOST_NEEDS = 25;
const BLANK_NEEDS = 2;

/** What is to be bought, and by when it is wanted. */
export function basketFields(reader: Reader, asker: Asker) {
  const need = z.strictObject({
    cloth_id: chosenField(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'no cloth' }),
    shade_id: chosenField(shadeChoices(reader), 'a shade', { label: 'Shade', blank: 'no shade' }),
    length: lengthField(lengthUnit(asker.units), { max: MOST_LENGTH_TICKS / 2, label: 'Length' }),
    spare: optionalPercent({ maxBp: WHOLE_SHARE_BP, label: 'Spare' }),
  });
  return {
    needed_by: optionalDay({ label: 'Wanted by' }),
    // The total that was seen when the drafts are asked for; the needs alone have none.
    total_minor: optionalWhole({ min: 0, max: 1_000_000_000_000 }),
    needs: rowsField(need, { min: 0, max: MOST_NEEDS, what: 'needs', spare: BLANK_NEEDS }),
    supplies: suppliesField(reader, asker),
  };
}

/** Supplies to be bought: an amount each, in the unit of the supply. */
function suppliesField(reader: Reader, { units }: Asker) {
  const fields = {
    supply_id: chosenField(supplyChoices(reader, units), 'a supply', { label: 'Supply', blank: 'no supply' }),
    amount: textField({ max: 64, label: 'Amount', what: 'The amount', size: 'short' }),
  };
  const row = z.strictObject({ ...fields, place: placeField() });
  const list = rowsField(row, { min: 0, max: MOST_NEEDS, what: 'supplies', prepare: withPlaces });
  return askedAs(list, { rowFields: fields, rows: 1, spare: 1, mostRows: MOST_NEEDS });
}

export function basketForm(reader: Reader, asker: Asker) {
  return z.strictObject(basketFields(reader, asker)).transform((form, context) => {
    const keys = form.needs.map((row) => `${row.cloth_id} ${row.shade_id}`);
    const again = keys.findIndex((key, i) => keys.indexOf(key) < i);
    if (again >= 0)
      context.issues.push({
        code: 'custom',
        path: ['needs', again, 'shade_id'],
        message: 'This cloth and shade stands above already: write the length together.',
        input: form,
      });
    const measures = new Map(
      form.supplies.length === 0 ? [] : readSupplies(reader).map(({ id, measure }) => [id, measure]),
    );
    const supplies = form.supplies.map(({ supply_id: supplyId, amount, place }) => {
      const read = readSupplyAmount(amount, measures.get(supplyId) ?? 'count', asker.units);
      const wrong = (message: string) =>
        context.issues.push({ code: 'custom', path: ['supplies', place, 'amount'], message, input: form });
      if (!read.ok) wrong(`Amount: ${read.reason}`);
      else if (read.value < 1 || read.value > MOST_OF_SUPPLY) wrong('Amount: enter more than nothing.');
      return { supplyId, amount: read.ok ? read.value : 0 };
    });
    return { ...form, supplies };
  });
}

export type BasketForm = z.output<ReturnType<typeof basketForm>>;

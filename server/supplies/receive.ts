import { z } from 'zod';
import { MOST_OF_SUPPLY, readSupplyAmount } from '../../src/supply/amount.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { chosenField, optionalChosen, supplierChoices, withBlank } from '../kit/choices.ts';
import {
  optionalDay,
  optionalMoney,
  optionalText,
  optionalWhole,
  placeField,
  rowsField,
  textField,
  withPlaces,
} from '../kit/fields.ts';
import { askedAs, drawFields } from '../kit/form-drawing.ts';
import { supplyPath } from '../kit/paths.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { listed } from '../kit/words.ts';
import { type Problem, refuseAny } from '../refusal.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { supplyChoices } from './choices.ts';
import { readSupplies } from './store.ts';
import { receiveSupplies } from './verbs.ts';

const FIRST_ROWS = 4;
const MOST_ROWS = 40;
/** More reels than this of one kind are no row to be typed. */
const MOST_ALIKE = 200;

function rowFields(reader: Reader, { currency, units }: Asker) {
  return {
    supply_id: chosenField(withBlank(supplyChoices(reader, units), 'choose'), 'the supply', {
      label: 'Supply',
    }),
    count: optionalWhole({ min: 1, max: MOST_ALIKE, label: 'How many alike' }),
    amount: textField({ max: 64, label: 'Amount of each', what: 'The amount', size: 'short' }),
    lot: optionalText({ max: 120, label: 'Lot', size: 'short' }),
    opened_on: optionalDay({ label: 'Opened on', hint: '' }),
    cost: optionalMoney(currency, { label: 'Price of all of it', size: 'short' }),
  };
}

function receivedFields(reader: Reader, asker: Asker) {
  const fields = rowFields(reader, asker);
  const row = z.strictObject({ ...fields, place: placeField() });
  const list = rowsField(row, {
    max: MOST_ROWS,
    rows: FIRST_ROWS,
    spare: 2,
    what: 'supplies that came',
    prepare: withPlaces,
  });
  const { rows, spare, mostRows } = list;
  return {
    supplier_id: optionalChosen(supplierChoices(reader), 'a supplier', {
      label: 'From',
      blank: 'no supplier',
    }),
    note: optionalText({ max: 200, label: 'Note' }),
    rows: askedAs(list, { rowFields: fields, rows, spare, mostRows }),
  };
}

export function receivedForm(reader: Reader, asker: Asker) {
  return z.strictObject(receivedFields(reader, asker));
}

type ReceivedForm = z.output<ReturnType<typeof receivedForm>>;

/** What came, a row each; each amount is read in the unit of its supply. */
export function writeReceived(tx: Tx, form: ReceivedForm, { units }: Asker): Answer {
  const problems: Problem[] = [];
  const supplies = new Map(readSupplies(tx).map((supply) => [supply.id, supply]));
  const came = form.rows.flatMap((row) => {
    const supply = supplies.get(row.supply_id);
    if (!supply) return [];
    const read = readSupplyAmount(row.amount, supply.measure, units);
    const field = `rows.${row.place}.amount`;
    if (!read.ok) problems.push({ field, message: `Amount: ${read.reason}` });
    else if (read.value < 1) problems.push({ field, message: 'Amount: enter more than nothing.' });
    const lengths = row.count?.value ?? 1;
    const amount = (read.ok ? read.value : 0) * lengths;
    if (amount > MOST_OF_SUPPLY)
      problems.push({ field, message: 'Amount: too much in all. Enter less of each, or fewer.' });
    const typed = lengths === 1 ? row.amount : `${lengths} × ${row.amount}`.slice(0, 64);
    const { lot, opened_on: openedOn, cost } = row;
    return [{ supplyId: supply.id, amount, lengths, typed, lot, openedOn, costMinor: cost?.value ?? 0 }];
  });
  refuseAny(problems);
  const said = receiveSupplies(tx, came, { supplierId: form.supplier_id, note: form.note });
  const [only] = came;
  const location = came.length === 1 && only ? supplyPath(only.supplyId) : '/supplies';
  return { location, said: `Received: ${listed(said)}.` };
}

/** Several supplies that came at once; `supply` in the address stands in the first row. */
export function receiveSuppliesPage(reader: Reader, asker: Asker, typed: Typed) {
  const fields = drawFields(receivedFields(reader, asker), typed);
  const data = {
    requestKey: mintKey(),
    fields,
    /** false where nothing is described yet */
    any: readSupplies(reader).some(({ gone }) => gone === ''),
  };
  return { view: 'supplies/receive', data, title: 'Receive supplies', room: 'shelf' } satisfies Page;
}

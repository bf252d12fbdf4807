import { z } from 'zod';
import { auxiliaryForm } from '../../src/dye/auxiliaries.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import { MEASURES, MOST_OF_SUPPLY, readSupplyAmount, type SupplyMeasure } from '../../src/supply/amount.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { readWhat, WHAT_CHOICES } from '../kit/auxiliary-choices.ts';
import { type Choice, optionalChosen, placeChoices, supplierChoices, withBlank } from '../kit/choices.ts';
import { choiceField, field, optionalText, textField } from '../kit/fields.ts';
import { asked, drawFields } from '../kit/form-drawing.ts';
import { supplyPath } from '../kit/paths.ts';
import { refuseSameName } from '../kit/same-name.ts';
import { storeTyped, type Typed, withUnit } from '../kit/typed.ts';
import { lengthUnit } from '../kit/units.ts';
import { conflict, invalid } from '../refusal.ts';
import type { Asker } from '../web/house.ts';
import { readSupply, type StockedSupply } from './store.ts';
import { measureOptions, SUPPLY_KIND_HINTS, SUPPLY_KINDS } from './words.ts';

const LONGEST_AMOUNT = 64;

/** What a supply is in recipes: a dye of the list, an auxiliary in one form, or neither. */
type UsedAs = { readonly dyeId: number } | ReturnType<typeof readAuxiliary> | null;

function supplyFields(reader: Reader, units: Units) {
  return {
    name: textField({
      max: 120,
      label: 'Name',
      what: 'The name',
      hint: 'The name in a garment’s list of what it wants, such as Steel.',
    }),
    kind: choiceField(SUPPLY_KINDS, 'the kind', {
      label: 'Kind',
      options: SUPPLY_KINDS.map((value) => ({ value, label: SUPPLY_KIND_HINTS[value] })),
    }),
    measure: choiceField(MEASURES, 'what it is measured in', {
      label: 'Measured in',
      options: measureOptions(units),
    }),
    least: optionalText({
      max: LONGEST_AMOUNT,
      label: 'Least to keep',
      size: 'short',
    }),
    place_id: optionalChosen(placeChoices(reader), 'a place', { label: 'Place', blank: 'no place' }),
    supplier_id: optionalChosen(supplierChoices(reader), 'a supplier', {
      label: 'Supplier',
      blank: 'no supplier',
    }),
    used_as: asked(
      field((typed, refuse): UsedAs => readUsedAs(reader, typed) ?? (typed === '' ? null : refuse(CHOOSE))),
      {
        label: 'In recipes it is',
        kind: 'select',
        options: withBlank([...dyeChoices(reader), ...WHAT_CHOICES], 'not in recipes'),
        required: false,
        hint: 'It then goes down as baths are weighed.',
      },
    ),
    note: optionalText({ max: 2000, lines: true, label: 'Note', rows: 2, size: 'long' }),
  };
}

const CHOOSE = 'In recipes it is: choose a dye of the list or a chemical, or leave it blank.';

function dyeChoices(reader: Reader): Choice[] {
  const dyes = reader.all(
    reader.db.selectFrom('dye').select(['id', 'name']).where('gone_at', 'is', null).orderBy('name'),
  );
  return dyes.map(({ id, name }) => ({ value: `dye/${id}`, label: `Dye: ${name}` }));
}

function readUsedAs(reader: Reader, typed: string): UsedAs {
  const dye = /^dye\/([1-9]\d{0,14})$/.exec(typed)?.[1];
  if (dye === undefined) return readAuxiliary(typed);
  const found = reader.first(reader.db.selectFrom('dye').select('id').where('id', '=', Number(dye)));
  return found ? { dyeId: found.id } : null;
}

function readAuxiliary(typed: string) {
  const read = readWhat(typed);
  return read.ok ? read.value : null;
}

/** A supply as it is described: what is to be kept is read in the unit that the same form names. */
export function supplyForm(reader: Reader, units: Units) {
  return z.strictObject(supplyFields(reader, units)).transform((form, context) => {
    const problem = (path: string, message: string) => {
      context.issues.push({ code: 'custom', path: [path], message, input: form });
    };
    const wrong = whyNotUsedAs(form);
    if (wrong !== '') problem('used_as', wrong);
    if (form.least === '') return { ...form, leastAmount: null };
    const read = readSupplyAmount(form.least, form.measure, units);
    if (!read.ok) problem('least', read.reason);
    else if (read.value < 1 || read.value > MOST_OF_SUPPLY)
      problem('least', 'Least to keep: enter more than nothing, or leave it blank.');
    return { ...form, leastAmount: read.ok ? read.value : null };
  });
}

export type SupplyForm = z.output<ReturnType<typeof supplyForm>>;

function whyNotUsedAs(form: {
  readonly kind: string;
  readonly measure: SupplyMeasure;
  readonly used_as: UsedAs;
}): string {
  const { used_as: usedAs, kind, measure } = form;
  if (usedAs === null) return '';
  if ('dyeId' in usedAs) {
    if (kind !== 'dye') return 'In recipes it is: only a supply of the kind dye is a dye of recipes.';
    return measure === 'mass' ? '' : 'In recipes it is: dye is weighed, so measure this supply in g.';
  }
  if (kind !== 'chemical') return 'In recipes it is: only a supply of the kind chemical is used so.';
  const liquid = auxiliaryForm(usedAs.kind, usedAs.form)?.densityMgPerMl !== undefined;
  if (measure === 'mass' || (measure === 'volume' && liquid)) return '';
  return liquid
    ? 'In recipes it is: measure this supply in g or mL.'
    : 'In recipes it is: this is weighed, so measure this supply in g.';
}

export function drawSupplyForm(reader: Reader, units: Units, typed: Typed) {
  return drawFields(supplyFields(reader, units), typed);
}

/** A supply as its form was typed. */
export function typedSupply(supply: StockedSupply): Typed {
  const usedAs = supply.auxiliary
    ? `${supply.auxiliary.kind}/${supply.auxiliary.form}`
    : supply.dyeId === null
      ? ''
      : `dye/${supply.dyeId}`;
  return {
    ...supply.typed,
    name: supply.name,
    kind: supply.kind,
    measure: supply.measure,
    place_id: String(supply.placeId ?? ''),
    supplier_id: String(supply.supplierId ?? ''),
    used_as: usedAs,
    note: supply.note,
  };
}

export function addSupply(tx: Tx, form: SupplyForm, { units }: Asker): Answer {
  const { lastId } = tx.run(
    tx.db.insertInto('supply').values({ ...rowOf(tx, form, null, units), gone_at: null }),
  );
  return { location: supplyPath(lastId), said: `${form.name} is on the list of supplies.` };
}

export function changeSupply(tx: Tx, id: number, form: SupplyForm, { units }: Asker): Answer {
  const before = readSupply(tx, id);
  if (before.lots > 0 && before.measure !== form.measure) {
    throw invalid(
      'measure',
      `Measured in: entries of ${before.name} are in the unit it has. Add another supply for another unit.`,
    );
  }
  tx.run(
    tx.db
      .updateTable('supply')
      .set(rowOf(tx, form, id, units))
      .where('id', '=', id),
  );
  return { location: supplyPath(id), said: `${form.name} is changed.` };
}

function rowOf(tx: Tx, form: SupplyForm, id: number | null, units: Units) {
  refuseSameName(tx, { table: 'supply', name: form.name, id, hrefOf: supplyPath });
  const { used_as: usedAs } = form;
  const least = form.measure === 'length' ? withUnit(form.least, lengthUnit(units)) : form.least;
  return {
    name: form.name,
    kind: form.kind,
    measure: form.measure,
    note: form.note,
    least: form.leastAmount,
    place_id: form.place_id,
    supplier_id: form.supplier_id,
    dye_id: usedAs && 'dyeId' in usedAs ? usedAs.dyeId : null,
    auxiliary_kind: usedAs && 'kind' in usedAs ? usedAs.kind : null,
    auxiliary_form: usedAs && 'form' in usedAs ? usedAs.form : null,
    typed: storeTyped({ least }),
  };
}

/** Takes a supply off the list; its entries stay. Nothing of it may be left. */
export function putSupplyAway(tx: Tx, id: number): Answer {
  const supply = readSupply(tx, id);
  if (supply.gone !== '') throw conflict(`${supply.name} was put away already, ${supply.gone}.`);
  if (supply.onHand > 0)
    throw conflict(`Some of ${supply.name} is still on hand: use it up, count it or write it off.`);
  tx.run(tx.db.updateTable('supply').set({ gone_at: tx.at }).where('id', '=', id));
  return { location: supplyPath(id), said: `${supply.name} is put away.` };
}

export function takeSupplyBack(tx: Tx, id: number): Answer {
  const supply = readSupply(tx, id);
  if (supply.gone === '') throw conflict(`${supply.name} is on the list already.`);
  tx.run(tx.db.updateTable('supply').set({ gone_at: null }).where('id', '=', id));
  return { location: supplyPath(id), said: `${supply.name} is on the list again.` };
}

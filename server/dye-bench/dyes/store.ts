import { z } from 'zod';
import { DYE_CLASS_NAMES, DYE_CLASSES, type DyeClass } from '../../../src/dye/dye-class.ts';
import { MOST_MASS_MG, readMass } from '../../../src/quantity/mass.ts';
import { readPercent } from '../../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import {
  choiceField,
  field,
  optionalMoney,
  optionalText,
  type Quantity,
  textField,
} from '../../kit/fields.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import type { Typed } from '../../kit/typed.ts';
import { readTyped, storeTyped } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';

/** A dye that the workroom has, as its label and its own lot say. */
export interface Dye {
  readonly id: number;
  readonly name: string;
  readonly dyeClass: DyeClass;
  readonly method: string;
  /** of the maker's standard, in hundredths of a percent; null where the label gives none */
  readonly strengthBp: number | null;
  readonly lot: string;
  readonly priceMinor: number | null;
  readonly priceMg: number | null;
  readonly labelNotes: string;
  readonly typed: Typed;
  /** when it was put away, '' while it is in use */
  readonly gone: string;
}

/** Ten times the standard: dyes are sold up to a few times as strong. */
const MOST_STRENGTH_BP = 100_000;

export function dyeForm(currency: string) {
  return z.strictObject({
    name: textField({ max: 120, label: 'The name of the dye' }),
    dye_class: choiceField(DYE_CLASSES, 'the class of dye'),
    method: optionalText({ max: 120 }),
    strength: optionalStrength(),
    lot: optionalText({ max: 120 }),
    price: optionalMoney(currency),
    price_for: optionalAmount(),
    label_notes: optionalText({ max: 2000, lines: true }),
  });
}

type DyeForm = z.output<ReturnType<typeof dyeForm>>;

function optionalStrength() {
  return field((typed, refuse): Quantity | null => {
    if (typed.trim() === '') return null;
    const reading = readPercent(typed, { maxBp: MOST_STRENGTH_BP });
    if (!reading.ok) return refuse(reading.reason);
    if (reading.value === 0) return refuse('A dye of no strength dyes nothing: 100 % is the standard.');
    return { value: reading.value, typed: typed.trim() };
  });
}

function optionalAmount() {
  return field((typed, refuse): Quantity | null => {
    if (typed.trim() === '') return null;
    const reading = readMass(typed, 'g');
    if (!reading.ok) return refuse(reading.reason);
    if (reading.value < 1 || reading.value > MOST_MASS_MG)
      return refuse('Give the mass that the price is for: 100 g.');
    return { value: reading.value, typed: typed.trim() };
  });
}

/** All dyes by class and name, those put away too. */
export function readDyes(reader: Reader): Dye[] {
  return reader
    .all(reader.db.selectFrom('dye').selectAll().orderBy('dye_class').orderBy('name'))
    .map((row) => ({
      id: row.id,
      name: row.name,
      dyeClass: row.dye_class as DyeClass,
      method: row.method,
      strengthBp: row.strength_bp,
      lot: row.lot,
      priceMinor: row.price_minor,
      priceMg: row.price_mg,
      labelNotes: row.label_notes,
      typed: readTyped(row.typed),
      gone: row.gone_at === null ? '' : showMoment(row.gone_at),
    }));
}

/** A dye by its number. @throws {Refusal} unknown */
export function readDye(reader: Reader, id: number): Dye {
  const dye = readDyes(reader).find((each) => each.id === id);
  if (!dye) throw unknown('such dye');
  return dye;
}

/** Puts a dye on the list. @throws {Refusal} invalid where one of the name is there */
export function addDye(tx: Tx, form: DyeForm): Answer {
  const values = valuesOf(tx, form, null);
  tx.run(tx.db.insertInto('dye').values({ ...values, gone_at: null }));
  const dye = DYE_CLASS_NAMES[form.dye_class];
  return { location: '/dye-bench/dyes', said: `${form.name}, a ${dye}, is on the list.` };
}

/** Writes a dye anew, such as for its next lot. Recipes keep the name that they were written with. */
export function changeDye(tx: Tx, id: number, form: DyeForm): Answer {
  const before = readDye(tx, id);
  tx.run(
    tx.db
      .updateTable('dye')
      .set(valuesOf(tx, form, id))
      .where('id', '=', id),
  );
  const renamed = before.name === form.name ? '' : ` Recipes that chose ${before.name} keep that name.`;
  return { location: '/dye-bench/dyes', said: `${form.name} is changed.${renamed}` };
}

function valuesOf(tx: Tx, form: DyeForm, id: number | null) {
  refuseSameName(tx, {
    table: 'dye',
    name: form.name,
    id,
    hrefOf: (same) => `/dye-bench/dyes/${same}`,
    whereIs: (same) =>
      readDye(tx, same).gone === '' ? 'on the list' : 'put away: take it back from the list',
  });
  if ((form.price === null) !== (form.price_for === null)) {
    const missing = form.price === null ? 'price' : 'price_for';
    const message =
      form.price === null ? 'Give the price too.' : 'Give the mass that this price is for: 100 g.';
    throw invalid(missing, message);
  }
  return {
    name: form.name,
    dye_class: form.dye_class,
    method: form.method,
    strength_bp: form.strength?.value ?? null,
    lot: form.lot,
    price_minor: form.price?.value ?? null,
    price_mg: form.price_for?.value ?? null,
    label_notes: form.label_notes,
    typed: storeTyped({
      strength: form.strength?.typed ?? '',
      price: form.price?.typed ?? '',
      price_for: form.price_for?.typed ?? '',
    }),
  };
}

/** A dye that is put away is offered to recipes no more; those written with it keep it. */
export function putDyeAway(tx: Tx, id: number): Answer {
  const dye = readDye(tx, id);
  if (dye.gone !== '') throw conflict(`${dye.name} was put away already, ${dye.gone}.`);
  tx.run(tx.db.updateTable('dye').set({ gone_at: tx.at }).where('id', '=', id));
  return { location: '/dye-bench/dyes', said: `${dye.name} is put away. It can be taken back below.` };
}

export function takeDyeBack(tx: Tx, id: number): Answer {
  const dye = readDye(tx, id);
  if (dye.gone === '') throw conflict(`${dye.name} is on the list already.`);
  tx.run(tx.db.updateTable('dye').set({ gone_at: null }).where('id', '=', id));
  return { location: '/dye-bench/dyes', said: `${dye.name} is on the list again.` };
}

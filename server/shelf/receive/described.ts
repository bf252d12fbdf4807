import { z } from 'zod';
import { SCREEN_VIEWING } from '../../../src/colour/colour-reading.ts';
import { type Content, readFibreContent } from '../../../src/dye/fibre.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader, Tx } from '../../database/book.ts';
import type { Choice } from '../../kit/choices.ts';
import { choiceOrFirst, field, optionalText, placeField, rowsField, withPlaces } from '../../kit/fields.ts';
import { asked, countTyped } from '../../kit/form-drawing.ts';
import { findNamed, nameKey } from '../../kit/same-name.ts';
import type { Typed } from '../../kit/typed.ts';
import { refuseAny } from '../../refusal.ts';
import { type ClothForm, clothFields, USABLE_WITHIN_WIDTH } from '../cloth/form.ts';
import { putCloth, readCloth } from '../cloth/store.ts';
import { SHADE_FIELDS, type ShadeForm } from '../shade/form.ts';
import { putShade, readShade } from '../shade/store.ts';

// A delivery describes on its own page what the book does not know yet: its supplier, its cloths and its shades. Its pieces
// choose these by numbers below 0: -1 is the first of them.

const MOST_NEW = 12;
const ROWS = { min: 0, max: MOST_NEW, prepare: withPlaces };

export function describedFields(reader: Reader, units: Units) {
  return {
    new_supplier: optionalText({ max: 120, label: 'New supplier' }),
    new_cloths: rowsField(clothRow(reader, units), { ...ROWS, what: 'new cloths' }),
    new_shades: rowsField(shadeRow(), { ...ROWS, what: 'new shades' }),
  };
}

/** What a cloth must have to be cut and dyed; the rest is said on its own page. */
function clothRow(reader: Reader, units: Units) {
  const { name, construction, width, usable_width, mass_per_area } = clothFields(reader, units);
  const fibres = field((typed, refuse): Content => {
    const read = readFibreContent(typed);
    if (!read.ok) return refuse(read.reason);
    return read.value.length > 0 ? read.value : refuse('Enter the fibres, such as nylon.');
  });
  return z
    .strictObject({
      place: placeField(),
      name,
      construction,
      fibres: asked(fibres, { label: 'Fibres', maxlength: 200, hint: 'nylon; or 70 % silk, 30 % nylon' }),
      width,
      usable_width,
      mass_per_area,
    })
    .refine(...USABLE_WITHIN_WIDTH);
}

function shadeRow() {
  const { name, hex } = SHADE_FIELDS;
  const ground = choiceOrFirst(['', 'yes'], 'whether it is undyed', {
    label: 'Undyed',
    required: false,
    options: [
      { value: '', label: 'no' },
      { value: 'yes', label: 'yes: cloth in it may be dyed' },
    ],
  });
  return z.strictObject({ place: placeField(), name, ground, hex });
}

interface NamedRow {
  readonly place: number;
  readonly name: string;
}

interface Described {
  readonly new_supplier: string;
  readonly new_cloths: readonly z.output<ReturnType<typeof clothRow>>[];
  readonly new_shades: readonly z.output<ReturnType<typeof shadeRow>>[];
}

/** The number below 0 by which a piece chooses what a row describes. */
const numberOf = ({ place }: { readonly place: number }) => -1 - place;

type DescribedList = 'new_cloths' | 'new_shades';
const FIRST_NEW: Readonly<Record<DescribedList, number>> = { new_cloths: 2, new_shades: 3 };

/** How many rows are drawn: one more than are filled in, and those that were there. */
export function describedRows(list: DescribedList, typed: Typed): number {
  const filled = Object.fromEntries(Object.entries(typed).filter(([, text]) => text !== ''));
  return Math.min(Math.max(FIRST_NEW[list], countTyped(typed, list), countTyped(filled, list) + 1), MOST_NEW);
}

/**
 * What the rows of a form describe, to be chosen beside what the book knows.
 * @param typed the form as it is drawn, whose names are shown as far as they are filled in
 */
export function describedChoices(list: DescribedList, typed?: Typed): Choice[] {
  const what = list === 'new_cloths' ? 'New cloth' : 'New shade';
  const length = typed ? describedRows(list, typed) : MOST_NEW;
  return Array.from({ length }, (_, place) => {
    const name = (typed?.[`${list}.${place}.name`] ?? '').trim();
    const label = `${what} ${place + 1}`;
    return { value: String(numberOf({ place })), label: name === '' ? label : `${label}: ${name}` };
  });
}

type ProblemAt = (path: readonly (string | number)[], message: string) => void;

/** Tells of names that two rows have, and of pieces whose cloth or shade no row describes. */
export function checkDescribed(
  form: Described & {
    readonly supplier_id: number | null;
    readonly pieces: readonly {
      readonly place: number;
      readonly cloth_id: number;
      readonly shade_id: number;
    }[];
  },
  problem: ProblemAt,
): void {
  const { supplier_id, new_supplier, new_cloths, new_shades, pieces } = form;
  if (new_supplier !== '' && supplier_id !== null)
    problem(['new_supplier'], 'Choose a supplier or name a new one, not both.');
  for (const [list, rows] of [
    ['new_cloths', new_cloths],
    ['new_shades', new_shades],
  ] as const) {
    for (const [at, { place, name }] of rows.entries()) {
      const isTwice = rows.slice(0, at).some((row) => nameKey(row.name) === nameKey(name));
      if (isTwice) problem([list, place, 'name'], 'Two rows have this name: give each its own.');
    }
  }
  const isThere = (rows: readonly NamedRow[], id: number) =>
    id > 0 || rows.some((row) => numberOf(row) === id);
  for (const { place, cloth_id, shade_id } of pieces) {
    if (!isThere(new_cloths, cloth_id))
      problem(['pieces', place, 'cloth_id'], `Describe new cloth ${-cloth_id} above, or choose another.`);
    if (!isThere(new_shades, shade_id))
      problem(['pieces', place, 'shade_id'], `Name new shade ${-shade_id} above, or choose another.`);
  }
}

/**
 * Refuses names that the book has already. Asked where the delivery is looked at and where it is written, not where its form
 * is read: a form that is sent again is answered as the first time.
 *
 * @throws {Refusal} invalid, at the fields
 */
export function refuseKnown(reader: Reader, { new_supplier, new_cloths, new_shades }: Described): void {
  const named = [
    ...(new_supplier === '' ? [] : [['supplier', 'new_supplier', new_supplier] as const]),
    ...new_cloths.map(({ place, name }) => ['cloth', `new_cloths.${place}.name`, name] as const),
    ...new_shades.map(({ place, name }) => ['shade', `new_shades.${place}.name`, name] as const),
  ];
  const problems = named.flatMap(([table, field, name]) => {
    const known = findNamed(reader, table, name);
    return known ? [{ field, message: `There is a ${table} ${known.name} already: choose it instead.` }] : [];
  });
  refuseAny(problems);
}

type ClothRow = Described['new_cloths'][number];
type ShadeRow = Described['new_shades'][number];

/** The cloth and the shade that a piece chose, of the book or described with the delivery. */
export function chosenOf(reader: Reader, { new_cloths, new_shades }: Described) {
  return {
    cloth(id: number): {
      readonly name: string;
      readonly widthTicks: number;
      readonly usableWidthTicks: number;
    } {
      const row = new_cloths.find((one) => numberOf(one) === id);
      if (!row) return readCloth(reader, id);
      return { name: row.name, widthTicks: row.width.value, usableWidthTicks: row.usable_width.value };
    },
    shade(id: number) {
      const row = new_shades.find((one) => numberOf(one) === id);
      return row ? asShade(row) : readShade(reader, id);
    },
  };
}

/** Writes down what the delivery describes, unless the book has such a name. Gives the id of each number below 0, and the supplier's. */
export function putDescribed(tx: Tx, form: Described, units: Units) {
  refuseKnown(tx, form);
  const supplierId =
    form.new_supplier === ''
      ? null
      : tx.run(tx.db.insertInto('supplier').values({ name: form.new_supplier })).lastId;
  const cloths = new Map(
    form.new_cloths.map((row) => [numberOf(row), putCloth(tx, asCloth(row, supplierId), units)]),
  );
  const shades = new Map(form.new_shades.map((row) => [numberOf(row), putShade(tx, asShade(row))]));
  return {
    supplierId,
    cloth: (id: number) => cloths.get(id) ?? id,
    shade: (id: number) => shades.get(id) ?? id,
  };
}

function asCloth({ place: _, fibres, ...row }: ClothRow, supplierId: number | null): ClothForm {
  return {
    ...row,
    fibres: [...fibres],
    ply_limit: null,
    fold_limit: '0',
    no_fold_line: false,
    one_way: false,
    repeat: null,
    half_drop: false,
    finish: '',
    state: '',
    nylon: '',
    flame_retardant: false,
    water_repellent: false,
    parchment: false,
    starched: false,
    supplier_id: supplierId,
    article: '',
    note: '',
  };
}

function asShade({ name, ground, hex }: ShadeRow): ShadeForm {
  const colour = hex && { lab: hex, viewing: SCREEN_VIEWING, how: 'screen' as const };
  return { name, ground: ground === 'yes', colour, note: '' };
}

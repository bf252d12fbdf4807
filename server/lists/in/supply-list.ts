import { z } from 'zod';
import { readMoney, showMoney } from '../../../src/quantity/money.ts';
import { type Reading, refused } from '../../../src/quantity/reading.ts';
import {
  MEASURES,
  MOST_OF_SUPPLY,
  readSupplyAmount,
  type SupplyMeasure,
  unitOfMeasure,
} from '../../../src/supply/amount.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import type { SupplyKind } from '../../database/supply-tables.ts';
import { placeChoices, supplierChoices } from '../../kit/choices.ts';
import { textField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import { storeTyped, type Typed } from '../../kit/typed.ts';
import { countOf } from '../../kit/words.ts';
import { readSupplies } from '../../supplies/store.ts';
import { receiveSupplies } from '../../supplies/verbs.ts';
import { SUPPLY_KINDS, sayStock } from '../../supplies/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readCsv, Unreadable } from './reading/csv.ts';

const MOST_ROWS = 500;
const MOST_TOLD = 20;
const MOST_LETTERS = 200_000;

/** What columns are called, the first as the list of supplies that goes out calls it. */
const COLUMNS = {
  name: ['name', 'supply'],
  kind: ['kind'],
  measure: ['measured in', 'unit'],
  amount: ['on hand', 'amount'],
  least: ['least', 'least to keep'],
  cost: ['cost', 'price'],
  lot: ['lot'],
  opened: ['opened', 'opened on'],
  place: ['place'],
  supplier: ['supplier', 'from'],
  note: ['note'],
} as const;
type Column = keyof typeof COLUMNS;

/** A row as it was understood; amounts in the measure of its supply. */
interface ListedSupply {
  /** null where the row describes a new one */
  readonly supplyId: number | null;
  readonly name: string;
  readonly kind: SupplyKind;
  readonly measure: SupplyMeasure;
  readonly amount: number;
  readonly typedAmount: string;
  readonly least: number | null;
  readonly costMinor: number;
  readonly lot: string;
  readonly openedOn: string | null;
  readonly placeId: number | null;
  readonly supplierId: number | null;
  readonly note: string;
}

const FIELDS = {
  pasted: textField({
    max: MOST_LETTERS,
    lines: true,
    label: 'Rows from a spreadsheet',
    what: 'The list',
    rows: 10,
    hint: 'With their heading row.',
  }),
};

export function supplyListForm(reader: Reader, asker: Asker) {
  return z.strictObject(FIELDS).transform((form, context) => {
    const problem = (message: string) =>
      context.issues.push({ code: 'custom', path: ['pasted'], message, input: form });
    return { rows: readRows(reader, form.pasted, asker, problem) };
  });
}

type SupplyListForm = z.output<ReturnType<typeof supplyListForm>>;

/** The list of supplies that comes in, and what was understood of it where that was asked for. */
export function supplyListPage(asker: Asker, typed: Typed = {}, form: SupplyListForm | null = null) {
  const data = {
    requestKey: mintKey(),
    fields: drawFields(FIELDS, typed),
    kinds: SUPPLY_KINDS.join(', '),
    measures: MEASURES.map((measure) => unitOfMeasure(measure, asker.units)).join(', '),
    columns: Object.values(COLUMNS).map(([name]) => name),
    understood: form === null ? null : form.rows.map((row) => shapeRow(row, asker)),
  };
  return { view: 'lists/supplies', data, title: 'A list of supplies', room: 'setup' } satisfies Page;
}

function shapeRow(row: ListedSupply, { units, currency }: Asker) {
  return {
    name: row.name,
    isNew: row.supplyId === null,
    kind: row.kind,
    amount: row.amount === 0 ? '' : sayStock(row.amount, row.measure, units),
    lot: row.lot,
    cost: row.costMinor === 0 ? '' : showMoney(row.costMinor, currency),
  };
}

/** Describes the supplies that are new and receives what the rows have of each, all in one request. */
export function takeInSupplyList(tx: Tx, { rows }: SupplyListForm): Answer {
  const made = new Map<string, number>();
  const came = rows.flatMap((row) => {
    const supplyId = row.supplyId ?? made.get(keyOf(row.name)) ?? describe(tx, row);
    made.set(keyOf(row.name), supplyId);
    return row.amount === 0 ? [] : [{ ...row, supplyId, typed: row.typedAmount.slice(0, 64) }];
  });
  for (const one of came) receiveSupplies(tx, [one], { supplierId: one.supplierId, note: 'from a list' });
  const described = rows.filter(({ supplyId }) => supplyId === null);
  const isNew = new Set(described.map(({ name }) => keyOf(name))).size;
  return {
    location: '/supplies',
    said: `${countOf(came.length, 'row', 'rows')} received; ${countOf(isNew, 'supply is', 'supplies are')} new.`,
  };
}

function describe(tx: Tx, row: ListedSupply): number {
  return tx.run(
    tx.db.insertInto('supply').values({
      name: row.name,
      kind: row.kind,
      measure: row.measure,
      note: row.note,
      least: row.least,
      place_id: row.placeId,
      supplier_id: row.supplierId,
      dye_id: null,
      auxiliary_kind: null,
      auxiliary_form: null,
      typed: storeTyped({}),
      gone_at: null,
    }),
  ).lastId;
}

function readRows(
  reader: Reader,
  text: string,
  asker: Asker,
  problem: (message: string) => void,
): ListedSupply[] {
  const [heading = [], ...rows] = cellsOf(text, problem);
  const at = new Map(
    (Object.keys(COLUMNS) as Column[]).map((column) => [
      column,
      heading.findIndex((cell) => (COLUMNS[column] as readonly string[]).includes(cell.trim().toLowerCase())),
    ]),
  );
  if (at.get('name') === -1) {
    problem('The first row names the columns: one of them must be Name.');
    return [];
  }
  if (rows.length === 0) problem('Below the heading there is no row: paste the rows too.');
  if (rows.length > MOST_ROWS) {
    problem(`Enter at most ${MOST_ROWS} rows at once.`);
    return [];
  }
  const known = new Map(readSupplies(reader).map((supply) => [keyOf(supply.name), supply]));
  const named = (choices: readonly { value: string; label: string }[]) =>
    new Map(choices.map(({ value, label }) => [keyOf(label), Number(value)]));
  const places = named(placeChoices(reader));
  const suppliers = named(supplierChoices(reader));
  const described = new Map<string, ListedSupply>();
  let told = 0;
  return rows.flatMap((row, index) => {
    const cell = (column: Column) => row[at.get(column) ?? -1]?.trim() ?? '';
    const wrong = (column: Column, message: string) => {
      told += 1;
      if (told <= MOST_TOLD) problem(`Row ${index + 2}, ${COLUMNS[column][0]}: ${message}`);
    };
    const name = cell('name');
    if (name === '' || name.length > 120) {
      wrong('name', 'enter a name of 120 letters at most.');
      return [];
    }
    const supply = known.get(keyOf(name)) ?? described.get(keyOf(name));
    const kind = supply?.kind ?? SUPPLY_KINDS.find((one) => one === cell('kind').toLowerCase());
    const measure = supply?.measure ?? measureOf(cell('measure'));
    if (!kind) wrong('kind', `enter one of ${SUPPLY_KINDS.join(', ')}.`);
    if (!measure) wrong('measure', 'enter g, mL, m, yd or pieces.');
    if (!kind || !measure) return [];
    const read = <T>(column: Column, blank: T, of: (typed: string) => Reading<T>): T => {
      const typed = cell(column);
      const reading = typed === '' ? null : of(typed);
      if (reading?.ok === false) wrong(column, reading.reason);
      return reading?.ok ? reading.value : blank;
    };
    const amountIn = (typed: string) => amountOf(typed, measure, asker);
    const oneOf = (choices: ReadonlyMap<string, number>) => (typed: string) => {
      const id = choices.get(keyOf(typed));
      return id === undefined
        ? refused(`${typed} is not on the list: add it first, or leave it blank.`)
        : { ok: true as const, value: id, echo: '', exact: true };
    };
    const least = read('least', 0, amountIn);
    const found: ListedSupply = {
      supplyId: known.get(keyOf(name))?.id ?? null,
      name,
      kind,
      measure,
      amount: read('amount', 0, amountIn),
      typedAmount: cell('amount'),
      least: least === 0 ? null : least,
      costMinor: read('cost', 0, (typed) => readMoney(typed, asker.currency)),
      lot: cell('lot').slice(0, 120),
      openedOn: read<string | null>('opened', null, dayIn),
      placeId: read<number | null>('place', null, oneOf(places)),
      supplierId: read<number | null>('supplier', null, oneOf(suppliers)),
      note: cell('note').slice(0, 2000),
    };
    if (!described.has(keyOf(name))) described.set(keyOf(name), found);
    return [found];
  });
}

function cellsOf(text: string, problem: (message: string) => void): string[][] {
  try {
    return readCsv(text);
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    problem(error.message);
    return [];
  }
}

function amountOf(typed: string, measure: SupplyMeasure, { units }: Asker): Reading<number> {
  const read = readSupplyAmount(typed, measure, units);
  return read.ok && read.value > MOST_OF_SUPPLY ? refused('enter less: this is too much.') : read;
}

function dayIn(typed: string): Reading<string> {
  const isDay = /^\d{4}-\d{2}-\d{2}$/.test(typed) && !Number.isNaN(Date.parse(`${typed}T00:00:00Z`));
  return isDay ? { ok: true, value: typed, echo: '', exact: true } : refused('enter a day as 2026-11-25.');
}

const MEASURE_OF_UNIT: Readonly<Record<string, SupplyMeasure>> = {
  g: 'mass',
  kg: 'mass',
  mass: 'mass',
  ml: 'volume',
  l: 'volume',
  volume: 'volume',
  m: 'length',
  yd: 'length',
  length: 'length',
  pieces: 'count',
  piece: 'count',
  count: 'count',
};

function measureOf(unit: string): SupplyMeasure | undefined {
  return MEASURE_OF_UNIT[unit.toLowerCase()];
}

function keyOf(name: string): string {
  return name.trim().toLowerCase();
}

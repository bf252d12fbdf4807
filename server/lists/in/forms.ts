import { z } from 'zod';
import { STOCK_FIELDS, type StockField } from '../../../src/lists/stock-list.ts';
import type { Answer, Tx } from '../../database/book.ts';
import type { ListState } from '../../database/list-tables.ts';
import { readStored } from '../../database/stored.ts';
import { address } from '../../kit/address.ts';
import { choiceField, rowsField, tickField } from '../../kit/fields.ts';
import { rowsAsTyped, type Typed } from '../../kit/typed.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';
import { MOST_LIST_COLUMNS } from './reading/rows.ts';
import { listPath } from './runner.ts';
import { type ListIn, readList, setState, TEXTS } from './store.ts';
import { FIELD_NAMES, LIST_STATE_WORDS } from './words.ts';

const LENGTH_UNITS = ['mm', 'cm', 'm', 'in', 'ft', 'yd'] as const;
const MASS_UNITS = ['g/m²', 'oz/yd²', 'momme'] as const;
/** The longest text of a cell that is mended. */
export const MOST_CELL = 500;

const asOptions = (texts: readonly string[]) => texts.map((text) => ({ value: text, label: text }));
const LENGTH_UNIT = { size: 'short', options: asOptions(LENGTH_UNITS) } as const;

/** What the columns of a list hold, and how figures are written where they do not say. */
export const COLUMNS_FIELDS = {
  columns: rowsField(
    z.strictObject({
      field: choiceField(['', ...STOCK_FIELDS], 'what the column holds', {
        options: [
          { value: '', label: 'leave out' },
          ...STOCK_FIELDS.map((field) => ({ value: field, label: FIELD_NAMES[field] })),
        ],
      }),
    }),
    { min: 0, max: MOST_LIST_COLUMNS, what: 'columns' },
  ),
  length_unit: choiceField(LENGTH_UNITS, 'a unit', { ...LENGTH_UNIT, label: 'A bare length is in' }),
  size_unit: choiceField(LENGTH_UNITS, 'a unit', { ...LENGTH_UNIT, label: 'A bare width is in' }),
  mass_unit: choiceField(MASS_UNITS, 'a unit', {
    label: 'A bare mass per area is in',
    size: 'short',
    options: asOptions(MASS_UNITS),
  }),
  decimals: choiceField(['either', 'point', 'comma'], 'how decimals are written', {
    label: 'Decimals',
    options: [
      { value: 'either', label: 'either way; refuse what could be both' },
      { value: 'point', label: '1,234.5' },
      { value: 'comma', label: '1.234,5' },
    ],
  }),
};

export const COLUMNS_FORM = z.strictObject(COLUMNS_FIELDS);

/** The columns of a list as their form would have been typed. */
export function columnsAsTyped({ heading, columns, writing }: ListIn): Typed {
  return {
    ...rowsAsTyped(
      'columns',
      heading.map((_, index) => ({ field: columns[index] ?? '' })),
    ),
    length_unit: writing.lengthUnit,
    size_unit: writing.sizeUnit,
    mass_unit: writing.massUnit,
    decimals: writing.decimals,
  };
}

/** The columns as chosen, blank ones included: `typed` has them by their place. */
export function chosenColumns(typed: Typed, list: ListIn): (StockField | '')[] {
  return list.heading.map((_, index) => {
    const given = typed[`columns.${index}.field`] ?? '';
    return STOCK_FIELDS.find((known) => known === given) ?? '';
  });
}

/** Says anew what the columns hold; every row is checked again. */
export function changeColumns(
  tx: Tx,
  listId: number,
  form: z.output<typeof COLUMNS_FORM>,
  columns: readonly (StockField | '')[],
): Answer {
  const list = stateIs(tx, listId, ['ready']);
  const twice = columns.find((each, index) => each !== '' && columns.indexOf(each) !== index);
  if (twice) {
    const at = columns.lastIndexOf(twice);
    throw invalid(
      `columns.${at}.field`,
      `Another column holds ${FIELD_NAMES[twice]} already: choose something else for one of them.`,
    );
  }
  const writing = {
    ...list.writing,
    lengthUnit: form.length_unit,
    sizeUnit: form.size_unit,
    massUnit: form.mass_unit,
    decimals: form.decimals,
  };
  tx.run(
    tx.db
      .updateTable('list_in')
      .set({ columns: JSON.stringify(columns), writing: JSON.stringify(writing), state: 'checking' })
      .where('id', '=', listId),
  );
  return {
    location: listPath(listId),
    said: 'The columns are read that way, and every row is checked again.',
  };
}

/** Rows as `rows.0.row` and `rows.0.c3`: the number of the row, and its cells by their place. */
export const ROWS_FORM = z.strictObject({ rows: z.unknown().optional() });

/** Writes cells anew; every row is checked again, since codes and cloths hang together. */
export function changeRows(tx: Tx, listId: number, typed: Typed, after: number): Answer {
  stateIs(tx, listId, ['ready']);
  const cells = (index: string) =>
    Object.entries(typed).flatMap(([name, text]) => {
      const at = name.startsWith(`rows.${index}.c`) ? /\.c(\d{1,2})$/.exec(name)?.[1] : undefined;
      return at === undefined ? [] : [{ at: Number(at), text: text.slice(0, MOST_CELL) }];
    });
  for (const [name, text] of Object.entries(typed)) {
    const index = /^rows\.(\d{1,4})\.row$/.exec(name)?.[1];
    if (index === undefined) continue;
    changeRow(tx, listId, Number(text), cells(index));
  }
  setState(tx, listId, 'checking');
  const location = address(listPath(listId), { after: after || null });
  return { location, said: 'The rows are changed, and every row is checked again.' };
}

function changeRow(
  tx: Tx,
  listId: number,
  number: number,
  cells: readonly { at: number; text: string }[],
): void {
  const row = tx.first(
    tx.db
      .selectFrom('list_row')
      .select('cells')
      .where('list_in_id', '=', listId)
      .where('row_number', '=', number),
  );
  if (!row) throw unknown('such row');
  const changed = readStored(TEXTS, row.cells);
  for (const { at, text } of cells) changed[at] = text;
  tx.run(
    tx.db
      .updateTable('list_row')
      .set({ cells: JSON.stringify(Array.from(changed, (cell) => cell ?? '')) })
      .where('list_in_id', '=', listId)
      .where('row_number', '=', number),
  );
}

export const TAKING_FIELDS = { skip_twins: tickField({ label: 'Leave out what is here already' }) };
export const TAKING_FORM = z.strictObject(TAKING_FIELDS);

/** Begins to take the good rows in. */
export function beginTakingIn(tx: Tx, listId: number, form: z.output<typeof TAKING_FORM>): Answer {
  const list = stateIs(tx, listId, ['ready', 'taking in']);
  if (list.state === 'ready') {
    const values = { state: 'taking in' as const, skip_twins: form.skip_twins ? 1 : 0, problem: '' };
    tx.run(tx.db.updateTable('list_in').set(values).where('id', '=', listId));
  }
  return { location: listPath(listId), said: 'The rows that are in order come onto the shelf.' };
}

/** A list that is not taken in is put aside; nothing came of it. */
export function putAside(tx: Tx, listId: number): Answer {
  stateIs(tx, listId, ['ready', 'reading', 'checking']);
  setState(tx, listId, 'stopped');
  return { location: listPath(listId), said: 'The list is put aside. Nothing of it came onto the shelf.' };
}

/** Goes on with a check that was interrupted. */
export function checkOn(tx: Tx, listId: number): Answer {
  const { name } = stateIs(tx, listId, ['checking']);
  return { location: listPath(listId), said: `Every row of ${name} is checked.` };
}

/** Begins to take a list off the shelf again. */
export function beginTakingBack(tx: Tx, listId: number): Answer {
  const { name } = stateIs(tx, listId, ['in', 'taking in', 'taking back']);
  return { location: listPath(listId), said: `${name} is taken back.` };
}

/** @throws {Refusal} conflict where the list stands elsewhere by now */
function stateIs(tx: Tx, listId: number, states: readonly ListState[]): ListIn {
  const list = readList(tx, listId);
  if (states.includes(list.state)) return list;
  throw conflict(`${list.name} stands elsewhere by now: it is ${LIST_STATE_WORDS[list.state]}.`);
}

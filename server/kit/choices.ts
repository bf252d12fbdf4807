import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { field } from './fields.ts';
import { type Asking, asked } from './form-drawing.ts';

/** One option of a select. */
export interface Choice {
  readonly value: string;
  readonly label: string;
}

const clothsByName = prepared((db) => db.selectFrom('cloth').select(['id', 'name']).orderBy('name'));

/** All cloths by name, e.g. "Nylon organza 150". */
export function clothChoices(reader: Reader): Choice[] {
  return asChoices(reader.all(clothsByName()));
}

const shadesByName = prepared((db) =>
  db.selectFrom('shade').select(['id', 'name', 'ground']).orderBy('ground', 'desc').orderBy('name'),
);

/** All shades by name; undyed grounds say so. */
export function shadeChoices(reader: Reader): Choice[] {
  const rows = reader.all(shadesByName());
  return rows.map((row) => ({
    value: String(row.id),
    label: row.ground ? `${row.name} (undyed ground)` : row.name,
  }));
}

const lotsOf = prepared((db, clothId: Param<number>, shadeId: Param<number>) =>
  db
    .selectFrom('lot')
    .select(['id', 'code', 'origin', 'mill_lot'])
    .where('cloth_id', '=', clothId)
    .where('shade_id', '=', shadeId)
    .orderBy('id', 'desc'),
);

/** The lots of one cloth in one shade, the newest first: "L12, mill lot 4471" or "L13, dyed". */
export function lotChoices(reader: Reader, clothId: number, shadeId: number): Choice[] {
  const rows = reader.all(lotsOf(clothId, shadeId));
  return rows.map((row) => ({ value: String(row.id), label: sayLot(row) }));
}

/** A lot in a few words: its code, and what it is called by the mill or that it was dyed here. */
export function sayLot(lot: { readonly code: string; readonly origin: string; readonly mill_lot: string }) {
  if (lot.origin === 'dyed') return `${lot.code}, dyed`;
  return lot.mill_lot === '' ? lot.code : `${lot.code}, mill lot ${lot.mill_lot}`;
}

const placesByName = prepared((db) => db.selectFrom('place').select(['id', 'name']).orderBy('name'));

export function placeChoices(reader: Reader): Choice[] {
  return asChoices(reader.all(placesByName()));
}

const suppliersByName = prepared((db) => db.selectFrom('supplier').select(['id', 'name']).orderBy('name'));

export function supplierChoices(reader: Reader): Choice[] {
  return asChoices(reader.all(suppliersByName()));
}

/** The choices with a blank one in front, for a select that may be left open: its label says what that means. */
export function withBlank(choices: readonly Choice[], label: string): Choice[] {
  return [{ value: '', label }, ...choices];
}

/** How a select is asked for: `blank` is what its first option says, which chooses nothing. */
type SelectAsking = Omit<Asking, 'options'> & { readonly blank?: string };

/** A select of which one must be chosen; only what was offered is taken. `what` is such as "a cloth". */
export function chosenField(choices: readonly Choice[], what: string, asking: SelectAsking = {}) {
  const read = field((typed, refuse) =>
    isOffered(choices, typed) ? Number(typed) : refuse(`Choose ${what}.`),
  );
  return asked(read, { ...selectLook(choices, asking), ...asking });
}

/** A select that may be left blank: null then. */
export function optionalChosen(choices: readonly Choice[], what: string, asking: SelectAsking = {}) {
  const read = field((typed, refuse) => {
    if (typed === '') return null;
    return isOffered(choices, typed) ? Number(typed) : refuse(`Choose ${what}, or leave it blank.`);
  });
  return asked(read, { ...selectLook(choices, asking), required: false, ...asking });
}

/** One of the words offered, '' where it is left open: the first option, `blank`, says what that means. */
export function optionalChoice<const W extends string>(
  choices: readonly (Choice & { readonly value: W })[],
  what: string,
  asking: SelectAsking = {},
) {
  const read = field((typed, refuse): W | '' => {
    if (typed === '') return '';
    return choices.find(({ value }) => value === typed)?.value ?? refuse(`Choose ${what}.`);
  });
  return asked(read, { ...selectLook(choices, asking), filter: true, ...asking });
}

function selectLook(choices: readonly Choice[], { blank }: SelectAsking) {
  return { kind: 'select', options: blank === undefined ? choices : withBlank(choices, blank) } as const;
}

function asChoices(rows: readonly { readonly id: number; readonly name: string }[]): Choice[] {
  return rows.map((row) => ({ value: String(row.id), label: row.name }));
}

function isOffered(choices: readonly Choice[], typed: string): boolean {
  return choices.some((choice) => choice.value === typed);
}

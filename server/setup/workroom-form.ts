import { sql } from 'kysely';
import { z } from 'zod';
import { TICKS_PER } from '../../src/quantity/length.ts';
import { writeSize } from '../../src/quantity/written-length.ts';
import type { Answer, Book, Reader, Tx } from '../database/book.ts';
import { choiceField, currencyField, optionalLength, textField } from '../kit/fields.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { readWorkroom } from '../kit/workroom.ts';
import { conflict } from '../refusal.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';

const SYSTEMS = ['metric', 'imperial'] as const;

export function workroomForm(asker: Asker) {
  const unit = asker.units.system === 'metric' ? 'cm' : 'in';
  return z.strictObject({
    name: textField({ max: 120, label: 'The name' }),
    length_system: choiceField(SYSTEMS, 'the units'),
    currency: currencyField(),
    useful_remnant: optionalLength(unit, { max: 1000 * TICKS_PER.m, what: 'length' }),
  });
}

export interface SetupPageData {
  readonly requestKey: string;
  readonly typed: {
    readonly name: string;
    readonly lengthSystem: string;
    readonly currency: string;
    readonly usefulRemnant: string;
  };
  readonly unit: string;
  readonly file: string;
  readonly counts: { readonly pieces: number; readonly entries: number; readonly people: number };
}

/** The workroom's own settings, where the book lies, and the ways to the other lists of Setup. */
export function setupPage(book: Book, asker: Asker, typed: Typed = {}): Page {
  const workroom = readWorkroom(book);
  const data: SetupPageData = {
    requestKey: mintKey(),
    typed: {
      name: typed.name ?? workroom.name,
      lengthSystem: typed.length_system ?? workroom.units.system,
      currency: typed.currency ?? workroom.currency,
      usefulRemnant: typed.useful_remnant ?? writeSize(workroom.usefulRemnantTicks, asker.units),
    },
    unit: asker.units.system === 'metric' ? 'cm' : 'in',
    file: book.file,
    counts: {
      pieces: countOf(book, 'piece'),
      entries: countOf(book, 'entry'),
      people: countOf(book, 'person'),
    },
  };
  return { view: 'setup/workroom', data, title: 'Setup', room: 'setup' };
}

/** Changes the settings. Choosing units never rewrites what is stored; the currency stays once something has a price. */
export function changeWorkroom(tx: Tx, form: z.infer<ReturnType<typeof workroomForm>>): Answer {
  const before = readWorkroom(tx);
  if (form.currency !== before.currency && hasPrices(tx)) {
    throw conflict(
      `Prices are booked in ${before.currency} already, so the currency stays ${before.currency}.`,
    );
  }
  tx.run(
    tx.db.updateTable('workroom').set({
      name: form.name,
      length_system: form.length_system,
      currency: form.currency,
      useful_remnant_ticks: form.useful_remnant?.value ?? 0,
    }),
  );
  return { location: '/setup', said: 'The settings of the workroom are changed.' };
}

/** Only what has a price matters, and the first such row answers. */
function hasPrices(tx: Tx): boolean {
  const { db } = tx;
  const one = sql`1`.as('one');
  const found = tx.first(
    db
      .selectFrom('entry')
      .select(one)
      .where('cost_minor', '<>', 0)
      .unionAll(db.selectFrom('order_line').select(one).where('price_minor', 'is not', null))
      .unionAll(db.selectFrom('dye').select(one).where('price_minor', 'is not', null))
      .unionAll(db.selectFrom('supplier_terms').select(one))
      .unionAll(db.selectFrom('offer_price').select(one))
      .unionAll(db.selectFrom('order_terms').select(one))
      .unionAll(db.selectFrom('garment_budget').select(one))
      .unionAll(db.selectFrom('energy_price').select(one))
      .unionAll(db.selectFrom('auxiliary_price').select(one))
      .limit(1),
  );
  return found !== undefined;
}

function countOf(reader: Reader, table: 'piece' | 'entry' | 'person'): number {
  // The ids of pieces and entries have no gaps, as neither is ever removed: the last id is the count.
  const last = reader.first(reader.db.selectFrom(table).select('id').orderBy('id', 'desc').limit(1));
  return last?.id ?? 0;
}

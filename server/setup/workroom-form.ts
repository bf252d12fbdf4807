import { sql } from 'kysely';
import { z } from 'zod';
import { TICKS_PER } from '../../src/quantity/length.ts';
import { writeSize } from '../../src/quantity/written-length.ts';
import type { Answer, Book, Reader, Tx } from '../database/book.ts';
import { choiceField, currencyField, optionalLength, textField } from '../kit/fields.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import { refuseSameName } from '../kit/same-name.ts';
import type { Typed } from '../kit/typed.ts';
import { sizeUnit } from '../kit/units.ts';
import { readWorkroom, UNNAMED } from '../kit/workroom.ts';
import { conflict } from '../refusal.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';

const LENGTH_SYSTEM = choiceField(['metric', 'imperial'], 'the units', {
  label: 'Lengths are shown in',
  hint: 'Each person may choose their own under People.',
  options: [
    { value: 'metric', label: 'metres and centimetres' },
    { value: 'imperial', label: 'yards and inches' },
  ],
});
const CURRENCY = currencyField('', {
  label: 'Currency',
  hint: 'Such as EUR. Fixed once a price is booked.',
});

function workroomFields({ units }: Asker) {
  return {
    name: textField({ max: 120, what: 'The name', label: 'Name' }),
    length_system: LENGTH_SYSTEM,
    currency: CURRENCY,
    useful_remnant: optionalLength(sizeUnit(units), {
      max: 1000 * TICKS_PER.m,
      label: 'Shortest useful remnant',
      hint: 'Shorter ends count as used.',
    }),
  };
}

export function workroomForm(asker: Asker) {
  return z.strictObject(workroomFields(asker));
}

/** The workroom's own settings, where the book lies, and the ways to the other lists of Setup. */
export function setupPage(book: Book, asker: Asker, typed: Typed = {}) {
  const workroom = readWorkroom(book);
  const data = {
    requestKey: mintKey(),
    fields: drawFields(workroomFields(asker), {
      name: workroom.name,
      length_system: workroom.units.system,
      currency: workroom.currency,
      useful_remnant: writeSize(workroom.usefulRemnantTicks, asker.units),
      ...typed,
    }),
    file: book.file,
    counts: {
      pieces: countOf(book, 'piece'),
      entries: countOf(book, 'entry'),
      people: countOf(book, 'person'),
    },
  };
  return { view: 'setup/workroom', data, title: 'Setup', room: 'setup' } satisfies Page;
}

const FIRST_FIELDS = {
  name: textField({ max: 120, what: 'The name of the workroom', label: 'Workroom' }),
  person: textField({ max: 60, what: 'Your name', label: 'Your name' }),
  length_system: LENGTH_SYSTEM,
  currency: CURRENCY,
};
export const FIRST_FORM = z.strictObject(FIRST_FIELDS);

/** What a new book is asked first: whose it is, who works in it, in which units and currency; null once that was said. */
export function drawFirstForm(reader: Reader, asker: Asker, typed: Typed) {
  const workroom = readWorkroom(reader);
  if (workroom.name !== UNNAMED) return null;
  const { system } = workroom.units;
  const fields = drawFields(FIRST_FIELDS, { length_system: system, currency: workroom.currency, ...typed });
  return { requestKey: mintKey(), personId: asker.personId, fields };
}

/** Names the workroom and who asks, whom a new book calls by what they do. */
export function startWorkroom(tx: Tx, asker: Asker, form: z.infer<typeof FIRST_FORM>): Answer {
  const { name, person, length_system, currency } = form;
  refuseOtherCurrency(tx, currency);
  refuseSameName(tx, {
    table: 'person',
    name: person,
    id: asker.personId,
    field: 'person',
    hrefOf: () => '/setup/people',
  });
  tx.run(tx.db.updateTable('workroom').set({ name, length_system, currency }));
  tx.run(tx.db.updateTable('person').set({ name: person }).where('id', '=', asker.personId));
  return { location: '/', said: `This is the book of ${name}, and ${person} works in it.` };
}

/** Changes the settings. Choosing units never rewrites what is stored; the currency stays once something has a price. */
export function changeWorkroom(tx: Tx, form: z.infer<ReturnType<typeof workroomForm>>): Answer {
  refuseOtherCurrency(tx, form.currency);
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

function refuseOtherCurrency(tx: Tx, wanted: string): void {
  const { currency } = readWorkroom(tx);
  if (wanted !== currency && hasPrices(tx))
    throw conflict(`Prices are booked in ${currency} already, so the currency stays ${currency}.`);
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
      .unionAll(db.selectFrom('return_credit').select(one))
      .unionAll(db.selectFrom('supply_offer_price').select(one))
      .unionAll(db.selectFrom('supply_order_line').select(one).where('price_minor', 'is not', null))
      .unionAll(db.selectFrom('supply_entry').select(one).where('cost_minor', '<>', 0))
      .unionAll(db.selectFrom('garment_budget').select(one))
      .unionAll(db.selectFrom('energy_price').select(one))
      .unionAll(db.selectFrom('hour_price').select(one))
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

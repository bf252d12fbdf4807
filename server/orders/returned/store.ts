import { sql } from 'kysely';
import { z } from 'zod';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { shadeChip } from '../../kit/chip.ts';
import { MOST_PRICE_MINOR, optionalDay, optionalMoney, optionalText, tickField } from '../../kit/fields.ts';
import { piecePath, supplierPath } from '../../kit/paths.ts';
import { dayOf, showDay, showMoment } from '../../kit/when.ts';
import { inForce } from '../../ledger/standing.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';

export const RETURNS_PATH = '/orders/returns';

/** The credit that came for what went back. */
export function creditFields({ currency }: Asker) {
  return {
    credit: optionalMoney(currency, {
      max: MOST_PRICE_MINOR,
      label: 'Credit',
      hint: 'Blank: none came yet.',
    }),
    come_on: optionalDay({ label: 'Came on', hint: 'Blank: today.' }),
    number: optionalText({ max: 60, label: 'Number of the credit note', size: 'mid' }),
    settled: tickField({ label: 'A difference from what was expected is settled' }),
  };
}

export function creditForm(asker: Asker) {
  return z.strictObject(creditFields(asker));
}

/** Notes that credit came; blank takes it back. */
export function noteCredit(
  tx: Tx,
  entryId: number,
  form: z.output<ReturnType<typeof creditForm>>,
  { currency }: Asker,
): Answer {
  const sent = tx.first(
    tx.db
      .selectFrom('entry')
      .leftJoin('return_credit', 'return_credit.entry_id', 'entry.id')
      .select([
        'entry.at',
        'entry.cost_minor',
        'return_credit.entry_id as known',
        inForce('entry').as('in_force'),
      ])
      .where('entry.id', '=', entryId)
      .where('entry.kind', '=', 'returned'),
  );
  if (!sent) throw unknown('such return');
  if (!sent.in_force) throw conflict('This return was undone: the piece is on the shelf again.');
  const comeOn = form.credit === null ? null : (form.come_on ?? dayOf(tx.at));
  if (comeOn !== null && comeOn < dayOf(sent.at))
    throw invalid('come_on', `Came on: enter ${showDay(dayOf(sent.at))}, when it went back, or a day after.`);
  const come = {
    come_minor: form.credit?.value ?? null,
    come_on: comeOn,
    number: form.credit === null ? '' : form.number,
    settled: form.credit !== null && form.settled ? 1 : 0,
  };
  // What went back before credits were kept is expected at its cost.
  if (sent.known === null)
    tx.run(
      tx.db
        .insertInto('return_credit')
        .values({ entry_id: entryId, expected_minor: -sent.cost_minor, ...come }),
    );
  else tx.run(tx.db.updateTable('return_credit').set(come).where('entry_id', '=', entryId));
  return {
    location: RETURNS_PATH,
    said:
      form.credit === null
        ? 'No credit came yet.'
        : `Credit of ${showMoney(form.credit.value, currency)} came.`,
  };
}

/** Those that are told: the last of a workroom's years. */
const MOST_RETURNS = 200;

/** The order that a piece came by, or the piece that it was split off. */
const orderOfPiece = sql<number | null>`(
  WITH RECURSIVE whole (id) AS (
    SELECT piece.id
    UNION ALL
    SELECT part.parent_id FROM piece AS part JOIN whole ON part.id = whole.id WHERE part.parent_id IS NOT NULL
  )
  SELECT receipt.order_id FROM whole
  JOIN entry AS came ON came.piece_id = whole.id AND came.kind = 'received'
  JOIN receipt ON receipt.id = came.receipt_id
  LIMIT 1
)`;

function returnsQuery(db: Reader['db']) {
  return (
    db
      .selectFrom('entry')
      .leftJoin('return_credit', 'return_credit.entry_id', 'entry.id')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .leftJoin('supplier', 'supplier.id', 'lot.supplier_id')
      .select(['entry.id', 'entry.at', 'entry.why', 'entry.length_ticks', 'entry.cost_minor', 'piece.code'])
      .select(['lot.supplier_id', 'supplier.name as supplier', 'cloth.name as cloth'])
      .select(['shade.name', 'lab_l', 'lab_a', 'lab_b', 'expected_minor', 'come_minor', 'come_on', 'number'])
      .select('settled')
      .where('entry.kind', '=', 'returned')
      // Word by word as in the index of migration 019, which is used then.
      .where(sql<boolean>`entry.kind IN ('received', 'back-from-dye', 'returned', 'written-off')`)
      .where(inForce('entry'))
      .orderBy('entry.at', 'desc')
      .orderBy('entry.id', 'desc')
  );
}

const sentBack = prepared((db) => returnsQuery(db).limit(MOST_RETURNS));
const sentBackOf = prepared((db, orderId: Param<number>) =>
  returnsQuery(db).where(orderOfPiece, '=', orderId),
);

/** What went back to suppliers, the last first, or of one order alone; what was undone is not told. */
export function readReturns(reader: Reader, { units, currency }: Asker, orderId: number | null = null) {
  const money = (minor: number) => showMoney(minor, currency);
  return reader.all(orderId === null ? sentBack() : sentBackOf(orderId)).map(({ expected_minor, ...row }) => {
    const expectedMinor = expected_minor ?? -row.cost_minor;
    return {
      id: row.id,
      code: row.code,
      href: piecePath(row.code),
      cloth: row.cloth,
      chip: shadeChip(row),
      /** null where its lot is of no supplier */
      supplier:
        row.supplier === null || row.supplier_id === null
          ? null
          : { name: row.supplier, href: supplierPath(row.supplier_id) },
      length: showLength(-row.length_ticks, units, 'down'),
      sent: showMoment(row.at),
      why: row.why,
      cost: money(-row.cost_minor),
      expected: money(expectedMinor),
      /** '' while none came */
      come: row.come_minor === null ? '' : money(row.come_minor),
      comeOn: row.come_on === null ? '' : showDay(row.come_on),
      number: row.number ?? '',
      /** "€3.00 less than expected"; '' where it is what was expected */
      off: row.come_minor === null ? '' : sayOff(row.come_minor - expectedMinor, money),
      settled: row.settled === 1,
      expectedMinor,
      comeMinor: row.come_minor,
      comeOnDay: row.come_on ?? '',
    };
  });
}

/** Credits that came and are not what was expected, and that nobody settled yet. */
export function readCreditsOff(reader: Reader, asker: Asker) {
  return readReturns(reader, asker).filter(({ off, settled }) => off !== '' && !settled);
}

function sayOff(minor: number, money: (minor: number) => string): string {
  if (minor === 0) return '';
  return `${money(Math.abs(minor))} ${minor < 0 ? 'less' : 'more'} than expected`;
}

import { sql } from 'kysely';
import { showMoney } from '../../src/quantity/money.ts';
import type { Reader } from '../database/book.ts';
import { inForce } from '../ledger/standing.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { ofSpending, readCameSince, spendByKind, spendBySupplier } from './spend-by.ts';

const MONTHS = 12;
const COLUMN = 48;
const HEIGHT = 160;

const NAME = new Intl.DateTimeFormat('en-GB', { month: 'short', year: 'numeric', timeZone: 'UTC' });

/**
 * What was spent in each of the last twelve months by the ledger: cloth that came at its landed cost, what dyeing
 * added, less what went back to suppliers; beside it stands what was written off, and what was cut for other uses that are
 * of no garment, and what supplies cost. What was undone does not count.
 */
export function spendPage(reader: Reader, now: string, { currency }: Asker) {
  const money = (minor: number) => showMoney(minor, currency);
  // A month in which nothing happened is blank, so that the others are seen.
  const some = (minor: number) => (minor === 0 ? '' : money(minor));
  const spent = readMonths(reader, now);
  const most = Math.max(1, ...spent.map(({ cloth, dyeing }) => cloth + dyeing));
  const came = readCameSince(reader, `${spent[0]?.month ?? now.slice(0, 7)}-01`);
  const bar = (minor: number) => Math.round((minor * HEIGHT) / most);
  const data = {
    months: spent.map(
      ({ month, cloth, dyeing, returned, writtenOff, otherUses, supplies, came, ...of }, at) => ({
        month,
        name: NAME.format(new Date(`${month}-01T00:00:00Z`)),
        cloth: some(cloth),
        dyeing: some(dyeing),
        returned: some(returned),
        writtenOff: some(writtenOff),
        otherUses: some(otherUses),
        supplies: some(supplies),
        parts: shapeCame(came, some),
        /** of the supplies that came */
        supplyParts: shapeCame(of.suppliesCame, some),
        spentMinor: cloth + dyeing - returned,
        spent: some(cloth + dyeing - returned),
        x: at * COLUMN,
        bars: { cloth: bar(cloth), dyeing: bar(dyeing) },
      }),
    ),
    /** whether a delivery cost more than its cloth in any of them */
    hasParts: spent.some(({ came }) => came.fees + came.freight + came.tax + came.reclaimed > 0),
    /** whether supplies came with freight or tax in any of them */
    hasSupplyParts: spent.some(
      ({ suppliesCame: { freight, tax, reclaimed } }) => freight + tax + reclaimed > 0,
    ),
    total: money(spent.reduce((so, { cloth, dyeing, returned }) => so + cloth + dyeing - returned, 0)),
    suppliers: spendBySupplier(reader, came, currency),
    kinds: spendByKind(came, currency),
    wide: MONTHS * COLUMN,
    high: HEIGHT,
    most: money(most),
  };
  return { view: 'cost/spend', data, title: 'Spent by month', room: 'orders' } satisfies Page;
}

interface Came {
  readonly cloth: number;
  readonly fees: number;
  readonly freight: number;
  readonly tax: number;
  readonly reclaimed: number;
}

function shapeCame({ cloth, fees, freight, tax, reclaimed }: Came, some: (minor: number) => string) {
  return {
    cloth: some(cloth),
    fees: some(fees),
    freight: some(freight),
    tax: some(tax),
    reclaimed: some(reclaimed),
  };
}

function readMonths(reader: Reader, now: string) {
  const months = Array.from({ length: MONTHS }, (_, back) => monthBefore(now, MONTHS - 1 - back));
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .leftJoin('entry as sent', (join) =>
        join.onRef('sent.id', '=', 'entry.pair_id').on('entry.kind', '=', 'back-from-dye'),
      )
      .select([
        sql<string>`substr(entry.at, 1, 7)`.as('month'),
        'entry.kind',
        sql<number>`sum(entry.cost_minor + coalesce(sent.cost_minor, 0))`.as('minor'),
      ])
      .where(ofSpending())
      .where('entry.at', '>=', `${months[0]}-01`)
      .where(inForce('entry'))
      .groupBy([sql`substr(entry.at, 1, 7)`, 'entry.kind']),
  );
  const uses = readOtherUseCosts(reader, `${months[0]}-01`);
  const supplies = readSupplyCosts(reader, `${months[0]}-01`);
  const parts = readCame(reader, `${months[0]}-01`);
  const supplyParts = readSuppliesCame(reader, `${months[0]}-01`);
  return months.map((month) => {
    const of = (kind: string) => rows.find((row) => row.month === month && row.kind === kind)?.minor ?? 0;
    return {
      /** "2026-11" */
      month,
      cloth: of('received'),
      dyeing: of('back-from-dye'),
      returned: Math.abs(of('returned')),
      writtenOff: Math.abs(of('written-off')),
      /** cut for sales, samples and the like, less what was kept of the cuts */
      otherUses: uses.get(month) ?? 0,
      /** not in what was spent: the dyes among them are in dyeing */
      supplies: supplies.get(month) ?? 0,
      /** what came by its parts; cloth that came before costs were kept by parts is all cloth */
      came: shareCame(of('received'), parts.get(month)),
      suppliesCame: shareCame(supplies.get(month) ?? 0, supplyParts.get(month)),
    };
  });
}

function shareCame(receivedMinor: number, parts: Omit<Came, 'cloth'> | undefined): Came {
  const { fees, freight, tax, reclaimed } = parts ?? { fees: 0, freight: 0, tax: 0, reclaimed: 0 };
  return { cloth: receivedMinor - fees - freight - tax, fees, freight, tax, reclaimed };
}

/** Cut fees, freight and tax of what came, by month. */
function readCame(reader: Reader, since: string): Map<string, Omit<Came, 'cloth'>> {
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('received_cost', 'received_cost.entry_id', 'entry.id')
      .select((of) => [
        sql<string>`substr(entry.at, 1, 7)`.as('month'),
        of.fn.sum<number>('cut_fees_minor').as('fees'),
        of.fn.sum<number>('freight_minor').as('freight'),
        of.fn.sum<number>('tax_minor').as('tax'),
        of.fn.sum<number>('reclaimed_minor').as('reclaimed'),
      ])
      .where('entry.at', '>=', since)
      .where(inForce('entry'))
      .groupBy(sql`substr(entry.at, 1, 7)`),
  );
  return new Map(rows.map(({ month, ...parts }) => [month, parts]));
}

/** Freight and tax of the supplies that came, by month. */
function readSuppliesCame(reader: Reader, since: string): Map<string, Omit<Came, 'cloth'>> {
  const rows = reader.all(
    reader.db
      .selectFrom('supply_entry')
      .innerJoin('supply_received_cost', 'supply_received_cost.supply_entry_id', 'supply_entry.id')
      .leftJoin('supply_entry as undone', 'undone.reverses_id', 'supply_entry.id')
      .select((of) => [
        sql<string>`substr(supply_entry.at, 1, 7)`.as('month'),
        of.fn.sum<number>('freight_minor').as('freight'),
        of.fn.sum<number>('tax_minor').as('tax'),
        of.fn.sum<number>('reclaimed_minor').as('reclaimed'),
      ])
      .where('supply_entry.at', '>=', since)
      .where('undone.id', 'is', null)
      .groupBy(sql`substr(supply_entry.at, 1, 7)`),
  );
  return new Map(rows.map(({ month, ...parts }) => [month, { ...parts, fees: 0 }]));
}

/** What was cut for other uses of no garment, by month: the costs of garments tell of all others. */
function readOtherUseCosts(reader: Reader, since: string): Map<string, number> {
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('other_use', 'other_use.id', 'entry.other_use_id')
      .select([
        sql<string>`substr(entry.at, 1, 7)`.as('month'),
        sql<number>`sum(-entry.cost_minor - coalesce((SELECT sum(kept.cost_minor) FROM entry AS kept
          WHERE kept.pair_id = entry.id AND kept.kind = 'joined' AND ${inForce('kept')}), 0))`.as('minor'),
      ])
      .where('other_use.garment_id', 'is', null)
      .where('entry.kind', '=', 'cut')
      .where('entry.at', '>=', since)
      .where(inForce('entry'))
      .groupBy(sql`substr(entry.at, 1, 7)`),
  );
  return new Map(rows.map(({ month, minor }) => [month, minor]));
}

/** What the supplies that came cost, by month; what was undone does not count. */
function readSupplyCosts(reader: Reader, since: string): Map<string, number> {
  const rows = reader.all(
    reader.db
      .selectFrom('supply_entry')
      .leftJoin('supply_entry as undone', 'undone.reverses_id', 'supply_entry.id')
      .select([
        sql<string>`substr(supply_entry.at, 1, 7)`.as('month'),
        sql<number>`sum(supply_entry.cost_minor)`.as('minor'),
      ])
      .where('supply_entry.kind', '=', 'received')
      // A length that was cut off and kept was paid for with its reel.
      .where('supply_entry.split_of_id', 'is', null)
      .where('supply_entry.at', '>=', since)
      .where('undone.id', 'is', null)
      .groupBy(sql`substr(supply_entry.at, 1, 7)`),
  );
  return new Map(rows.map(({ month, minor }) => [month, minor]));
}

function monthBefore(now: string, back: number): string {
  const day = new Date(`${now.slice(0, 7)}-01T00:00:00Z`);
  day.setUTCMonth(day.getUTCMonth() - back);
  return day.toISOString().slice(0, 7);
}

import type { PutUps } from '../../../src/buying/offer.ts';
import { needKey } from '../../../src/garment/need.ts';
import { exactly, showDecimal } from '../../../src/quantity/figure-show.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import type { PricePerLength } from '../../../src/quantity/money.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import { supplierPath } from '../../kit/paths.ts';
import { rowsAsTyped, type Typed } from '../../kit/typed.ts';
import { dayOf } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { inForce } from '../../ledger/standing.ts';
import { conflict, unknown } from '../../refusal.ts';
import { readShopStepTicks } from '../../setup/rates/store.ts';
import type { Asker } from '../../web/house.ts';
import { readTerms } from '../supplier/terms.ts';
import { putOffer } from './form.ts';
import { type Offer, readOffers } from './queries.ts';

type CameRow = ReturnType<typeof readCame>[number];

/**
 * Keeps the prices of a delivery as offers of its supplier from today on: those of its order's lines, and of what was not
 * ordered what a whole piece cost. What the supplier offers of the same cloth and shade beside stays.
 * @throws {Refusal} conflict where nothing has a price, or it is in other money
 */
export function offersFromReceipt(tx: Tx, receiptId: number, { units }: Asker): Answer {
  const receipt = tx.first(tx.db.selectFrom('receipt').selectAll().where('id', '=', receiptId));
  if (!receipt) throw unknown(`receipt ${receiptId}`);
  if (receipt.supplier_id === null)
    throw conflict('This delivery is of no supplier, so nobody offers its cloth.');
  const supplierId = receipt.supplier_id;
  const today = dayOf(tx.at);
  const terms = readTerms(tx, supplierId, today);
  const rows = readCame(tx, receiptId).filter((row) => pricedIn(tx, row) !== null);
  if (rows.some((row) => pricedIn(tx, row) !== terms.currency))
    throw conflict(`The supplier sells in ${terms.currency} now: write its prices down there.`);
  if (rows.length === 0) throw conflict('Nothing of this delivery has a price.');
  const before = readOffers(tx, today, { supplierId });
  const offers = [...grouped(rows, needKey).values()];
  for (const came of offers) {
    const [first] = came;
    if (!first) continue;
    const like = before.find(
      ({ clothId, shadeId }) => clothId === first.clothId && shadeId === first.shadeId,
    );
    const stepTicks = readShopStepTicks(tx, units.system);
    const putUps = came.reduce((so, row) => withPrice(so, row, stepTicks), putUpsOf(like));
    putOffer(tx, {
      supplierId,
      clothId: first.clothId,
      shadeId: first.shadeId,
      article: like?.article ?? '',
      widthTicks: like?.widthTicks ?? null,
      leadDays: like?.leadDays ?? null,
      fromOn: today,
      currency: terms.currency,
      withdrawn: false,
      typed: asTyped(putUps, terms.currency, like?.article ?? ''),
      ...putUps,
    });
  }
  return {
    location: supplierPath(supplierId),
    said: `The prices of ${countOf(offers.length, 'cloth and shade', 'cloths and shades')} are in the book.`,
  };
}

/** The offer as somebody would type it, so that its prices can be changed one by one. */
function asTyped({ bolts, byLength }: PutUps, currency: string, article: string): Typed {
  const perTicks = byLength?.prices[0]?.price.perTicks;
  return {
    article,
    price_per: perTicks === TICKS_PER.yd ? 'yd' : 'm',
    ...(byLength ? { step: inMetres(byLength.stepTicks), least: inMetres(byLength.leastTicks) } : {}),
    ...rowsAsTyped(
      'bolts',
      bolts.map(({ lengthTicks, priceMinor }) => ({
        length: inMetres(lengthTicks),
        price: writeMoney(priceMinor, currency),
      })),
    ),
    ...rowsAsTyped(
      'prices',
      (byLength?.prices ?? []).map(({ fromTicks, price }) => ({
        length: fromTicks === 0 ? '' : inMetres(fromTicks),
        price: writeMoney(price.minor, currency),
      })),
    ),
  };
}

/** A tick is 625 hundred-millionths of a metre, so eight places hold every length. */
function inMetres(ticks: number): string {
  return `${showDecimal(exactly(ticks) * 625n, 8)} m`;
}

function putUpsOf(like: Offer | undefined): PutUps {
  return { bolts: like?.bolts ?? [], byLength: like?.byLength ?? null };
}

/** The price of a piece beside or in the place of what was asked for as much before. */
function withPrice(putUps: PutUps, row: CameRow, stepTicks: number): PutUps {
  const bolt = boltOf(row);
  if (bolt) {
    const others = putUps.bolts.filter(({ lengthTicks }) => lengthTicks !== bolt.lengthTicks);
    return { ...putUps, bolts: [...others, bolt].sort((a, b) => a.lengthTicks - b.lengthTicks) };
  }
  const price: PricePerLength = { minor: row.priceMinor ?? 0, perTicks: row.priceTicks ?? TICKS_PER.m };
  const { byLength } = putUps;
  const further = byLength?.prices.filter(({ fromTicks }) => fromTicks > 0) ?? [];
  return {
    ...putUps,
    byLength: {
      stepTicks: byLength?.stepTicks ?? stepTicks,
      leastTicks: byLength?.leastTicks ?? 0,
      prices: [{ fromTicks: 0, price }, ...further],
    },
  };
}

/** A bolt as it was ordered, or a piece that was not ordered as it came; null where it is cut off the bolt. */
function boltOf({ bolts, orderedTicks, priceMinor, lengthTicks, clothMinor }: CameRow) {
  if (priceMinor === null) return { lengthTicks, priceMinor: clothMinor ?? 0 };
  return bolts === null || orderedTicks === null ? null : { lengthTicks: orderedTicks / bolts, priceMinor };
}

/** The money that a piece is priced in; null where it has no price. */
function pricedIn(tx: Tx, row: CameRow): string | null {
  const home = readWorkroom(tx).currency;
  if (row.priceMinor !== null) return row.currency ?? home;
  return row.lineId === null && (row.clothMinor ?? 0) > 0 ? home : null;
}

function readCame(tx: Tx, receiptId: number) {
  return tx.all(
    tx.db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .leftJoin('received_cost', 'received_cost.entry_id', 'entry.id')
      .leftJoin('order_line', 'order_line.id', 'entry.order_line_id')
      .leftJoin('order_line_offer', 'order_line_offer.line_id', 'order_line.id')
      .leftJoin('order_terms', 'order_terms.order_id', 'order_line.order_id')
      .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId', 'entry.length_ticks as lengthTicks'])
      .select([
        'order_line.id as lineId',
        'order_line.length_ticks as orderedTicks',
        'order_line_offer.bolts',
      ])
      .select(['order_line.price_minor as priceMinor', 'order_line.price_ticks as priceTicks'])
      .select(['order_terms.currency', 'received_cost.cloth_minor as clothMinor'])
      .where('entry.receipt_id', '=', receiptId)
      .where('entry.kind', '=', 'received')
      .where(inForce('entry'))
      .orderBy('entry.id'),
  );
}

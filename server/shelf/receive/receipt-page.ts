import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { showSupplyAmount } from '../../../src/supply/amount.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import {
  clothPath,
  lotPath,
  orderPath,
  piecePath,
  receiptPath,
  supplierPath,
  supplyPath,
  togetherPath,
} from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { inForce } from '../../ledger/standing.ts';
import { readReceivedSupplies } from '../../ledger/supplies-received.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type Judged, judgePiece } from '../inspection/judged.ts';
import { readInspections } from '../inspection/store.ts';
import { readLotEvidence } from '../lot/store.ts';
import { count } from '../piece/list.ts';
import { sayTogether } from '../together/how-sure.ts';
import { readLotsToCompare } from '../together/lots.ts';
import { INVOICE_FIELDS } from './invoice.ts';

/** One delivery as it came, and what is left of it. @throws {Refusal} unknown */
export function receiptPage(reader: Reader, receiptId: number, asker: Asker, typed: Typed = {}) {
  const { units, currency } = asker;
  const receipt = readReceipt(reader, receiptId);
  const rows = readPieces(reader, receiptId);
  const found = readInspections(
    reader,
    rows.map(({ id }) => id),
  );
  const judged = new Map([...found].map(([id, one]) => [id, judgePiece(one, units)]));
  const standing = rows.filter((row) => row.in_force);
  const supplies = readReceivedSupplies(reader, [receiptId]);
  const standingSupplies = supplies.filter(({ isUndone }) => !isUndone);
  const sum = (numbers: readonly number[]) => numbers.reduce((so, number) => so + number, 0);
  const came = [...standing.map((row) => row.cost_minor), ...standingSupplies.map((row) => row.costMinor)];
  const data = {
    id: receiptId,
    requestKey: mintKey(),
    invoice: receipt.invoice_number,
    fields: drawFields(INVOICE_FIELDS, { invoice_number: receipt.invoice_number, ...typed }),
    /** whether it has a supplier and prices, which may be kept as offers */
    hasPrices: receipt.supplier_id !== null && standing.some((row) => row.cost_minor > 0),
    at: receipt.at,
    when: showMoment(receipt.at),
    who: receipt.person,
    supplier:
      receipt.supplier_id === null || receipt.supplier === null
        ? null
        : { name: receipt.supplier, href: supplierPath(receipt.supplier_id) },
    order:
      receipt.order_code === null ? null : { code: receipt.order_code, href: orderPath(receipt.order_code) },
    note: receipt.note,
    pieces: rows.map((row) => ({
      code: row.code,
      href: piecePath(row.code),
      chip: shadeChip(row),
      cloth: { name: row.cloth_name, href: clothPath(row.cloth_id) },
      lot: { code: row.lot_code, href: lotPath(row.lot_code) },
      millLot: row.mill_lot,
      receivedTicks: row.length_ticks,
      received: showLength(row.length_ticks, units, 'down'),
      onHandTicks: row.on_hand_ticks,
      onHand: showLength(row.on_hand_ticks, units, 'down'),
      cost: row.cost_minor === 0 ? '' : showMoney(row.cost_minor, currency),
      place: row.place_name ?? '',
      undone: !row.in_force,
      inspected: sayInspected(row.in_force ? judged.get(row.id) : undefined, row),
      inspectHref: `${piecePath(row.code)}/inspections`,
    })),
    supplies: supplies.map((row) => ({
      name: row.name,
      href: supplyPath(row.supplyId),
      lot: row.lot,
      received: showSupplyAmount(row.amount, row.measure, units, 'down'),
      onHand: showSupplyAmount(row.onHand, row.measure, units, 'down'),
      cost: row.costMinor === 0 ? '' : showMoney(row.costMinor, currency),
      undone: row.isUndone,
    })),
    /** '' where no cloth came */
    inAll:
      rows.length === 0
        ? ''
        : `${showLength(sum(standing.map((row) => row.length_ticks)), units, 'down')} in ${count(standing.length, 'piece')}`,
    // What came without a price costs nothing in the book.
    cost: came.length > 0 && sum(came) === 0 ? 'not known' : showMoney(sum(came), currency),
    /** the cost by parts, and how the freight was shared out; none where it is cloth alone */
    parts: shapeParts(standing, standingSupplies, currency),
    /** what came against what lies there of the same shade, a line each */
    together: shapeTogether(reader, standing),
    /** pieces and supplies of it whose coming was undone since */
    undone: rows.length - standing.length + supplies.length - standingSupplies.length,
    isAllUndone: standing.length + standingSupplies.length === 0,
    /** standing pieces that something is to be claimed of */
    claims: standing.filter(({ id }) => (judged.get(id)?.claims.length ?? 0) > 0).length,
    claimHref: `${receiptPath(receiptId)}/claim`,
  };
  return { view: 'shelf/receive/receipt', data, title: `Receipt ${receiptId}`, room: 'shelf' } satisfies Page;
}

/** What the cost is made of. Pieces that came before costs were kept by parts count as cloth. */
function shapeParts(
  rows: ReturnType<typeof readPieces>,
  supplies: ReturnType<typeof readReceivedSupplies>,
  currency: string,
) {
  const sum = (of: (row: (typeof rows)[number]) => number | null) =>
    rows.reduce((so, row) => so + (of(row) ?? 0), 0);
  const ofSupplies = (of: (row: (typeof supplies)[number]) => number) =>
    supplies.reduce((so, row) => so + of(row), 0);
  const clothRest = sum((row) => (row.cut_fees_minor ?? 0) + (row.freight_minor ?? 0) + (row.tax_minor ?? 0));
  const suppliesRest = ofSupplies(({ freightMinor: freight, taxMinor }) => freight + taxMinor);
  const freightMinor = sum((row) => row.freight_minor) + ofSupplies((row) => row.freightMinor);
  const reclaimedMinor = sum((row) => row.reclaimed_minor) + ofSupplies((row) => row.reclaimedMinor);
  if (clothRest + suppliesRest + reclaimedMinor === 0) return [];
  const by = rows[0]?.share_by === 'length' ? 'length' : 'value';
  const some = (name: string, minor: number) =>
    minor === 0 ? [] : [{ name, cost: showMoney(minor, currency) }];
  return [
    ...some('Cloth', sum((row) => row.cost_minor) - clothRest),
    ...some('Supplies', ofSupplies((row) => row.costMinor) - suppliesRest),
    ...some(
      'Cut fees',
      sum((row) => row.cut_fees_minor),
    ),
    ...some(`Freight, shared by ${by}`, freightMinor),
    ...some('Tax', sum((row) => row.tax_minor) + ofSupplies((row) => row.taxMinor)),
    ...some('Tax to reclaim, in no cost', reclaimedMinor),
  ];
}

/** What came against the other lots of its cloth and shade: whether they may be sewn together, and how sure that is. */
function shapeTogether(reader: Reader, rows: ReturnType<typeof readPieces>) {
  const kinds = new Map(rows.map((row) => [`${row.cloth_id} ${row.shade_id}`, row]));
  return [...kinds.values()].flatMap((row) => {
    const of = { clothId: row.cloth_id, shadeId: row.shade_id };
    const lots = readLotsToCompare(reader, of).slice(-MOST_COMPARED);
    const evidence = readLotEvidence(
      reader,
      lots.map(({ id }) => id),
    );
    const said = sayTogether(evidence, lots);
    return said === '' ? [] : [{ of: `${row.cloth_name}, ${row.name}`, said, href: togetherPath(of) }];
  });
}

/** So many lots are named in a line, those that came last. */
const MOST_COMPARED = 8;

/** "12.00 points, passes", "inspect"; '' where it cannot be inspected any more */
function sayInspected(judged: Judged | undefined, row: ReturnType<typeof readPieces>[number]): string {
  if (judged) {
    const points = `${judged.per100Yd2} points`;
    return judged.claims.length === 0 ? `${points}, passes` : `${points}, to claim`;
  }
  return row.in_force && row.on_hand_ticks === row.length_ticks ? 'inspect' : '';
}

export function readReceipt(reader: Reader, receiptId: number) {
  const receipt = reader.first(
    reader.db
      .selectFrom('receipt')
      .innerJoin('person', 'person.id', 'receipt.person_id')
      .leftJoin('supplier', 'supplier.id', 'receipt.supplier_id')
      .leftJoin('order', 'order.id', 'receipt.order_id')
      .select([
        'receipt.at',
        'receipt.note',
        'receipt.invoice_number',
        'receipt.supplier_id',
        'person.name as person',
        'supplier.name as supplier',
        'order.code as order_code',
      ])
      .where('receipt.id', '=', receiptId),
  );
  if (!receipt) throw unknown(`receipt ${receiptId}`);
  return receipt;
}

/** What came with a receipt, in the order it came. */
export function selectReceived(reader: Reader, receiptId: number) {
  return reader.db
    .selectFrom('entry')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select(['piece.id', 'piece.code', 'lot.mill_lot', 'cloth.name as cloth_name'])
    .where('entry.receipt_id', '=', receiptId)
    .where('entry.kind', '=', 'received')
    .orderBy('entry.id');
}

function readPieces(reader: Reader, receiptId: number) {
  return reader.all(
    selectReceived(reader, receiptId)
      .leftJoin('place', 'place.id', 'piece.place_id')
      .leftJoin('received_cost', 'received_cost.entry_id', 'entry.id')
      .select([
        'piece.on_hand_ticks',
        'entry.length_ticks',
        'entry.cost_minor',
        'lot.code as lot_code',
        'cloth.id as cloth_id',
        'lot.shade_id',
        'shade.name',
        'shade.lab_l',
        'shade.lab_a',
        'shade.lab_b',
        'place.name as place_name',
        'received_cost.cut_fees_minor',
        'received_cost.freight_minor',
        'received_cost.tax_minor',
        'received_cost.reclaimed_minor',
        'received_cost.share_by',
        inForce('entry').as('in_force'),
      ]),
  );
}

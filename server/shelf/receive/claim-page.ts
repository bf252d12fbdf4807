import { showLength } from '../../../src/quantity/length-show.ts';
import { costOf, showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { receiptPath } from '../../kit/paths.ts';
import { showDay, showMoment } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { inForce } from '../../ledger/standing.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type Judged, judgePiece } from '../inspection/judged.ts';
import { readInspections } from '../inspection/store.ts';
import { count } from '../piece/list.ts';
import { readReceipt, selectReceived } from './receipt-page.ts';

/** A claim note, with the evidence: every standing piece that is short beyond the tolerance or has too many points. */
export function claimPage(reader: Reader, receiptId: number, asker: Asker, today: string) {
  const receipt = readReceipt(reader, receiptId);
  const rows = readRows(reader, receiptId);
  const found = readInspections(
    reader,
    rows.map(({ id }) => id),
  );
  const judged = rows.flatMap((row) => {
    const inspection = found.get(row.id);
    return inspection ? [{ row, inspection, judged: judgePiece(inspection, asker.units) }] : [];
  });
  const claimed = judged.filter((one) => one.judged.claims.length > 0);
  const data = {
    workroom: readWorkroom(reader).name,
    supplier: receipt.supplier ?? '',
    order: receipt.order_code ?? '',
    received: showMoment(receipt.at),
    day: showDay(today),
    receipt: receiptPath(receiptId),
    pieces: claimed.map(({ row, judged: one }) => ({
      code: row.code,
      what: `${row.cloth_name}, ${row.shade_name}`,
      lot: row.mill_lot === '' ? '' : `mill lot ${row.mill_lot}`,
      worth: one.shortBeyond ? worthOf(row, one.shortTicks, asker) : '',
      judged: one,
    })),
    asked: sayAsked(claimed, asker),
    /** pieces of the delivery that were not inspected yet */
    open: rows.length - judged.length,
  };
  return { view: 'shelf/receive/claim', data, title: 'Claim', room: 'shelf' } satisfies Page;
}

type Row = ReturnType<typeof readRows>[number];

function readRows(reader: Reader, receiptId: number) {
  return reader.all(
    selectReceived(reader, receiptId)
      .leftJoin('order_line', 'order_line.id', 'entry.order_line_id')
      .leftJoin('order_terms', 'order_terms.order_id', 'order_line.order_id')
      .select([
        'shade.name as shade_name',
        'order_line.price_minor as priceMinor',
        'order_line.price_ticks as priceTicks',
        'order_terms.currency',
      ])
      .where(inForce('entry')),
  );
}

/** The missing length at the order's price; '' where it has none. */
function worthOf({ priceMinor, priceTicks, currency }: Row, shortTicks: number, asker: Asker): string {
  if (priceMinor === null || priceTicks === null) return '';
  const minor = costOf(shortTicks, { minor: priceMinor, perTicks: priceTicks });
  return showMoney(minor, currency ?? asker.currency);
}

function sayAsked(claimed: readonly { readonly judged: Judged }[], { units }: Asker): string[] {
  const short = claimed.filter(({ judged }) => judged.shortBeyond);
  const flawed = claimed.filter(({ judged }) => !judged.passes);
  const missing = short.reduce((sum, { judged }) => sum + judged.shortTicks, 0);
  return [
    ...(short.length > 0
      ? [`Credit for ${showLength(missing, units, 'near')} missing in ${count(short.length, 'piece')}.`]
      : []),
    ...(flawed.length > 0
      ? [`${count(flawed.length, 'piece')} above the points agreed: taken back, or a credit for the flaws.`]
      : []),
  ];
}

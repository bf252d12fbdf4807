import { z } from 'zod';
import type { Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { sayLot } from '../../kit/choices.ts';
import { choiceOrFirst, field } from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';

/** What is asked of the lot of a line. */
export interface LotAsked {
  /** null: all of one lot, whichever */
  readonly lotId: number | null;
  /** "all of one lot", "to match lot L3, mill lot A77" */
  readonly said: string;
}

export function sayLotAsked(row: {
  readonly lotCode: string | null;
  readonly millLot: string | null;
  readonly origin: string | null;
}): string {
  if (row.lotCode === null) return 'all of one lot';
  return `all of one lot, to match ${sayLot({ code: row.lotCode, origin: row.origin ?? '', mill_lot: row.millLot ?? '' })}`;
}

/** Lots that may be named: those that came or were dyed last. */
const MOST_LOTS = 60;

const lastLots = prepared((db) =>
  db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select([
      'lot.id',
      'lot.code',
      'lot.origin',
      'lot.mill_lot',
      'cloth.name as cloth',
      'shade.name as shade',
    ])
    .orderBy('lot.id', 'desc')
    .limit(MOST_LOTS),
);

/** What may be asked of the lot of a line: nothing, one lot whichever, or a lot to match. */
export function lotAskedField(reader: Reader) {
  const lots = reader.all(lastLots());
  const read = field((typed, refuse): 'one' | number | null => {
    if (typed === '') return null;
    if (typed === 'one') return 'one';
    const lot = lots.find(({ id }) => String(id) === typed);
    return lot?.id ?? refuse('Choose what is asked of the lot.');
  });
  return asked(read, {
    kind: 'select',
    required: false,
    label: 'Lot',
    options: [
      { value: '', label: 'nothing asked' },
      { value: 'one', label: 'all of one lot' },
      ...lots.map((lot) => ({
        value: String(lot.id),
        label: `to match ${sayLot(lot)}: ${lot.cloth}, ${lot.shade}`,
      })),
    ],
  });
}

const kindOfLot = prepared((db, lotId: Param<number>) =>
  db.selectFrom('lot').select(['cloth_id as clothId', 'code']).where('id', '=', lotId),
);

/** Why a lot cannot be matched by a cloth; '' where it can. */
export function whyNotMatched(reader: Reader, lotId: number, clothId: number): string {
  const lot = reader.first(kindOfLot(lotId));
  return lot?.clothId === clothId
    ? ''
    : `Lot: ${lot?.code ?? 'it'} is of another cloth: choose a lot of this one.`;
}

export function putLotAsked(tx: Tx, lineId: number, lot: 'one' | number | null): void {
  if (lot === null) return;
  tx.run(tx.db.insertInto('order_line_lot').values({ line_id: lineId, lot_id: lot === 'one' ? null : lot }));
}

/** Whether what came met what was asked of its lot: a row for each line that it was asked of. */
export function lotAnswerRow() {
  return z.strictObject({
    line_id: field((typed) => Number(typed)),
    met: choiceOrFirst(['', 'yes', 'no'], 'whether the lot is as asked', {
      label: 'Is the lot as asked?',
      required: false,
      options: [
        { value: '', label: 'not looked at yet' },
        { value: 'yes', label: 'yes' },
        { value: 'no', label: 'no' },
      ],
    }),
  });
}

const answersOf = prepared((db, orderId: Param<number>) =>
  db
    .selectFrom('lot_answer')
    .innerJoin('receipt', 'receipt.id', 'lot_answer.receipt_id')
    .select(['lot_answer.line_id as lineId', 'lot_answer.met'])
    .where('receipt.order_id', '=', orderId)
    .orderBy('receipt.id'),
);

/** What deliveries of an order said of the lots asked for, by line: true where one was met. */
export function readLotAnswers(reader: Reader, orderId: number): ReadonlyMap<number, readonly boolean[]> {
  const found = new Map<number, boolean[]>();
  for (const { lineId, met } of reader.all(answersOf(orderId)))
    found.set(lineId, [...(found.get(lineId) ?? []), met === 1]);
  return found;
}

import { sql } from 'kysely';
import { costOfParts } from '../../../src/buying/landed.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { costOf, showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { placeChoices, supplierChoices } from '../../kit/choices.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { wordFor } from '../../kit/words.ts';
import { withoutKey } from '../../web/body.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { count } from '../piece/list.ts';
import { chipOf } from '../shade/store.ts';
import { chosenOf } from './described.ts';
import { costsOfDelivery, type DeliveryForm } from './form.ts';
import { knownMillLot, type ReceivedPiece } from './receiving.ts';
import { asReceivedPieces } from './rows.ts';

/** What was understood of a delivery, before it is put on the shelf. */
export function receiveCheckPage(reader: Reader, form: DeliveryForm, typed: Typed, asker: Asker) {
  const pieces = asReceivedPieces(form.pieces);
  const places = new Map(placeChoices(reader).map(({ value, label }) => [value, label]));
  const landed = costsOfDelivery(form, pieces, asker.currency).map(costOfParts);
  const chosen = chosenOf(reader, form);
  const context = {
    places,
    asker,
    chosen,
    costs: new Map(pieces.map((piece, at) => [piece, landed[at] ?? 0])),
  };
  const lots = byLot(pieces).map((lot) => shapeLot(reader, lot, form.supplier_id, context));
  const costMinor = landed.reduce((sum, minor) => sum + minor, 0);
  const freightMinor = form.freight?.value ?? 0;
  const data = {
    requestKey: mintKey(),
    /** the form as it was typed, to be sent once more */
    sent: Object.entries(withoutKey(typed))
      .filter(([name, value]) => name !== 'step' && value !== '')
      .map(([name, value]) => ({ name, value })),
    supplier:
      form.new_supplier ||
      (supplierChoices(reader).find(({ value }) => value === String(form.supplier_id))?.label ?? ''),
    note: form.note,
    lots,
    totals: {
      pieces: pieces.length,
      cost: showMoney(costMinor, asker.currency),
      /** it is in the cost; '' where there is none */
      freight: freightMinor > 0 ? showMoney(freightMinor, asker.currency) : '',
    },
    /** pieces and lots about which something is doubtful */
    doubtful: lots.reduce(
      (sum, lot) => sum + lot.doubts.length + lot.pieces.filter(({ doubts }) => doubts.length > 0).length,
      0,
    ),
  };
  return { view: 'shelf/receive/check', data, title: 'Check what came', room: 'shelf' } satisfies Page;
}

type ChosenCloth = ReturnType<Context['chosen']['cloth']>;
type Pieces = [ReceivedPiece, ...ReceivedPiece[]];

function byLot(pieces: readonly ReceivedPiece[]): Pieces[] {
  const lots = new Map<string, Pieces>();
  for (const piece of pieces) {
    const key = JSON.stringify([piece.clothId, piece.shadeId, piece.millLot.toLowerCase()]);
    const found = lots.get(key);
    if (found) found.push(piece);
    else lots.set(key, [piece]);
  }
  return [...lots.values()];
}

interface Context {
  readonly places: ReadonlyMap<string, string>;
  readonly asker: Asker;
  readonly chosen: ReturnType<typeof chosenOf>;
  /** what each piece costs with its share of the freight */
  readonly costs: ReadonlyMap<ReceivedPiece, number>;
}

function shapeLot(reader: Reader, pieces: Pieces, supplierId: number | null, context: Context) {
  const { asker, chosen } = context;
  const [first] = pieces;
  const cloth = chosen.cloth(first.clothId);
  const known = first.millLot === '' ? undefined : knownMillLot(reader, first, supplierId);
  const sumTicks = pieces.reduce((sum, piece) => sum + piece.lengthTicks, 0);
  return {
    cloth: cloth.name,
    chip: chipOf(chosen.shade(first.shadeId)),
    lot: known ? `${known.code}, mill lot ${first.millLot}, already in the book` : sayNewLot(first.millLot),
    pieces: pieces.map((piece) => shapePiece(piece, cloth, context)),
    inAll: `${showLength(sumTicks, asker.units, 'down')} in ${count(pieces.length, 'piece')}`,
    doubts: [...(known ? [] : doubtsOfLot(reader, first)), ...doubtsOfPrice(pieces)],
  };
}

function sayNewLot(millLot: string): string {
  return millLot === '' ? 'a new lot without a mill lot' : `a new lot, mill lot ${millLot}`;
}

function doubtsOfLot(reader: Reader, piece: ReceivedPiece): string[] {
  if (piece.millLot === '') {
    return [
      'No mill lot was given: these pieces are kept apart from all that came before, since nobody can say that they match it.',
    ];
  }
  const alike = reader.all(
    reader.db
      .selectFrom('lot')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .leftJoin('supplier', 'supplier.id', 'lot.supplier_id')
      .select(['lot.code', 'shade.id as shade_id', 'shade.name as shade', 'supplier.name as supplier'])
      .where('lot.cloth_id', '=', piece.clothId)
      .where('lot.origin', '=', 'mill')
      .where(sql`lot.mill_lot collate nocase`, '=', piece.millLot)
      .limit(3),
  );
  return alike.map((lot) => {
    const other =
      lot.shade_id === piece.shadeId ? `from ${lot.supplier ?? 'no supplier'}` : `in ${lot.shade}`;
    return `Lot ${lot.code} of this cloth has the same mill lot, but ${other}.`;
  });
}

function doubtsOfPrice(pieces: Pieces): string[] {
  const free = pieces.filter(({ costMinor }) => costMinor === 0).length;
  if (free === 0) return [];
  return [
    wordFor(
      free,
      'A piece has no price: it counts as having cost nothing in itself.',
      `${free} pieces have no price: they count as having cost nothing in themselves.`,
    ),
  ];
}

function shapePiece(piece: ReceivedPiece, cloth: ChosenCloth, { places, asker, costs }: Context) {
  const { units, currency } = asker;
  const unit = lengthUnit(units);
  const costMinor = costs.get(piece) ?? 0;
  const perLength = costOf(TICKS_PER[unit], { minor: costMinor, perTicks: piece.lengthTicks });
  return {
    kind: piece.kind,
    lengthTicks: piece.lengthTicks,
    length: showLength(piece.lengthTicks, units, 'down'),
    typed: piece.typed,
    usableWidth: showSize(piece.usableWidthTicks ?? cloth.usableWidthTicks, units, 'near'),
    price: costMinor === 0 ? '' : showMoney(costMinor, currency),
    perLength: costMinor === 0 ? '' : `${showMoney(perLength, currency)} per ${unit}`,
    place: places.get(String(piece.placeId)) ?? '',
    doubts: doubtsOfPiece(piece, cloth, units),
  };
}

/** Longer than bolts of sheer cloth usually are, and shorter than any. Common practice. */
const LONG_TICKS = 150 * TICKS_PER.m;
const SHORT_BOLT_TICKS = TICKS_PER.m;

/** What may have been mistyped: each a sentence, none a refusal. */
function doubtsOfPiece(piece: ReceivedPiece, cloth: ChosenCloth, units: Units): string[] {
  const doubts: string[] = [];
  const width = piece.usableWidthTicks;
  if (width !== null && width > cloth.widthTicks) {
    doubts.push(`Wider than the cloth, which is ${showSize(cloth.widthTicks, units, 'near')} over all.`);
  }
  if (width !== null && piece.kind === 'bolt' && 2 * width < cloth.usableWidthTicks) {
    doubts.push(
      `Less than half of the cloth's usable width of ${showSize(cloth.usableWidthTicks, units, 'near')}.`,
    );
  }
  if (piece.lengthTicks > LONG_TICKS) {
    doubts.push(`Longer than most bolts: over ${showLength(LONG_TICKS, units, 'near')}.`);
  }
  if (piece.kind === 'bolt' && piece.lengthTicks < SHORT_BOLT_TICKS) {
    doubts.push('Short for a bolt: is it a remnant, or was another unit meant?');
  }
  return doubts;
}

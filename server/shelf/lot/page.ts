import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { PAGE_ROWS, sliceOf } from '../../kit/paging.ts';
import { batchPath, clothPath, lotPath, shadePath, supplierPath } from '../../kit/paths.ts';
import { sayTapeStep } from '../../kit/tape.ts';
import type { Typed } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { shapeLengths } from '../lengths.ts';
import { newPhotosPath, shapeSets } from '../photo/pages.ts';
import { readPhotoSetsOfLots } from '../photo/store.ts';
import { longestFreeFirst, selectPieces, shapeShelfPieces, shapeTotals } from '../piece/list.ts';
import { lotsInOrder } from '../stock/kept-lots.ts';
import { sumUp } from '../stock/lots.ts';
import type { ShelfTold } from '../told.ts';
import { shapeLotColour } from './colour-form.ts';
import { shapeLotJoins } from './join-form.ts';
import { shapeOtherLots } from './others.ts';
import { shapeLotShade } from './shade-form.ts';

/** A lot: where it came from, and its pieces on hand, the longest free first. @throws {Refusal} unknown */
export function lotPage(
  reader: Reader,
  code: string,
  query: unknown,
  asker: Asker,
  told: Pick<ShelfTold, 'sayDyeing' | 'readNeeded' | 'readLengths'>,
  typed: Typed | null = null,
) {
  const lot = readLot(reader, code);
  const onHand = lotsInOrder(reader, 'shade').byLot.get(lot.id);
  const sums = sumUp(onHand ? [onHand] : []);
  const scale = onHand?.longestOnHand ?? 1;
  const { offset, pager } = sliceOf(query, { total: sums.pieces, noun: 'pieces', path: lotPath(lot.code) });
  const rows = reader.all(piecesOfLot(lot.id, PAGE_ROWS, offset));
  const needed = told.readNeeded(reader);
  const data = {
    waiting: needed.waiting,
    code: lot.code,
    origin: lot.origin,
    millLot: lot.mill_lot,
    cloth: { name: lot.cloth_name, href: clothPath(lot.cloth_id) },
    chip: shadeChip(lot, { href: shadePath(lot.shade_id) }),
    supplier:
      lot.supplier_id === null || lot.supplier_name === null
        ? null
        : { name: lot.supplier_name, href: supplierPath(lot.supplier_id) },
    batch: lot.batch_code === null ? null : { code: lot.batch_code, href: batchPath(lot.batch_code) },
    /** what its dyeing is to be remembered for; none of a mill's lot */
    dyed: lot.batch_id === null ? [] : told.sayDyeing(reader, lot.batch_id, lot.bath),
    totals: shapeTotals(sums, asker.units),
    take: address('/take', { cloth: lot.cloth_id, shade: lot.shade_id }),
    lengths: shapeLengths(told.readLengths(reader, { lotId: lot.joined_to_id ?? lot.id }), asker.units),
    pieces: shapeShelfPieces(reader, rows, asker.units, needed, scale),
    pager,
    tapeStep: sayTapeStep(scale, asker.units),
    goneHref: address('/shelf', { lot: lot.code, gone: 'yes' }),
    colour: shapeLotColour(reader, lot, typed),
    others: shapeOtherLots(reader, lot),
    keptAs: shapeLotShade(reader, lot, typed),
    photos: shapeSets(reader, readPhotoSetsOfLots(reader, [lot.id])),
    newPhotos: newPhotosPath({ kind: 'lot', id: lot.id }),
    /** the lots that somebody judged it to be one with */
    joins: shapeLotJoins(reader, lot, asker, typed),
  };
  return { view: 'shelf/lot/lot', data, title: `Lot ${lot.code}`, room: 'shelf' } satisfies Page;
}

const piecesOfLot = prepared((db, lotId: Param<number>, most: Param<number>, skip: Param<number>) =>
  longestFreeFirst(onHandOf(db, lotId)).limit(most).offset(skip),
);

function onHandOf(db: Reader['db'], lotId: Param<number>) {
  return selectPieces(db).where('piece.lot_id', '=', lotId).where('piece.on_hand_ticks', '>', 0);
}

const lotWithCode = prepared((db, code: Param<string>) =>
  db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .leftJoin('supplier', 'supplier.id', 'lot.supplier_id')
    .leftJoin('batch', 'batch.id', 'lot.batch_id')
    .select([
      'lot.id',
      'lot.code',
      'lot.origin',
      'lot.mill_lot',
      'lot.supplier_id',
      'lot.batch_id',
      'lot.bath',
      'lot.joined_to_id',
      'cloth.id as cloth_id',
      'cloth.name as cloth_name',
      'shade.id as shade_id',
      'shade.name',
      'shade.lab_l',
      'shade.lab_a',
      'shade.lab_b',
      'supplier.name as supplier_name',
      'batch.code as batch_code',
    ])
    .where('lot.code', '=', code),
);

function readLot(reader: Reader, code: string) {
  const lot = reader.first(lotWithCode(code));
  if (!lot) throw unknown(`lot ${code.slice(0, 40)}`);
  return lot;
}

import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { PAGE_ROWS, sliceOf } from '../../kit/paging.ts';
import { clothPath, supplierPath, washTestsPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { shapeLengths } from '../lengths.ts';
import { shapeTotals } from '../piece/list.ts';
import { lotsInOrder } from '../stock/kept-lots.ts';
import { sumUp, sumUpBy } from '../stock/lots.ts';
import type { ShelfTold } from '../told.ts';
import { clothFields, FIBRE_ROWS } from './form.ts';
import { type Cloth, clothAsTyped, readCloth, showCloth } from './store.ts';

/** All cloths, with what the shelf has of each. */
export function clothsPage(reader: Reader, query: unknown, asker: Asker) {
  const total =
    reader.first(reader.db.selectFrom('cloth').select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;
  const { offset, pager } = sliceOf(query, { total, noun: 'cloths', path: '/shelf/cloths' });
  const ids = reader.all(
    reader.db.selectFrom('cloth').select('id').orderBy('name').limit(PAGE_ROWS).offset(offset),
  );
  const data = {
    cloths: ids.map(({ id }) => shapeRow(reader, readCloth(reader, id), asker)),
    pager,
  };
  return { view: 'shelf/cloth/cloths', data, title: 'Cloths', room: 'shelf' } satisfies Page;
}

function shapeRow(reader: Reader, cloth: Cloth, asker: Asker) {
  const sums = sumUp(lotsOfCloth(reader, cloth.id));
  return {
    ...showCloth(cloth, asker.units),
    id: cloth.id,
    name: cloth.name,
    href: clothPath(cloth.id),
    construction: cloth.construction,
    pieces: sums.pieces,
    longestFree: sums.pieces === 0 ? '' : showLength(sums.longest_free, asker.units, 'down'),
  };
}

/** Its lots on the shelf, by the names of their shades. */
function lotsOfCloth(reader: Reader, clothId: number) {
  return lotsInOrder(reader, 'cloth').byCloth.get(clothId) ?? [];
}

const shadesNamed = prepared((db, ids: Param<readonly number[]>) =>
  db
    .selectFrom('shade')
    .select(['id', 'name', 'lab_l', 'lab_a', 'lab_b'])
    .where('id', 'in', inList(ids))
    .orderBy('name'),
);

/** A cloth and what the shelf has of it, by shade. */
export function clothPage(
  reader: Reader,
  clothId: number,
  query: unknown,
  asker: Asker,
  { readNeeded, lengthsWithin }: Pick<ShelfTold, 'readNeeded' | 'lengthsWithin'>,
) {
  const cloth = readCloth(reader, clothId);
  const lots = lotsOfCloth(reader, clothId);
  const sums = sumUpBy(lots, 'shadeId');
  const needed = readNeeded(reader);
  const lengths = lengthsWithin(reader, { clothId }, needed);
  // Its lots come by the names of their shades, and so do the sums.
  const shadeIds = [...sums.keys()];
  const { offset, pager } = sliceOf(query, {
    total: shadeIds.length,
    noun: 'shades',
    path: clothPath(clothId),
  });
  const data = {
    waiting: needed.waiting,
    ...showCloth(cloth, asker.units),
    cloth,
    supplierHref: cloth.supplierId === null ? '' : supplierPath(cloth.supplierId),
    shades: reader.all(shadesNamed(shadeIds.slice(offset, pager.to))).map((row) => {
      const href = address('/shelf', { cloth: clothId, shade: row.id });
      return {
        chip: shadeChip(row, { href }),
        totals: shapeTotals(sums.get(row.id) ?? sumUp([]), asker.units),
        lengths: shapeLengths(lengths({ clothId, shadeId: row.id }), asker.units),
        href,
      };
    }),
    pager,
    totals: shapeTotals(sumUp(lots), asker.units),
    lengths: shapeLengths(lengths({ clothId }), asker.units),
    ways: {
      edit: `${clothPath(clothId)}/edit`,
      receive: address('/shelf/receive', { cloth: clothId }),
      shelf: address('/shelf', { cloth: clothId }),
      take: address('/take', { cloth: clothId }),
      wash: washTestsPath(clothId),
    },
  };
  return { view: 'shelf/cloth/cloth', data, title: cloth.name, room: 'shelf' } satisfies Page;
}

/** The form for a new cloth, or for a change of one. */
export function clothFormPage(reader: Reader, { units }: Asker, clothId: number | null, typed?: Typed) {
  const cloth = clothId === null ? null : readCloth(reader, clothId);
  const data = {
    action: cloth ? `${clothPath(cloth.id)}/edit` : '/shelf/cloths/new',
    requestKey: mintKey(),
    fields: drawFields(clothFields(reader, units), typed ?? (cloth ? clothAsTyped(cloth, units) : {}), {
      // One blank row at least below the fibres that are known.
      fibres: Math.max(FIBRE_ROWS, cloth ? cloth.content.length + 1 : 0),
    }),
    cancel: cloth ? clothPath(cloth.id) : '/shelf/cloths',
    /** pieces that exist already and stay as they are; 0 for a new cloth */
    pieces: cloth ? sumUp(lotsOfCloth(reader, cloth.id)).pieces : 0,
  };
  const title = cloth ? `Change ${cloth.name}` : 'New cloth';
  return { view: 'shelf/cloth/form', data, title, room: 'shelf' } satisfies Page;
}

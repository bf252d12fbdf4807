import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { shapeBar } from '../../kit/bar.ts';
import { sliceOf } from '../../kit/paging.ts';
import { clothPath } from '../../kit/paths.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type Lengths, shapeLengths } from '../lengths.ts';
import type { ShelfTold } from '../told.ts';

const STOCK_KEY = [
  { fill: 'solid', text: 'to spare' },
  { fill: 'open', text: 'needed' },
  { fill: 'hatched', text: 'held' },
  { fill: 'dotted', text: 'coming' },
] as const;

const clothsWithStock = prepared((db, alsoIds: Param<readonly number[]>) =>
  db
    .selectFrom('cloth')
    .select(['id', 'name'])
    .where(({ or, exists, selectFrom, eb }) =>
      or([
        eb('cloth.id', 'in', inList(alsoIds)),
        exists(
          selectFrom('lot')
            .innerJoin('piece', 'piece.lot_id', 'lot.id')
            .select('lot.id')
            .whereRef('lot.cloth_id', '=', 'cloth.id')
            .where('piece.on_hand_ticks', '>', 0),
        ),
      ]),
    )
    .orderBy('name'),
);

/** What the shelf has of each cloth as a picture: to spare, needed, held, and what is coming; the most first. */
export function stockByClothPage(
  reader: Reader,
  query: unknown,
  { units }: Pick<Asker, 'units'>,
  { readNeeded, lengthsWithin }: Pick<ShelfTold, 'readNeeded' | 'lengthsWithin'>,
) {
  const needed = readNeeded(reader);
  const lengths = lengthsWithin(reader, {}, needed);
  const comingIds = lengths({}).coming.map(({ clothId }) => clothId);
  const all = reader
    .all(clothsWithStock([...new Set(comingIds)]))
    .map(({ id, name }) => ({ id, name, lengths: lengths({ clothId: id }) }))
    .map((row) => ({ ...row, comingTicks: sumOfComing(row.lengths) }))
    .sort((one, other) => totalOf(other) - totalOf(one));
  const { offset, pager } = sliceOf(query, { total: all.length, noun: 'cloths', path: '/shelf/stock' });
  // One scale for all cloths, whichever page of them is looked at.
  const most = all.reduce((longest, row) => Math.max(longest, totalOf(row)), 1);
  const data = {
    waiting: needed.waiting,
    cloths: all.slice(offset, pager.to).map((row) => shapeRow(row, most, units)),
    key: STOCK_KEY,
    pager,
  };
  return { view: 'shelf/cloth/stock', data, title: 'Stock by cloth', room: 'shelf' } satisfies Page;
}

interface ClothStock {
  readonly id: number;
  readonly name: string;
  readonly lengths: Lengths;
  readonly comingTicks: number;
}

const sumOfComing = ({ coming }: Lengths) => coming.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
const totalOf = ({ lengths, comingTicks }: ClothStock) => lengths.onHandTicks + comingTicks;

function shapeRow(row: ClothStock, most: number, units: Units) {
  const { id, name, lengths, comingTicks } = row;
  const { spareTicks, neededTicks, heldTicks } = lengths;
  const shown = shapeLengths(lengths, units);
  const coming = comingTicks === 0 ? '' : showLength(comingTicks, units, 'down');
  const said = [
    `${shown.onHand} on hand`,
    `${shown.spare} to spare`,
    ...(shown.needed ? [`${shown.needed} needed`] : []),
    ...(shown.held ? [`${shown.held} held`] : []),
    ...(coming ? [`${coming} coming`] : []),
  ];
  const parts = [
    ['solid', spareTicks],
    ['open', neededTicks],
    ['hatched', heldTicks],
    ['dotted', comingTicks],
  ] as const;
  return {
    name,
    href: clothPath(id),
    list: address('/shelf', { cloth: id }),
    wall: address('/shelf/wall', { cloth: id }),
    onHand: shown.onHand,
    spare: shown.spare,
    needed: shown.needed,
    held: shown.held,
    coming,
    bar: shapeBar(`${name}: ${said.join(', ')}`, parts, most),
  };
}

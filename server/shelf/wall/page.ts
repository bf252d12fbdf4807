import { labToScreen } from '../../../src/colour/lab.ts';
import type { Reader } from '../../database/book.ts';
import { address, queryText } from '../../kit/address.ts';
import { clothChoices, withBlank } from '../../kit/choices.ts';
import { grouped } from '../../kit/grouped.ts';
import { sliceOf } from '../../kit/paging.ts';
import { clothPath, shadePath } from '../../kit/paths.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { shapeLengths } from '../lengths.ts';
import { readClothNames } from '../names.ts';
import type { ShelfTold } from '../told.ts';
import { shapeLotsOf } from './lots.ts';
import { readTiles } from './tiles.ts';

const MOST_TILES = 16;

/** The wall of swatches: what the shelf has of each shade and cloth, by hue, its lots beside each other. */
export function wallPage(
  reader: Reader,
  query: unknown,
  { units }: Asker,
  { readNeeded, lengthsWithin }: Pick<ShelfTold, 'readNeeded' | 'lengthsWithin'>,
) {
  const cloths = withBlank(clothChoices(reader), 'any cloth');
  const cloth = cloths.find(({ value }) => value === queryText(query, 'cloth'))?.value ?? '';
  const of = cloth === '' ? {} : { clothId: Number(cloth) };
  const all = readTiles(reader, of.clothId);
  const { offset, pager } = sliceOf(query, {
    total: all.length,
    noun: 'swatches',
    path: '/shelf/wall',
    kept: { cloth },
    rows: MOST_TILES,
  });
  const here = all.slice(offset, pager.to);
  const needed = readNeeded(reader);
  const lengths = lengthsWithin(reader, of, needed);
  const names = readClothNames(reader, [...new Set(here.map(({ clothId }) => clothId))]);
  const lotsOf = shapeLotsOf(reader, here, units);
  const tiles = here.map((tile) => ({
    group: tile.group,
    name: tile.name,
    href: shadePath(tile.shadeId),
    cloth: { name: names.get(tile.clothId)?.name ?? '', href: clothPath(tile.clothId) },
    colour: tile.lab && labToScreen(tile.lab),
    /** whose colour the swatch has */
    by: tile.by,
    lengths: shapeLengths(lengths({ clothId: tile.clothId, shadeId: tile.shadeId }), units),
    list: address('/shelf', { cloth: tile.clothId, shade: tile.shadeId }),
    ...lotsOf(tile),
  }));
  const data = {
    waiting: needed.waiting,
    cloths,
    cloth,
    groups: [...grouped(tiles, ({ group }) => group)].map(([group, swatches]) => ({
      name: GROUP_NAMES[group],
      swatches,
    })),
    pager,
    /** the same as a list */
    list: address('/shelf', { cloth }),
  };
  return { view: 'shelf/wall/wall', data, title: 'Wall of swatches', room: 'shelf' } satisfies Page;
}

const GROUP_NAMES = {
  hues: 'By hue',
  greys: 'Whites, greys and blacks, light to dark',
  uncoloured: 'No colour recorded',
} as const;

import { orderByHue } from '../../../src/colour/hue-order.ts';
import { type Lab, meanLab } from '../../../src/colour/lab.ts';
import { type ClothShade, needKey } from '../../../src/garment/need.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import { readLotEvidence } from '../lot/store.ts';
import { type LotSums, lotsInOrder } from '../stock/kept-lots.ts';

/** A shade of a cloth that lies on the shelf. */
export interface WallTile extends ClothShade {
  readonly group: 'hues' | 'greys' | 'uncoloured';
  readonly name: string;
  readonly lab: Lab | null;
  readonly by: 'shade' | 'lots' | 'nobody';
  readonly lots: readonly LotSums[];
}

const shadeColours = prepared((db, shadeIds: Param<readonly number[]>) =>
  db
    .selectFrom('shade')
    .select(['id', 'name', 'lab_l', 'lab_a', 'lab_b'])
    .where('id', 'in', inList(shadeIds)),
);

/** All tiles of the wall in their order, of one cloth or of all. */
export function readTiles(reader: Reader, clothId: number | undefined): WallTile[] {
  const known = lotsInOrder(reader, 'shade');
  const lots = clothId === undefined ? known.lots : (known.byCloth.get(clothId) ?? []);
  const shadeIds = [...new Set(lots.map(({ shadeId }) => shadeId))];
  const shades = new Map(reader.all(shadeColours(shadeIds)).map((row) => [row.id, row]));
  const named = [...grouped(lots, needKey).values()].flatMap((own) => {
    const [first] = own;
    const shade = first && shades.get(first.shadeId);
    if (!shade) return [];
    const { lab_l: l, lab_a: a, lab_b: b } = shade;
    const lab: Lab | null = l === null || a === null || b === null ? null : { l, a, b };
    return [{ clothId: first.clothId, shadeId: first.shadeId, name: shade.name, lab, lots: own }];
  });
  const unnamed = named.flatMap(({ lab, lots: own }) => (lab ? [] : own.map(({ countsAsId }) => countsAsId)));
  const { read } = readLotEvidence(reader, [...new Set(unnamed)]);
  const seen = named.map((tile) => {
    if (tile.lab) return { ...tile, by: 'shade' as const };
    const labs = tile.lots.flatMap(({ countsAsId }) => read.get(countsAsId)?.colours[0]?.lab ?? []);
    return labs.length === 0
      ? { ...tile, by: 'nobody' as const }
      : { ...tile, lab: meanLab(labs), by: 'lots' as const };
  });
  const { hues, greys, uncoloured } = orderByHue(seen, ({ lab }) => lab);
  const within = (group: WallTile['group'], tiles: readonly Omit<WallTile, 'group'>[]) =>
    tiles.map((tile) => ({ ...tile, group }));
  return [...within('hues', hues), ...within('greys', greys), ...within('uncoloured', uncoloured)];
}

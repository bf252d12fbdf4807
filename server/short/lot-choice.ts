import { fitsOfSets } from '../../src/fit/lot-sets.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import type { Reader } from '../database/book.ts';
import { readCutStrips, readHeldStretches } from '../garments/garment/done.ts';
import { bandsOf, type Garment } from '../garments/garment/records.ts';
import { stripRowsOf } from '../garments/garment/strip-rows.ts';
import { garmentPath } from '../kit/paths.ts';
import type { NeedOfLots } from '../shelf/told.ts';
import { readNeeds } from './queries.ts';

/** What a garment still wants of a cloth and shade, and what sets of lots would give of it; null where it wants none. */
export function readNeedOfLots(reader: Reader, garmentCode: string, of: ClothShade): NeedOfLots | null {
  const { lines } = readNeeds(reader, { garmentCode });
  const line = lines.find(
    (each) => needKey({ clothId: each.cloth.id, shadeId: each.shade.id }) === needKey(of),
  );
  const share = line?.shares.find(({ garment }) => garment.code === garmentCode);
  if (!share) return null;
  const { garment, need, short, free } = share;
  const { made, missing } = short.freeFit;
  const demands = need.demands.map((demand, place) => ({
    ...demand,
    count: (made[place]?.count ?? 0) + (missing[place]?.count ?? 0),
  }));
  const wanted = demands.filter(({ count }) => count > 0);
  return {
    garment: { code: garment.code, name: garment.name, href: garmentPath(garment.code) },
    bands: bandsOf(garment),
    rule: need.lots,
    strips: wanted.reduce((sum, { count }) => sum + count, 0),
    tiers: stripRowsOf(garment)
      .filter(({ id }) => wanted.some(({ tierId }) => tierId === id))
      .map(({ name }) => name),
    inUseLotIds: readLotsInUse(reader, garment, of),
    fit: (sets) => fitsOfSets(wanted, free, sets),
  };
}

/** The lots that strips of a garment are cut from, or cloth is held of: what follows must match them. */
function readLotsInUse(reader: Reader, garment: Garment, of: ClothShade): number[] {
  const tierIds = stripRowsOf(garment).map(({ id }) => id);
  const used = [...readCutStrips(reader, tierIds), ...readHeldStretches(reader, tierIds)];
  return [...new Set(used.filter((each) => needKey(each) === needKey(of)).map(({ lotId }) => lotId))];
}

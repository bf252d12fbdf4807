import { missingDemands } from '../../src/fit/sharing.ts';
import { laidOn, lengthToCut } from '../../src/fit/strips.ts';
import type { Reader } from '../database/book.ts';
import type { MissingLength } from '../dye-bench/series/told.ts';
import { readGarment } from '../garments/garment/records.ts';
import { stripRowsIn } from '../garments/garment/strip-rows.ts';
import { readNeeds } from './queries.ts';

/** What one garment is short of, by cloth and shade in the order of its tiers. */
export function readMissing(reader: Reader, garmentCode: string): MissingLength[] {
  const { lines } = readNeeds(reader, { garmentCode, whole: true });
  const names = stripRowsIn(readGarment(reader, garmentCode));
  const missing = lines.flatMap(({ cloth, shade, shares }) => {
    const share = shares.find(({ garment }) => garment.code === garmentCode);
    const demands = share ? missingDemands(share).filter(({ count }) => count > 0) : [];
    if (demands.length === 0) return [];
    const laid = demands.map((demand) => laidOn(demand, cloth.usableWidthTicks));
    const cutLengths = laid.map(({ direction, lengthTicks, depthTicks }) =>
      direction === 'along' ? lengthTicks : depthTicks,
    );
    const tierIds = demands.map(({ tierId }) => tierId);
    return {
      clothId: cloth.id,
      shadeId: shade.id,
      lengthTicks: lengthToCut(demands, cloth.usableWidthTicks),
      leastTicks: Math.max(...cutLengths),
      strips: demands.reduce((sum, { count }) => sum + count, 0),
      tiers: names.filter(({ id }) => tierIds.includes(id)).map(({ name }) => name),
      first: names.findIndex(({ id }) => tierIds.includes(id)),
    };
  });
  return missing.sort((a, b) => a.first - b.first).map(({ first: _, ...each }) => each);
}

import { lengthToCut } from '../../src/fit/strips.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { readCutStrips } from '../garments/garment/done.ts';
import type { Names } from '../garments/garment/names.ts';
import { readUsableWidths, type WorkedGarment } from '../garments/garment/worked.ts';
import { sayLots } from '../garments/tier/view.ts';
import { readNeeds } from '../short/queries.ts';

/** The needs of a garment; what garments that are due before it take of the shelf is not free for it. */
export function readNeedViews(reader: Reader, worked: WorkedGarment, names: Names, units: Units) {
  const { garment, needs } = worked;
  const shares =
    garment.finishedAt === null
      ? readNeeds(reader, { garmentCode: garment.code }).lines.flatMap((line) => line.shares)
      : [];
  const cut = readCutStrips(
    reader,
    [...worked.tiers, ...worked.parts].map(({ tierId }) => tierId),
  );
  const widths = readUsableWidths(reader, [...new Set(needs.map(({ clothId }) => clothId))]);
  return needs.map((need) => {
    const { clothId, shadeId } = need;
    const isSame = (row: { readonly clothId: number; readonly shadeId: number }) =>
      row.clothId === clothId && row.shadeId === shadeId;
    const short = shares.find((share) => share.garment.id === garment.id && isSame(share.need))?.short;
    const lengthTicks = lengthToCut(need.demands, widths.get(clothId) ?? 0);
    return {
      cloth: names.cloth(clothId),
      letter: names.letter(shadeId),
      chip: names.chip(shadeId),
      lots: sayLots(need.lots),
      strips: need.strips,
      /** of fresh cloth that would give all of its strips */
      length: lengthTicks === null ? 'no length would do' : showLength(lengthTicks, units, 'up'),
      cut: cut.filter(isSame).reduce((sum, { count }) => sum + count, 0),
      /** null where the garment is finished and asks for nothing more */
      met: short ? { held: short.heldStrips, free: short.freeStrips, short: short.shortStrips } : null,
    };
  });
}

export type NeedView = ReturnType<typeof readNeedViews>[number];

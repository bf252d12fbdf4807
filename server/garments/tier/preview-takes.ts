import { clothLength } from '../../../src/garment/cloth-length.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { massOfStrips } from '../../../src/garment/weight.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { listed } from '../../kit/words.ts';
import type { Names } from '../garment/names.ts';
import { readClothFacts, weighedStrips } from '../sewing/answer-facts.ts';
import { sayCutMass } from '../sewing/answer-words.ts';
import { wantedNow } from './view.ts';

/** What a tier takes by itself of fresh cloth, and what it weighs, a sentence each. */
export function takesOf(reader: Reader, worked: WorkedTier, names: Names, units: Units): string[] {
  const shades = wantedNow(worked);
  const cloths = readClothFacts(
    reader,
    shades.map(({ clothId }) => clothId),
  );
  const lengths = shades.flatMap((strips) => {
    const found = clothLength([strips], cloths.get(strips.clothId)?.usableWidthTicks ?? 1);
    if (!found.ok) return [];
    const length = showLength(found.totalTicks, units, 'up');
    return [`${length} in ${names.letter(strips.shadeId)} ${names.shade(strips.shadeId)}`];
  });
  return [
    ...(lengths.length > 0 ? [`Fresh cloth by itself: ${listed(lengths)}.`] : []),
    sayCutMass(massOfStrips(weighedStrips(worked, cloths)), units),
  ];
}

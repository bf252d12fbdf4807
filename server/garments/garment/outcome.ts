import { lengthToCut } from '../../../src/fit/strips.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { massOfStrips } from '../../../src/garment/weight.ts';
import { showFullness } from '../../../src/quantity/fullness.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { countOf } from '../../kit/words.ts';
import type { Problem } from '../../refusal.ts';
import { drawElevations } from '../drawing/elevation.ts';
import { readClothFacts, weighedStrips } from '../sewing/facts.ts';
import { sayCutMass } from '../sewing/words.ts';
import { showBase } from '../tier/view.ts';
import { showStrip } from '../versions/differences.ts';
import { clothsOf } from '../versions/queries.ts';
import { namesOf } from './names.ts';
import type { TierRecord } from './records.ts';
import { cautionsOf } from './warnings.ts';
import { tiersIn, type WorkedGarment } from './worked.ts';

/** What the tiers of a garment come to as a form stands; nothing of it is in the book. `before` is the same garment as the book has it, null for one that is new. */
export function shapeOutcome(
  reader: Reader,
  worked: WorkedGarment,
  before: WorkedGarment | null,
  units: Units,
) {
  const { garment } = worked;
  const names = namesOf(reader, garment);
  const cloths = readClothFacts(reader, clothsOf(garment));
  const strips = worked.tiers.reduce((sum, { count }) => sum + count.strips, 0);
  const weighed = worked.tiers.flatMap((tier) => weighedStrips(tier, cloths));
  const records = tiersIn(garment);
  return {
    tiers: records.flatMap((record) => {
      const found = worked.tiers.find(({ tierId }) => tierId === record.id);
      const old = before?.tiers.find(({ tierId }) => tierId === record.id);
      if (!found) return [];
      // `before` is null where the book has no such tier.
      return [{ ...rowOf(record, found, units), before: old?.count.strips ?? null }];
    }),
    needs: worked.needs.map(({ clothId, shadeId, strips: wanted, demands }) => {
      const lengthTicks = lengthToCut(demands, cloths.get(clothId)?.usableWidthTicks ?? 0);
      return {
        letter: names.letter(shadeId),
        cloth: names.cloth(clothId),
        shade: names.shade(shadeId),
        strips: wanted,
        /** The length of fresh cloth that would give all of its strips. */
        length: lengthTicks === null ? 'no length would do' : showLength(lengthTicks, units, 'up'),
      };
    }),
    total: strips === 0 ? '' : `${countOf(strips, 'strip', 'strips')} in all`,
    mass: worked.tiers.length === 0 ? '' : sayCutMass(massOfStrips(weighed), units),
    problems: [] as readonly Problem[],
    /** What would then differ from what is cut and held for it. */
    differences: [] as readonly string[],
    warnings: cautionsOf(worked, units),
    drawings: drawElevations(worked, names, units),
  };
}

export type Outcome = ReturnType<typeof shapeOutcome>;

export const NO_OUTCOME: Outcome = {
  tiers: [],
  needs: [],
  total: '',
  mass: '',
  problems: [],
  differences: [],
  warnings: [],
  drawings: [],
};

function rowOf(record: TierRecord, { name, baseTicks, cutDepthTicks, count }: WorkedTier, units: Units) {
  const lengths = new Set(count.perShade.map(({ stripLengthTicks }) => stripLengthTicks));
  const sizes = [...lengths].map((lengthTicks) =>
    showStrip({ depthTicks: cutDepthTicks, lengthTicks }, units),
  );
  return {
    name,
    drop: record.dropTicks === null ? `its ${record.hangs}` : showSize(record.dropTicks, units, 'near'),
    onto: showBase(baseTicks, units),
    fullness: `${showFullness(count.fullnessMilli)}×`,
    strips: count.strips,
    size: sizes.join(', '),
  };
}

import { lengthToCut } from '../../../src/fit/strips.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { massOfStrips } from '../../../src/garment/weight.ts';
import { showFullness } from '../../../src/quantity/fullness.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { countOf } from '../../kit/words.ts';
import type { Problem } from '../../refusal.ts';
import { drawElevations, type Elevation } from '../drawing/elevation.ts';
import { readClothFacts, weighedStrips } from '../sewing/answer-facts.ts';
import { sayCutMass } from '../sewing/answer-words.ts';
import { showBase } from '../tier/view.ts';
import { showStrip } from '../versions/differences.ts';
import { clothsOf } from '../versions/queries.ts';
import { namesOf } from './names.ts';
import type { TierRecord } from './records.ts';
import { cautionsOf } from './warnings.ts';
import { tiersIn, type WorkedGarment } from './worked.ts';

/** What the tiers of a garment come to as a form stands; nothing of it is in the book. */
export interface Outcome {
  readonly tiers: readonly {
    /** as the tiers are numbered in the picture */
    readonly number: number;
    readonly name: string;
    readonly drop: string;
    readonly onto: string;
    readonly fullness: string;
    readonly strips: number;
    /** strips as the book has it; null where it has no such tier */
    readonly before: number | null;
    readonly size: string;
  }[];
  readonly needs: readonly {
    readonly letter: string;
    readonly cloth: string;
    readonly shade: string;
    readonly strips: number;
    /** length of fresh cloth that would give all of its strips */
    readonly length: string;
  }[];
  readonly total: string;
  /** what all of its cloth weighs, a sentence */
  readonly mass: string;
  readonly problems: readonly Problem[];
  /** what would then differ from what is cut and held for it */
  readonly differences: readonly string[];
  readonly warnings: readonly string[];
  readonly drawings: readonly Elevation[];
}

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

/** Shapes a garment as it would be. `before` is the same garment as the book has it, null for one that is new. */
export function shapeOutcome(
  reader: Reader,
  worked: WorkedGarment,
  before: WorkedGarment | null,
  units: Units,
): Outcome {
  const { garment } = worked;
  const names = namesOf(reader, garment);
  const cloths = readClothFacts(reader, clothsOf(garment));
  const strips = worked.tiers.reduce((sum, { count }) => sum + count.strips, 0);
  const weighed = worked.tiers.flatMap((tier) => weighedStrips(tier, cloths));
  const records = tiersIn(garment);
  return {
    ...NO_OUTCOME,
    tiers: records.flatMap((record, place) => {
      const found = worked.tiers.find(({ tierId }) => tierId === record.id);
      const old = before?.tiers.find(({ tierId }) => tierId === record.id);
      if (!found) return [];
      return [{ number: place + 1, ...rowOf(record, found, units), before: old?.count.strips ?? null }];
    }),
    needs: worked.needs.map(({ clothId, shadeId, strips: wanted, demands }) => {
      const lengthTicks = lengthToCut(demands, cloths.get(clothId)?.usableWidthTicks ?? 0);
      return {
        letter: names.letter(shadeId),
        cloth: names.cloth(clothId),
        shade: names.shade(shadeId),
        strips: wanted,
        length: lengthTicks === null ? 'no length would do' : showLength(lengthTicks, units, 'up'),
      };
    }),
    total: strips === 0 ? '' : `${countOf(strips, 'strip', 'strips')} in all`,
    mass: worked.tiers.length === 0 ? '' : sayCutMass(massOfStrips(weighed), units),
    warnings: cautionsOf(worked, units),
    drawings: drawElevations(worked, names, units),
  };
}

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

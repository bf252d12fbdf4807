/**
 * Moisture: cloth that lies in a room holds water that oven-dry cloth does not. Amounts on weight of fabric are counted
 * on the commercial mass, which is oven-dry × (1 + regain). The regains are trade conventions and no measurement of the
 * water that a cloth holds on the day (ASTM D1909).
 */

import { divideRounded, exactly, showDecimal, stored } from '../quantity/figure-show.ts';
import { FROM_MEMORY, type Provenance, published } from '../quantity/provenance.ts';
import { grams } from './bath-sums.ts';
import type { Content, FibreCode } from './fibre.ts';

const D1909 = published('Bioresources and Bioprocessing 2020, table 10, after ASTM D1909');
const COURSE = published('textilecalculation.blogspot.com, August 2015');

/** The water in conditioned cloth, in hundredths of a percent of its oven-dry mass. */
const REGAINS: Readonly<Record<FibreCode, readonly [regainBp: number, mark: Provenance]>> = {
  cotton: [850, D1909],
  linen: [1200, D1909],
  hemp: [1200, D1909],
  viscose: [1100, COURSE],
  modal: [1100, FROM_MEMORY],
  lyocell: [1100, FROM_MEMORY],
  silk: [1100, D1909],
  wool: [1360, D1909],
  nylon: [400, COURSE],
  polyester: [40, COURSE],
  'cationic-polyester': [40, COURSE],
  acetate: [600, COURSE],
  triacetate: [350, COURSE],
  acrylic: [150, COURSE],
  elastane: [130, FROM_MEMORY],
  olefin: [0, FROM_MEMORY],
  glass: [0, COURSE],
  metallised: [0, COURSE],
};

/** The regain of a fibre, in hundredths of a percent of its oven-dry mass, and where the figure comes from. */
export function regainOf(fibre: FibreCode): { readonly regainBp: number; readonly mark: Provenance } {
  const [regainBp, mark] = REGAINS[fibre];
  return { regainBp, mark };
}

/**
 * The commercial mass in mg of cloth that weighs `dryMg` oven-dry, to the nearest: each fibre × (1 + its regain). Shares
 * of a content are of the commercial mass, as labels give them (from memory), so of a blend it is
 * dry ÷ Σ (share ÷ (1 + regain)). Throws RangeError on a content without fibres.
 */
export function commercialMassMg(dryMg: number, content: Content): number {
  const { num, den } = commercialFactor(content);
  return stored(divideRounded(exactly(dryMg) * num, den, 'near'));
}

/** The regain of a whole content, in hundredths of a percent to the nearest: 850 of cotton. */
export function regainBpOf(content: Content): number {
  const { num, den } = commercialFactor(content);
  return stored(divideRounded((num - den) * 10_000n, den, 'near'));
}

/** "100 g oven-dry × (1 + 8.5 %) = 108.5 g": the commercial mass as a sum, of which owf is. */
export function sumOfRegain(dryMg: number, regainBp: number, massMg: number): string {
  const comesOut = exactly(dryMg) * (10_000n + exactly(regainBp)) === exactly(massMg) * 10_000n;
  return `${grams(dryMg)} oven-dry × (1 + ${showDecimal(exactly(regainBp), 2)} %) ${comesOut ? '=' : '≈'} ${grams(massMg)} air-dry, the mass that owf is of`;
}

/** Where the regains of a content come from, each source once. */
export function regainMarks(content: Content): readonly Provenance[] {
  return [...new Set(content.map(({ fibre }) => regainOf(fibre).mark))];
}

/** Commercial ÷ oven-dry mass, as an exact fraction. */
function commercialFactor(content: Content): { num: bigint; den: bigint } {
  if (content.length === 0) throw new RangeError('Regain is of fibres, and none is given');
  // Σ share ÷ (10 000 + regain), over one denominator.
  let [above, below] = [0n, 1n];
  let shares = 0n;
  for (const { fibre, shareBp } of content) {
    const whole = 10_000n + exactly(regainOf(fibre).regainBp);
    [above, below] = [above * whole + exactly(shareBp) * below, below * whole];
    shares += exactly(shareBp);
  }
  return { num: shares * below, den: above * 10_000n };
}

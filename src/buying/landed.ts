import { apportion, taxOn } from '../quantity/money.ts';
import { atRate, type Exchange } from '../quantity/rate.ts';

/** One piece of a delivery, as far as its cost goes. */
export interface Landing {
  /** what the goods cost, in minor units of the supplier's currency */
  readonly priceMinor: number;
  readonly lengthTicks: number;
}

/** What comes on top of the goods of a delivery, and how it is shared out. */
export interface OnTop {
  /** in minor units of the supplier's currency */
  readonly freightMinor: number;
  /** hundredths of a percent of goods and freight */
  readonly taxBp: number;
  readonly shareBy: 'value' | 'length';
  /** from the supplier's currency to the workroom's */
  readonly exchange: Exchange;
}

export interface LandedCost {
  /** what each piece costs where it lies, in minor units of the workroom's currency */
  readonly pieces: readonly number[];
  readonly totalMinor: number;
  readonly taxMinor: number;
}

/**
 * The landed cost of a delivery's pieces: goods, freight and tax in the workroom's own money. Tax and exchange are each
 * rounded once, for the whole delivery, a half up; the sum is then shared out by largest remainder, so that the pieces
 * cost together exactly what was paid. Throws RangeError on negative amounts.
 */
export function landedCosts(pieces: readonly Landing[], onTop: OnTop): LandedCost {
  const { freightMinor, taxBp, exchange } = onTop;
  if (
    [freightMinor, taxBp, ...pieces.flatMap(({ priceMinor, lengthTicks }) => [priceMinor, lengthTicks])].some(
      (n) => n < 0,
    )
  )
    throw new RangeError('no price, tax or length is negative');
  const goodsMinor = sumOf(pieces.map(({ priceMinor }) => priceMinor));
  const taxMinor = taxOn(goodsMinor + freightMinor, taxBp);
  const inOurs = (minor: number) => atRate(minor, exchange);
  const totalMinor = inOurs(goodsMinor + freightMinor + taxMinor);
  if (pieces.length === 0) return { pieces: [], totalMinor, taxMinor };
  // Goods and their tax go with the goods; freight and its tax go by what was chosen. Both shares are of one total.
  const goodsPart = Math.min(inOurs(goodsMinor + taxOn(goodsMinor, taxBp)), totalMinor);
  const byValue = apportion(
    goodsPart,
    pieces.map(({ priceMinor }) => priceMinor),
  );
  const weights = pieces.map(({ priceMinor, lengthTicks }) =>
    onTop.shareBy === 'value' ? priceMinor : lengthTicks,
  );
  const byChoice = apportion(totalMinor - goodsPart, weights);
  return { pieces: byValue.map((minor, at) => minor + (byChoice[at] ?? 0)), totalMinor, taxMinor };
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, number) => sum + number, 0);
}

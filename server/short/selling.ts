import { lengthSold } from '../../src/buying/offer.ts';
import type { Buying } from '../../src/cut-plan/job.ts';
import type { ClothShade } from '../../src/garment/need.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { showSold, showStep } from '../orders/offer/put-up-words.ts';
import { type Offer, readOffers } from '../orders/offer/queries.ts';
import { readShopStepTicks } from '../setup/rates/store.ts';

/** How a cloth and shade is bought by the length: in what steps and how much at least, in ticks, and who says so. */
export interface Selling extends Buying {
  /** a sentence that says which */
  readonly said: string;
}

/** How much of a cloth and shade must be bought where a length is needed, by the offers in force. */
export type SellingOf = (of: ClothShade, neededTicks: number | null) => Selling;

/** What must be bought where a length is needed: whole steps, and the least that is sold; nothing for nothing. In ticks. */
export function soldLength(neededTicks: number, { stepTicks, leastTicks }: Buying): number {
  if (neededTicks === 0) return 0;
  return lengthSold(neededTicks, { stepTicks, leastTicks, prices: [] });
}

/** The offers in force on a day for some cloths, as a length is bought by them: by the one that cuts least off. */
export function readSelling(
  reader: Reader,
  today: string,
  clothIds: readonly number[],
  units: Units,
): SellingOf {
  const offers = readOffers(reader, today, { clothIds: [...new Set(clothIds)] });
  const shopStepTicks = readShopStepTicks(reader, units.system);
  return (of, neededTicks) => {
    const found = offers
      .filter((offer) => isOf(offer, of, offers))
      .flatMap(({ byLength, supplierName }) => (byLength ? [{ byLength, supplierName }] : []))
      .sort((a, b) => lengthSold(neededTicks ?? 0, a.byLength) - lengthSold(neededTicks ?? 0, b.byLength))[0];
    if (!found) {
      const said = `No current price by the metre: rounded up to ${showStep(shopStepTicks, units)}, as shops cut it.`;
      return { stepTicks: shopStepTicks, leastTicks: shopStepTicks, said };
    }
    const { stepTicks, leastTicks } = found.byLength;
    const least = leastTicks > stepTicks ? `, ${showSold(leastTicks, units)} or more` : '';
    const said = `Rounded up as ${found.supplierName} sells it: cut every ${showStep(stepTicks, units)}${least}.`;
    return { stepTicks, leastTicks, said };
  };
}

/** An offer of this very shade stands before the same supplier's offer of any shade. */
function isOf(offer: Offer, { clothId, shadeId }: ClothShade, offers: readonly Offer[]): boolean {
  if (offer.clothId !== clothId) return false;
  if (offer.shadeId !== null) return offer.shadeId === shadeId;
  return !offers.some(
    (other) =>
      other.supplierId === offer.supplierId && other.clothId === clothId && other.shadeId === shadeId,
  );
}

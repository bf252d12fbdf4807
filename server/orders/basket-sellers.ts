import { type Basket, goodsOf, lengthOf, type Mix, type SupplierSum } from '../../src/basket/job.ts';
import { boltProposal, cutInstead, leftOver } from '../../src/basket/notes.ts';
import { showLength } from '../../src/length-show.ts';
import { showMoney } from '../../src/money.ts';
import { costOfCut } from '../../src/offer.ts';
import { showRate } from '../../src/rate.ts';
import { showPercent } from '../../src/whole.ts';
import type { Reader } from '../database/book.ts';
import { type Chip, shadeChip } from '../shelf/chip.ts';
import type { Asker } from '../web/house.ts';
import { showDay } from '../when.ts';
import { type BasketCase, dayAfter } from './basket-job.ts';
import { showBolts, showPerLength, showSold } from './put-up-words.ts';

/** What is bought of one supplier. */
export interface SellerView {
  readonly name: string;
  readonly href: string;
  /** the day it would come, as it is kept and as it is read; '' where the days are not known */
  readonly comesOn: string;
  readonly comes: string;
  readonly lines: readonly BasketLine[];
  readonly goods: string;
  readonly freight: string;
  readonly tax: string;
  readonly taxRate: string;
  readonly total: string;
  /** the same in the workroom's money, '' where it is that already */
  readonly home: string;
}

export interface BasketLine {
  readonly cloth: string;
  readonly chip: Chip;
  readonly needed: string;
  /** true where a spare is counted in */
  readonly spare: boolean;
  readonly buys: readonly string[];
  readonly cost: string;
  readonly perUse: string;
  readonly left: string;
  readonly notes: readonly string[];
}

/** A basket by suppliers, each as an order to it would be. */
export function shapeSellers(
  reader: Reader,
  basket: BasketCase,
  { mixes, sums }: Basket,
  asker: Asker,
  today: string,
): SellerView[] {
  return sums.flatMap((sum) => {
    const seller = basket.sellers[sum.supplier];
    if (!seller) return [];
    const own = mixes.filter((mix) => basket.job.offers[mix.offer]?.supplier === sum.supplier);
    const comesOn = expectedOn(basket, own, today);
    return [
      {
        name: seller.name,
        href: `/orders/suppliers/${seller.id}`,
        comesOn: comesOn ?? '',
        comes: comesOn === null ? '' : showDay(comesOn),
        lines: own.map((mix) => shapeLine(reader, basket, mix, asker)),
        ...shapeSum(sum, basket, asker),
      },
    ];
  });
}

/** The day by which all of some mixes would be here; null where it is not known of one. */
export function expectedOn(basket: BasketCase, mixes: readonly Mix[], today: string): string | null {
  const days = mixes.map(({ offer }) => basket.offers[offer]?.leadDays ?? null);
  return days.includes(null) ? null : dayAfter(today, Math.max(0, ...days.map((count) => count ?? 0)));
}

function shapeSum(sum: SupplierSum, { sellers, job }: BasketCase, asker: Asker) {
  const terms = sellers[sum.supplier]?.terms;
  const currency = terms?.currency ?? job.currency;
  const money = (minor: number) => showMoney(minor, currency);
  const abroad = currency !== asker.currency;
  const free = (terms?.freightMinor ?? 0) > 0 && sum.freightMinor === 0;
  return {
    goods: money(sum.goodsMinor),
    freight: free ? 'free' : sum.freightMinor > 0 ? money(sum.freightMinor) : '',
    tax: sum.taxMinor > 0 ? money(sum.taxMinor) : '',
    taxRate: showPercent(terms?.taxBp ?? 0),
    total: money(sum.goodsMinor + sum.freightMinor + sum.taxMinor),
    home: abroad
      ? `${showMoney(sum.home.totalMinor, asker.currency)} at ${showRate(terms?.rateMillionths ?? 0)}`
      : '',
  };
}

function shapeLine(reader: Reader, basket: BasketCase, mix: Mix, asker: Asker): BasketLine {
  const { job, offers, needs } = basket;
  const [offer, putUps] = [offers[mix.offer], job.offers[mix.offer]];
  const need = putUps && needs[putUps.need];
  if (!offer || !putUps || !need) throw new Error('a basket names an offer that its job has not');
  const shade = reader.first(
    reader.db.selectFrom('shade').select(['name', 'lab_l', 'lab_a', 'lab_b']).where('id', '=', need.shadeId),
  );
  const { units } = asker;
  const left = leftOver(job, mix);
  return {
    cloth: offer.clothName,
    chip: shadeChip(shade ?? { name: '', lab_l: null, lab_a: null, lab_b: null }),
    needed: showLength(need.lengthTicks, units, 'up'),
    spare: need.lengthTicks > need.neededTicks,
    buys: buysOf(basket, mix, asker),
    cost: showMoney(goodsOf(putUps, mix), offer.currency),
    perUse: showPerLength(goodsOf(putUps, mix), lengthOf(putUps, mix), offer.currency, units),
    left: left < units.stepTicks ? 'nothing' : showLength(left, units, 'down'),
    notes: notesOf(basket, mix, asker),
  };
}

/** "1 bolt of 50 m €180.00", "3.4 m cut €17.00". */
function buysOf({ offers }: BasketCase, mix: Mix, { units }: Asker): string[] {
  const offer = offers[mix.offer];
  if (!offer) return [];
  const bolts = offer.bolts.flatMap(({ lengthTicks, priceMinor }, i) => {
    const count = mix.bolts[i] ?? 0;
    if (count === 0) return [];
    return [`${showBolts(count, lengthTicks, units)} ${showMoney(count * priceMinor, offer.currency)}`];
  });
  if (mix.cutTicks === 0 || !offer.byLength) return bolts;
  const cost = showMoney(costOfCut(mix.cutTicks, offer.byLength), offer.currency);
  return [...bolts, `${showSold(mix.cutTicks, units)} cut ${cost}`];
}

function notesOf({ job, offers }: BasketCase, mix: Mix, { units }: Asker): string[] {
  const [offer, putUps] = [offers[mix.offer], job.offers[mix.offer]];
  if (!offer || !putUps) return [];
  const money = (minor: number) => showMoney(minor, offer.currency);
  const notes: string[] = [];
  const cut = cutInstead(job, mix);
  if (cut && cut.costMinor > goodsOf(putUps, mix)) {
    const length = showSold(cut.cutTicks, units);
    notes.push(
      `${mix.cutTicks > 0 ? 'Whole bolts and the rest' : 'Whole bolts'} cost less than ${length} off the bolt, which is ${money(cut.costMinor)}.`,
    );
  }
  const proposal = boltProposal(job, mix);
  const bolt = proposal && offer.bolts[proposal.bolt];
  if (proposal && bolt) {
    const each = showPerLength(proposal.costMinor, proposal.count * bolt.lengthTicks, offer.currency, units);
    notes.push(
      `For ${money(proposal.moreMinor)} more it would be ${showBolts(proposal.count, bolt.lengthTicks, units)} at ${each}, with ${showLength(proposal.leftTicks, units, 'down')} left over.`,
    );
  }
  return notes;
}

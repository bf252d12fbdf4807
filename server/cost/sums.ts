import { showLength } from '../../src/quantity/length-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import type { Reader } from '../database/book.ts';
import type { Chip } from '../kit/chip.ts';
import { readClothNames, readShadeNames, type ShadeName } from '../shelf/names.ts';
import type { Asker } from '../web/house.ts';
import type { ClothCost } from './garment-cost.ts';
import { readMadeOf, shapeMadeOf } from './made-of.ts';

/** What a garment costs in all, and by cloth and shade, each other use in a line of its own. */
export type CostSums = ReturnType<typeof shapeCosts>;

export function shapeCosts(reader: Reader, garmentId: number, costs: readonly ClothCost[], asker: Asker) {
  const money = (minor: number) => showMoney(minor, asker.currency);
  const cloths = readClothNames(reader, [...new Set(costs.map(({ clothId }) => clothId))]);
  const shades = readShadeNames(reader);
  return {
    planned: money(sumOf(costs, ({ plannedMinor }) => plannedMinor ?? 0)),
    /** cloths and shades that no price is known of */
    unpriced: costs.filter(({ plannedMinor }) => plannedMinor === null).length,
    committed: money(sumOf(costs, ({ heldMinor }) => heldMinor)),
    spent: money(sumOf(costs, ({ spentMinor }) => spentMinor)),
    left: money(sumOf(costs, ({ leftMinor }) => leftMinor)),
    /** the cloth's cost by parts; null where it is all cloth */
    madeOf: shapeMadeOf(readMadeOf(reader, garmentId), asker.currency),
    rows: costs.map((cost) => ({
      cloth: cloths.get(cost.clothId)?.name ?? '',
      /** "repair: torn ruffle"; '' for the garment's tiers */
      otherUse: cost.otherUse,
      chip: chipOf(shades.get(cost.shadeId)),
      ...(cost.otherUse === ''
        ? shapePlanned(cost, asker)
        : { plannedLength: '', planned: '', priceFrom: '' }),
      held: cost.heldTicks === 0 ? '' : money(cost.heldMinor),
      cut: cost.cutTicks === 0 ? '' : money(cost.spentMinor),
      left: cost.leftMinor === 0 ? '' : money(cost.leftMinor),
    })),
  };
}

function shapePlanned({ plannedTicks, plannedMinor, price }: ClothCost, { units, currency }: Asker) {
  return {
    plannedLength: plannedTicks === null ? 'a strip is too large' : showLength(plannedTicks, units, 'up'),
    planned: plannedMinor === null ? 'no price known' : showMoney(plannedMinor, currency),
    priceFrom: price === null ? '' : { shelf: 'as on the shelf', order: 'as last ordered' }[price.from],
  };
}

export function sumOf(costs: readonly ClothCost[], of: (cost: ClothCost) => number): number {
  return costs.reduce((sum, cost) => sum + of(cost), 0);
}

function chipOf(shade: ShadeName | undefined): Chip {
  if (!shade) throw new Error('a cost is of a shade that is in the book');
  return { colour: shade.colour, name: shade.name };
}

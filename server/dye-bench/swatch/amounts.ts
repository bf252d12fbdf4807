import { type Bath, type BathLine, bathFor, massUgOf } from '../../../src/dye/bath.ts';
import { sumOfBath, sumOfWater } from '../../../src/dye/bath-sums.ts';
import { showOwf, showStockStrength } from '../../../src/dye/bench-figures.ts';
import { verdictOn } from '../../../src/dye/dye-advice.ts';
import type { Content } from '../../../src/dye/fibre.ts';
import { isAfterBath, type Recipe } from '../../../src/dye/recipe.ts';
import { type SharedStock, sharedStocks } from '../../../src/dye/shared-stock.ts';
import { isTooLittle } from '../../../src/dye/stock-solution.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import { wordFor } from '../../kit/words.ts';
import { sayAsked, showAmount, showGrams } from '../card/amounts-show.ts';
import { showUl } from '../card/volumes.ts';
import { sayForm } from '../recipe/figures.ts';

/** A swatch as its bath is worked out: a recipe at its depth and ratio. */
export interface SwatchToBathe {
  readonly name: string;
  readonly depthOwfMilli: number;
  readonly recipe: Recipe;
}

export type SwatchAmounts =
  | {
      readonly ok: true;
      readonly stocks: readonly SharedStock[];
      readonly baths: readonly Bath[];
    }
  | { readonly ok: false; readonly reason: string };

/** The bath of each swatch, all its dyes measured from one stock each. */
export function workOutSwatches(
  swatches: readonly SwatchToBathe[],
  { massMg, content, balanceMg }: { massMg: number; content: Content; balanceMg: number },
): SwatchAmounts {
  const baths: Bath[] = [];
  for (const { name, recipe } of swatches) {
    const dyedBp = content.length === 0 ? 10_000 : verdictOn(content, recipe.dyeClass).dyedBp;
    const bathed = bathFor(massMg, recipe, dyedBp);
    if (!bathed.ok) return { ok: false, reason: `${name}: ${bathed.reason}` };
    baths.push(bathed.bath);
  }
  return sharedStocks(baths, balanceMg);
}

export type ShownSwatchBath = ReturnType<typeof showSwatchBaths>[number];
export type ShownSharedStock = ReturnType<typeof showSharedStocks>[number];

/** What each swatch takes, in the order in which it is measured. */
export function showSwatchBaths(
  swatches: readonly SwatchToBathe[],
  { baths }: SwatchAmounts & { readonly ok: true },
  balanceMg: number,
) {
  return swatches.flatMap((swatch, at) => {
    const bath = baths[at];
    if (!bath) return [];
    return {
      name: swatch.name,
      depth: showOwf(swatch.depthOwfMilli),
      volume: showUl(bath.volumeUl),
      volumeHow: sumOfBath(bath.massMg, swatch.recipe.liquorRatioMilli, bath.volumeUl),
      water: showUl(bath.freshWaterUl),
      waterHow: sumOfWater(bath),
      lines: bath.lines.map((line, place) => ({
        name: line.kind && line.form ? sayForm({ ...line, kind: line.kind, form: line.form }) : line.name,
        asked: sayAsked(line),
        amount: line.volumeUl === undefined ? showAmount(line, balanceMg) : showUl(line.volumeUl),
        /** what is worked in a bath of its own after the dyeing */
        after: isAfterDyeing(swatch.recipe, place),
        /** how what the balance does not resolve is measured; '' where it is simply weighed */
        dissolved: sayDissolved(line, balanceMg),
        from:
          line.stockMgPer100Ml === undefined
            ? ''
            : `of the stock of ${showStockStrength(line.stockMgPer100Ml)}`,
      })),
    };
  });
}

/** A little of an auxiliary is taken from so many times as much in 100 mL, whose water counts toward the bath's. */
function sayDissolved(line: BathLine, balanceMg: number): string {
  const massUg = massUgOf(line);
  const tooLittle = (times: number) =>
    isTooLittle({ ...line, massMg: line.massMg * times, massUg: massUg * times }, { balanceMg });
  if (line.part === 'dye' || line.volumeUl !== undefined || !tooLittle(1)) return '';
  const times = [10, 100].find((tried) => !tooLittle(tried));
  if (times === undefined) return 'too little for this balance';
  const weighed = showGrams(Math.round((massUg * times) / 1000));
  return `too little for the balance: dissolve ${weighed} to 100 mL and take ${100 / times} mL, with as much less water`;
}

/** Whether a line of the bath is for a bath of its own after the dyeing. */
function isAfterDyeing(recipe: Recipe, place: number): boolean {
  const auxiliary = recipe.auxiliaries[place - recipe.dyes.length];
  return auxiliary !== undefined && isAfterBath(auxiliary, recipe);
}

/** How each stock is made up, and how much of it is used. */
export function showSharedStocks(stocks: readonly SharedStock[], lots: ReadonlyMap<string, string>) {
  return stocks.map(({ name, mgPer100Ml, totalUl, makeMl, jugs, weighMg, dilutions = [] }) => {
    const first = `Weigh ${showGrams(weighMg)} and make it up to ${showVolume(makeMl, 'near')}: ${showStockStrength((weighMg * 100) / makeMl)}`;
    const weaker = dilutions.map(
      (step) =>
        `; take ${showVolume(step.takeMl, 'near')} of that and make it up to ${showVolume(step.makeMl, 'near')}: ${showStockStrength(step.mgPer100Ml)}`,
    );
    const times = wordFor(jugs, '', ` Make ${jugs} jugs alike and pour them together.`);
    return {
      name,
      lot: lots.get(name) ?? '',
      strength: showStockStrength(mgPer100Ml),
      used: showUl(totalUl),
      how: `${first}${weaker.join('')}.${times}`,
    };
  });
}

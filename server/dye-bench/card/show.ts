import type { BatchAmounts } from '../../../src/dye/batch-amounts.ts';
import { type Bath, dyedMassMg } from '../../../src/dye/bath.ts';
import type { BathPlan } from '../../../src/dye/bath-plan.ts';
import { grams, sumOfBath, sumOfShare } from '../../../src/dye/bath-sums.ts';
import { type Card, lengthsOnCard, potOnCard } from '../../../src/dye/card.ts';
import { sayFibreNames } from '../../../src/dye/fibre.ts';
import { loadOf, TAP_C } from '../../../src/dye/heater.ts';
import { sumOfRegain } from '../../../src/dye/regain.ts';
import { fillMl } from '../../../src/dye/vessel.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { showMass, showMassPerArea } from '../../../src/quantity/mass.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { piecePath } from '../../kit/paths.ts';
import { wordFor } from '../../kit/words.ts';
import { withHeads } from '../pot/step.ts';
import { recipeFigures } from '../recipe/figures.ts';
import { recipePath } from '../recipe/store.ts';
import { showGrams, shownGroups, shownLines } from './amounts-show.ts';
import { showHeat } from './heat-show.ts';
import { showBathPh } from './ph-show.ts';
import { sayFill, showSplit } from './split-show.ts';
import { showUl } from './volumes.ts';

export type ShownCard = ReturnType<typeof showCard>;

/** A card in words. Amounts are grams and millilitres for every reader: recipes and balances are metric. */
export function showCard(card: Card, units: Units) {
  const { recipe, baths, vessel } = card;
  const one = baths[0] ?? card.bath;
  const imperial = units.system === 'imperial';
  const plan = planOf(card);
  const dyedMg = card.amounts?.dyedMg ?? dyedMassMg(card.massMg, card.dyedBp);
  const counted = card.amounts?.stripTicks != null;
  const split = showSplit(plan, { ...vessel, temperatureC: recipe.temperatureC, counted });
  return {
    recipe: { name: `${recipe.name}, version ${recipe.version}`, href: recipePath(recipe.id) },
    cautions: withHeads(card.cautions),
    warnings: card.warnings,
    pieces: card.pieces.map((piece) => shownPiece(piece, units)),
    mass: showGrams(card.massMg),
    /** where the mass comes from: the sum of the pieces, or the scale beside it */
    massHow: sayMass(card),
    /** the mass in pounds where the reader reads in yards, else '' */
    massInPounds: imperial ? showMass(card.massMg, 'imperial', 'near') : '',
    /** '' where all of the cloth takes the dye */
    dyedShare: card.dyedBp === 10_000 ? '' : showPercent(card.dyedBp),
    dyedHow: card.dyedBp === 10_000 ? '' : sumOfShare(card.massMg, card.dyedBp, dyedMg),
    expected: showLength(
      card.pieces.reduce((sum, piece) => sum + piece.expectedTicks, 0),
      units,
      'down',
    ),
    shrinkage: showPercent(card.shrinkageBp),
    /** true where nothing is in a bath: a transfer is pressed off paper */
    dry: card.bath.volumeUl === 0,
    bathVolume: showUl(card.bath.volumeUl),
    bathHow: sumOfBath(card.massMg, recipe.liquorRatioMilli, card.bath.volumeUl),
    baths: {
      count: baths.length,
      each: showUl(one.volumeUl),
      mass: showGrams(one.massMg),
      vessel: `${vessel.name}, ${showVolume(vessel.volumeMl, 'near')}`,
      fill: split.fill,
      /** how full the largest bath makes the vessel, as a sum */
      load: split.load,
      equal: plan.equal,
    },
    groups: shownGroups(plan, counted),
    lines: shownLines(plan, dyedMg, card.sources),
    /** which lengths go into which bath, of which undyed lots and in which pot */
    contents: contentsOf(card, units),
    /** true where whole strips are counted */
    counted,
    options: counted ? split.options : [],
    heat: heatOf(card, one),
    /** thread, trim and lining; '' where there are none */
    also: sayFibreNames(recipe.also ?? []),
    figures: recipeFigures(recipe),
    /** of one bath when all is in; null on a card of before */
    ph: card.ph
      ? showBathPh({ bath: one, temperatureC: recipe.temperatureC, marks: recipe.marks, ...card.ph })
      : null,
  };
}

/** The plan of a card; one that was kept before plans were is of equal baths. */
function planOf(card: Card): BathPlan {
  const { amounts, bath, baths, fillMl } = card;
  return {
    bath,
    baths,
    fillMl,
    parts: amounts?.parts ?? baths.map(() => 1),
    equal: amounts?.equal ?? true,
    options: amounts?.options ?? [],
    proposed: amounts?.proposed ?? [],
    ...(amounts?.balanceMg === undefined ? {} : { balanceMg: amounts.balanceMg }),
    ...(amounts?.measuresWith === undefined ? {} : { measuresWith: amounts.measuresWith }),
    ...(amounts?.offBp === undefined ? {} : { offBp: amounts.offBp }),
  };
}

/** "12.3 g + 4.5 g = 16.8 g"; where the scale goes before it, what it says and what the area makes. */
function sayMass({ amounts, pieces, massMg }: Card): string {
  if (amounts && amounts.scaleMg !== null) {
    const area = amounts.areaMg === null ? '' : `; by area it is ${grams(amounts.areaMg)}`;
    return `${sayScale(amounts.scaleMg, amounts, massMg)}${area}`;
  }
  if (pieces.length === 1) return 'length × width × mass per area';
  return `${pieces.map((piece) => grams(piece.massMg)).join(' + ')} = ${grams(massMg)}`;
}

/** Cloth off the scale. A card of before has no regain: oven-dry, its amounts were counted on just what was weighed. */
function sayScale(scaleMg: number, { basis, regainBp }: BatchAmounts, massMg: number): string {
  if (basis !== 'oven-dry') return WEIGHED_AIR_DRY;
  return regainBp === undefined ? 'from the scale, oven-dry' : sumOfRegain(scaleMg, regainBp, massMg);
}

export const WEIGHED_AIR_DRY = 'from the scale, air-dry, the mass that owf is of';

/** The lengths of each bath, with the undyed lots that they are of and the pot. */
function contentsOf(card: Card, units: Units) {
  const lengths = lengthsOnCard(card);
  const strips = card.amounts?.lengths ?? [];
  return card.baths.map((bath, at) => {
    const own = lengths.filter((length) => length.bath === at + 1);
    const pot = potOnCard(card, at + 1);
    return {
      bath: wordFor(card.baths.length, 'The bath', `Bath ${at + 1}`),
      lengths: own.map(
        ({ piece, lengthTicks }) => `${showLength(lengthTicks, units, 'near')} of ${piece.code}`,
      ),
      lots: [...new Set(own.map(({ piece }) => piece.lot))].join(' + '),
      strips: (strips[at] ?? []).reduce((sum, length) => sum + length.strips, 0),
      mass: showGrams(bath.massMg),
      liquor: showUl(bath.volumeUl),
      pot: pot.name,
      fill: sayFill(
        { temperatureC: card.recipe.temperatureC, volumeMl: pot.volumeMl },
        fillMl(pot.volumeMl, card.recipe.temperatureC),
      ),
    };
  });
}

function heatOf({ recipe, vessel, amounts }: Card, one: Bath) {
  const { heaterKind, watts } = vessel;
  return showHeat({
    load: loadOf(one, vessel),
    fromC: TAP_C,
    toC: recipe.temperatureC,
    rateCPerMinute: amounts?.rateCPerMinute ?? 0,
    holdMinutes: recipe.holdMinutes,
    heater: heaterKind && watts ? { watts, kind: heaterKind } : null,
  });
}

function shownPiece(piece: Card['pieces'][number], units: Units) {
  const perArea = units.system === 'imperial' ? 'oz/yd²' : 'g/m²';
  return {
    code: piece.code,
    href: piecePath(piece.code),
    cloth: piece.cloth,
    lot: piece.lot,
    length: showLength(piece.lengthTicks, units, 'near'),
    width: showSize(piece.widthTicks, units, 'near'),
    massPerArea: showMassPerArea(piece.massPerAreaMgM2, perArea, 'near'),
    mass: showGrams(piece.massMg),
    expected: showLength(piece.expectedTicks, units, 'down'),
  };
}

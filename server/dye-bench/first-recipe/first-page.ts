import { deltaE00, labToScreen, sayLabTenths } from '../../../src/colour/lab.ts';
import { type FirstRecipe, NOT_REACHED } from '../../../src/colour/prediction/first-recipes.ts';
import { ENOUGH_MIXTURES } from '../../../src/colour/prediction/predictor.ts';
import { showWeighed } from '../../../src/quantity/mass.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { FIRST_RECIPE, knownSwatchesPath, shadePath } from '../../kit/paths.ts';
import type { Typed } from '../../kit/typed.ts';
import { listed } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showGrams } from '../card/amounts-show.ts';
import { readDyes } from '../dyes/store.ts';
import { type Grounding, groundingOf } from './basis.ts';
import type { PredictionDesk } from './desk.ts';
import { firstRecipeForm, shownScope } from './form.ts';
import { recipeFormPath } from './recipe-link.ts';
import {
  doubtsAbout,
  REAL_ERRORS,
  sayDelta,
  sayLearned,
  sayMixtures,
  sayNotYet,
  sayPercent,
  saySwatchesLeftOut,
} from './said.ts';
import { readScope, type Scope } from './scope.ts';
import { readTarget, type Target } from './wanted.ts';

const MOST_RECIPES = 4;
const NEAREST = 3;

export type FirstRecipePageData = Awaited<ReturnType<typeof firstRecipePage>>['data'];

/** Recipes to try first for a shade on a cloth, each with how near it is likely to come. */
export async function firstRecipePage(reader: Reader, desk: PredictionDesk, asker: Asker, typed: Typed) {
  const scope = readScope(reader, typed);
  const form = firstRecipeForm(reader, scope);
  const { shade_id, cloth_id, ground_id, bath, observer, mass } = drawFields(
    form.shape,
    shownScope(typed, scope),
  );
  const massRead = form.shape.mass.safeParse(typed.mass ?? '100');
  const grounded = scope ? groundingOf(reader, scope) : null;
  const shadeId = queryNumber(typed, 'shade_id');
  const viewer = grounded?.ok ? grounded.grounding.own.observer : null;
  const target = shadeId === null ? null : readTarget(reader, shadeId, viewer);
  const found =
    scope && grounded?.ok && target?.wanted
      ? await recipesFor(reader, desk, {
          scope,
          target,
          grounding: grounded.grounding,
          massMg: massRead.success ? massRead.data : 100_000,
          asker,
        })
      : null;
  const data = {
    action: FIRST_RECIPE,
    fields: [shade_id, cloth_id],
    more: [ground_id, bath, observer, mass],
    mass: massRead.success ? showGrams(massRead.data) : '',
    isMore: ['ground_id', 'bath', 'observer', 'mass'].some((name) => (typed[name] ?? '') !== ''),
    cloth: scope?.cloth.name ?? '',
    ground: scope?.ground?.name ?? '',
    target: target ? { ...target, edit: `${shadePath(target.id)}/edit` } : null,
    /** why nothing is predicted; null where something is, or where nothing is asked yet */
    notYet: scope && grounded && !grounded.ok ? sayNotYet(grounded.notYet, scope) : null,
    doubts: scope && grounded?.ok ? doubtsAbout(grounded.grounding, scope) : [],
    found,
    learned: scope && grounded?.ok ? sayLearned(grounded.grounding, scope) : '',
    leftOut: grounded ? saySwatchesLeftOut(grounded.ok ? grounded.grounding.leftOut : grounded.leftOut) : [],
    realErrors: REAL_ERRORS,
    swatches: scope ? knownSwatchesPath(scope.cloth.id) : null,
    enough: ENOUGH_MIXTURES,
  };
  return {
    view: 'dye-bench/first-recipe/first',
    data,
    title: 'First recipe to try',
    room: 'dye-bench',
    problems: massRead.success
      ? []
      : massRead.error.issues.map(({ message }) => ({ field: 'mass', message })),
  } satisfies Page;
}

interface Wanting {
  readonly scope: Scope;
  readonly target: Target;
  readonly grounding: Grounding;
  readonly massMg: number;
  readonly asker: Asker;
}

async function recipesFor(reader: Reader, desk: PredictionDesk, wanting: Wanting) {
  const { grounding, target, scope, asker } = wanting;
  const { basis, own, usable, carriedFrom } = grounding;
  const { wanted } = target;
  if (!wanted) return null;
  const prices = readPrices(reader, basis.from.dyes);
  // What no swatch of this cloth was dyed with is not used; how deep the dyes went is known from where their curves are.
  const gone = new Set(readDyes(reader).flatMap((dye) => (dye.gone === '' ? [] : [dye.name])));
  const inUse = usable.filter((dye) => !gone.has(basis.from.dyes[dye] ?? ''));
  const hand = { usable: inUse, deepest: basis.from.deepest, pricePerPercent: prices };
  const recipes = await desk.find(basis, { wanted, hand, count: MOST_RECIPES });
  const mixtures = basis.from.swatches.filter(
    ({ amounts }) => amounts.filter((each) => each > 0).length > 1,
  ).length;
  const isRough = carriedFrom !== '' || mixtures < ENOUGH_MIXTURES;
  const nearest = own.swatches
    .map((swatch, at) => ({
      ...swatch,
      name: own.names[at] ?? '',
      difference: deltaE00(swatch.lab, wanted.lab),
    }))
    .sort((one, other) => one.difference - other.difference)
    .slice(0, NEAREST);
  return {
    recipes: recipes.map((recipe, at) =>
      showRecipe(reader, recipe, { ...wanting, at, said: sayMixtures(mixtures, isRough) }),
    ),
    reached: recipes.some(({ isReached }) => isReached),
    seesCost: asker.seesPrices,
    nearest: nearest.map(({ name, lab, amounts, difference }) => ({
      name,
      chip: { colour: labToScreen(lab), name },
      dyes: sayAmounts(amounts, own.dyes),
      difference: sayDelta(difference),
      href: scope.known.find((each) => each.name === name)?.href ?? null,
    })),
  };
}

/** What makes 1 % of a kilogram costs of each dye, in minor units; null where no price is known. */
function readPrices(reader: Reader, dyes: readonly string[]): (number | null)[] {
  const listed = readDyes(reader);
  return dyes.map((name) => {
    const dye = listed.find((each) => each.name === name);
    return dye?.priceMinor == null || dye.priceMg === null
      ? null
      : (dye.priceMinor / dye.priceMg) * MG_PER_PERCENT;
  });
}

/** 1 % of a kilogram. */
const MG_PER_PERCENT = 10_000;

/** "0.8 % Harbour blue, 0.2 % Kelp green"; "undyed". */
export function sayAmounts(amounts: readonly number[], dyes: readonly string[]): string {
  const used = dyes.flatMap((dye, at) => {
    const amount = amounts[at] ?? 0;
    return amount > 0 ? [`${sayPercent(amount)} ${dye}`] : [];
  });
  return used.length === 0 ? 'undyed' : used.join(', ');
}

function showRecipe(
  reader: Reader,
  recipe: FirstRecipe,
  { scope, target, grounding, massMg, at, said }: Wanting & { readonly at: number; readonly said: string },
) {
  const { dyes } = grounding.basis.from;
  const { balanceMg, currency } = readWorkroom(reader);
  const used = dyes.flatMap((name, dye) => {
    const percent = recipe.amounts[dye] ?? 0;
    // A percent of a milligram is 10 micrograms.
    return percent > 0 ? [{ name, percent, massUg: Math.round(percent * massMg * 10) }] : [];
  });
  const beyond = recipe.beyondDeepest.flatMap((dye) => dyes[dye] ?? []);
  return {
    name: `Recipe ${at + 1}`,
    dyes: used.map(({ name, percent, massUg }) => ({
      name,
      percent: sayPercent(percent),
      grams: showWeighed(massUg, balanceMg),
    })),
    chip: { colour: labToScreen(recipe.lab), name: 'Expected', large: true },
    lab: sayLabTenths(recipe.lab),
    difference: sayDelta(recipe.difference),
    within: sayDelta(recipe.within),
    how: said,
    isReached: recipe.isReached,
    lamp: sayDelta(recipe.apartInIncandescent),
    cost: recipe.pricePerKg === null ? '' : showMoney(Math.round(recipe.pricePerKg), currency),
    beyond: beyond.length === 0 ? '' : `More ${listed(beyond)} than any swatch has.`,
    notReached: recipe.isReached
      ? ''
      : `Not reached: stays ΔE00 ${sayDelta(recipe.difference)} off, more than ${NOT_REACHED}.`,
    write: recipeFormPath(reader, {
      scope,
      shade: target,
      dyes: used,
      note: `First recipe to try: likely within ΔE00 ${sayDelta(recipe.within)} of ${target.name} (${said}).`,
    }),
  };
}

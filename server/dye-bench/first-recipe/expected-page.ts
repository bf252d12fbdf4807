import type { Observer } from '../../../src/colour/colour-reading.ts';
import { labForObserver } from '../../../src/colour/curve-from-lab.ts';
import { deltaE00, type Lab, labToScreen, sayLabTenths } from '../../../src/colour/lab.ts';
import { firstRecipeOf } from '../../../src/colour/prediction/first-recipes.ts';
import { amountsOf } from '../../../src/colour/prediction/known-swatches.ts';
import { dyesAtDepth } from '../../../src/dye/depth.ts';
import { depthOwfMilli } from '../../../src/dye/recipe.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { FIRST_RECIPE, knownSwatchesPath, shadePath } from '../../kit/paths.ts';
import type { Typed } from '../../kit/typed.ts';
import { listed } from '../../kit/words.ts';
import type { Page } from '../../web/page-frame.ts';
import { readRecipe, recipePath, type StoredRecipe } from '../recipe/store.ts';
import { fluorescentDyes, type Grounding, groundingOf } from './basis.ts';
import type { PredictionDesk } from './desk.ts';
import { expectedForm, shownScope } from './form.ts';
import { bathKind, bathValue } from './known.ts';
import {
  doubtsAbout,
  REAL_ERRORS,
  sayDelta,
  sayLearned,
  sayMixtures,
  sayNotYet,
  sayPercent,
  saySwatchesLeftOut,
  sayUnknownDyes,
} from './said.ts';
import { readScope } from './scope.ts';

const NEAREST = 3;

export type ExpectedPageData = Awaited<ReturnType<typeof expectedShadePage>>['data'];

/** The shade that a recipe is expected to give on a cloth, and which named shades come near it. */
export async function expectedShadePage(reader: Reader, desk: PredictionDesk, typed: Typed) {
  const recipeId = queryNumber(typed, 'recipe_id');
  const stored = recipeId === null ? null : readRecipe(reader, recipeId);
  const bath = stored ? bathValue(bathKind(stored.recipe.dyeClass, stored.recipe.method)) : '';
  const scope = readScope(reader, { ...typed, ...(stored ? { bath } : {}) });
  const isOfBath = scope?.bath && bathValue(scope.bath) === bath;
  const form = expectedForm(reader, scope);
  const depthRead = form.shape.depth.safeParse(typed.depth ?? '');
  const { recipe_id, depth, cloth_id, ground_id, observer } = drawFields(
    form.shape,
    shownScope(typed, scope),
  );
  const grounded = scope && stored && isOfBath ? groundingOf(reader, scope) : null;
  const dyes = stored ? dyesAt(stored, depthRead.data ?? null) : [];
  const unknown = grounded?.ok ? unknownIn(grounded.grounding, dyes) : [];
  const shown =
    stored && grounded?.ok && unknown.length === 0 && dyes.length > 0
      ? await showExpected(reader, desk, grounded.grounding, dyes)
      : null;
  const data = {
    action: `${FIRST_RECIPE}/expected`,
    fields: [recipe_id, depth, cloth_id],
    more: [ground_id, observer],
    recipe: stored
      ? { name: `${stored.name}, version ${stored.version}`, href: recipePath(stored.id) }
      : null,
    dyes: dyes.map(({ name, percent }) => `${sayPercent(percent)} ${name}`).join(', '),
    cloth: scope?.cloth.name ?? '',
    /** why nothing is predicted; null where something is, or nothing is asked yet */
    notYet:
      !stored || !scope
        ? null
        : !isOfBath
          ? {
              kind: 'stop' as const,
              label: 'Not yet',
              text: `No swatch of ${scope.cloth.name} is dyed with this class of dye.`,
              more: [],
              link: { href: knownSwatchesPath(scope.cloth.id), text: 'Record swatches' },
            }
          : grounded && !grounded.ok
            ? sayNotYet(grounded.notYet, scope)
            : unknown.length > 0
              ? {
                  kind: 'stop' as const,
                  label: 'Not yet',
                  text: sayUnknownDyes(unknown, fluorescentDyes(reader), scope.cloth.name),
                  more: [],
                  link: { href: knownSwatchesPath(scope.cloth.id), text: 'Record swatches' },
                }
              : null,
    doubts: shown && scope && grounded?.ok ? doubtsAbout(grounded.grounding, scope) : [],
    shown,
    learned: shown && scope && grounded?.ok ? sayLearned(grounded.grounding, scope) : '',
    leftOut: shown && grounded?.ok ? saySwatchesLeftOut(grounded.grounding.leftOut) : [],
    realErrors: REAL_ERRORS,
  };
  return {
    view: 'dye-bench/first-recipe/expected',
    data,
    title: 'Shade to expect',
    room: 'dye-bench',
    problems: depthRead.success
      ? []
      : depthRead.error.issues.map(({ message }) => ({ field: 'depth', message })),
  } satisfies Page;
}

/** The dyes of a recipe in percent, at a depth in thousandths of a percent where one is asked for. */
export function dyesAt({ recipe }: Pick<StoredRecipe, 'recipe'>, depth: number | null) {
  const whole = depthOwfMilli(recipe);
  if (whole === 0) return [];
  const proportions = recipe.dyes.map(({ name, owfMilli }) => ({ name, weight: owfMilli }));
  return dyesAtDepth(proportions, depth || whole).map(({ name, owfMilli }) => ({
    name,
    percent: owfMilli / 1000,
  }));
}

/** Dyes that nothing is known of on the cloth. */
export function unknownIn(
  { basis, usable }: Grounding,
  dyes: readonly { readonly name: string }[],
): string[] {
  const known = usable.map((dye) => basis.from.dyes[dye]);
  return dyes.flatMap(({ name }) => (known.includes(name) ? [] : [name]));
}

async function showExpected(
  reader: Reader,
  desk: PredictionDesk,
  grounding: Grounding,
  dyes: readonly { readonly name: string; readonly percent: number }[],
) {
  const { from } = grounding.basis;
  const predictor = await desk.learn(grounding.basis);
  const amounts = amountsOf(dyes, from.dyes);
  const lab = predictor.shadeOf(amounts);
  const hand = {
    usable: grounding.usable,
    deepest: from.deepest,
    pricePerPercent: from.dyes.map(() => null),
  };
  const { apartInIncandescent, beyondDeepest } = firstRecipeOf(
    predictor,
    { lab, uncertainty: 0 },
    hand,
    amounts,
  );
  const beyond = beyondDeepest.flatMap((dye) => from.dyes[dye] ?? []);
  return {
    chip: { colour: labToScreen(lab), name: 'Expected', large: true },
    lab: `${sayLabTenths(lab)} (D65, ${from.observer}°)`,
    within: sayDelta(predictor.withinOf(amounts)),
    how: sayMixtures(predictor.mixtures, predictor.isRough),
    lamp: sayDelta(apartInIncandescent),
    beyond: beyond.length === 0 ? '' : `More ${listed(beyond)} than any swatch has.`,
    nearest: nearestShades(reader, lab, from.observer),
  };
}

/** The dyed shades that come nearest, those in other light left out. */
function nearestShades(reader: Reader, lab: Lab, observer: Observer) {
  const rows = reader.all(
    reader.db
      .selectFrom('shade')
      .selectAll()
      .where('ground', '=', 0)
      .where('lab_l', 'is not', null)
      .where('lab_illuminant', '=', 'D65'),
  );
  return rows
    .flatMap(({ id, name, lab_l: l, lab_a: a, lab_b: b, lab_observer }) => {
      if (l === null || a === null || b === null) return [];
      const own = { l, a, b };
      // Turned only where it counts: most lie far off.
      if (deltaE00(own, lab) > 15) return [];
      const difference = deltaE00(labForObserver(own, lab_observer, observer), lab);
      return [{ name, href: shadePath(id), colour: labToScreen(own), difference }];
    })
    .sort((one, other) => one.difference - other.difference)
    .slice(0, NEAREST)
    .map(({ name, href, colour, difference }) => ({
      chip: { colour, name, href },
      difference: sayDelta(difference),
    }));
}

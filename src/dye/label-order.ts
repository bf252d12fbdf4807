/**
 * The order of work of what is worked by its label, where it is no dye bath like others: stripping baths, cold pad-batch,
 * paints and prints, transfers. Heats and times are those of the recipe; what stands around them is common practice.
 */

import { groupsOf } from './auxiliaries.ts';
import type { ChemicalGroup } from './chemical-group.ts';
import { type Fixing, isLabelClass, labelClassFacts } from './label-class.ts';
import type { Dose } from './order-facts.ts';
import { markOf, type Recipe, type RecipeAuxiliary } from './recipe.ts';
import { STRIP_METHODS } from './strip.ts';
import { type DraftStep, draftStep, type WorkKind } from './work-step.ts';

const WARM_C = 40;
/** Degrees a minute that a stripping bath is heated and cooled by (common practice). */
const RATE_C = 2;
const HANDLED_C = 60;

/** Whether a recipe has an order of work of its own here; a union dye is worked like any dye bath. */
export function hasOwnOrder({ dyeClass, fixing }: Recipe): boolean {
  if (!isLabelClass(dyeClass)) return false;
  return dyeClass === 'strip' || labelClassFacts(dyeClass).applied !== 'bath' || fixing !== undefined;
}

/** The steps of such a recipe. Throws RangeError where `hasOwnOrder` is false. */
export function labelSteps(recipe: Recipe): readonly DraftStep[] {
  const { dyeClass, fixing } = recipe;
  if (!hasOwnOrder(recipe) || !isLabelClass(dyeClass)) throw new RangeError(`${dyeClass} has a bath`);
  const { applied } = labelClassFacts(dyeClass);
  const fixed = fixing ? [fixStep(fixing)] : [];
  if (dyeClass === 'strip') return stripSteps(recipe);
  switch (applied) {
    case 'bath':
      return [washed(), ...bathSteps(recipe), rinse(), dry(), ...fixed];
    case 'pad':
      return [washed(), mixed(recipe), padded(recipe), batched(recipe), rinse(), dry()];
    case 'paint': {
      const washes = dyeClass === 'pigment' ? [] : [rinse(), dry('dry-2')];
      return [washed(), mixed(recipe), painted(recipe), dry('dry', recipe.holdMinutes), ...fixed, ...washes];
    }
    case 'paper':
      return [washed(), ...fixed];
  }
}

function step(
  key: string,
  kind: WorkKind,
  title: string,
  minutes: number,
  says: string,
  more: Partial<DraftStep> = {},
): DraftStep {
  return { ...draftStep(kind, title, minutes, says), key, ...more };
}

const REDUCERS_AND_OXIDISERS: readonly ChemicalGroup[] = [
  'hydros',
  'thiourea-dioxide',
  'hypochlorite',
  'peroxide',
];

function goesInLast({ kind, form }: RecipeAuxiliary): boolean {
  return (groupsOf(kind, form) ?? []).some((group) => REDUCERS_AND_OXIDISERS.includes(group));
}

function stripSteps(recipe: Recipe): DraftStep[] {
  const { temperatureC, holdMinutes, method, auxiliaries, dyes } = recipe;
  const last = auxiliaries.filter(goesInLast).map(({ name }) => name);
  const first = [
    ...dyes.map(({ name }) => name),
    ...auxiliaries.filter((each) => !goesInLast(each)).map(({ name }) => name),
  ];
  const found = STRIP_METHODS.find(({ name }) => name === method);
  const setC = Math.min(WARM_C, temperatureC);
  const mark = markOf(recipe, 'holdMinutes');
  return [
    step(
      'prepare',
      'prepare',
      'Wet the cloth out',
      15,
      'Wet it through in warm water: dry spots strip unevenly.',
      {
        fromC: setC,
        toC: setC,
      },
    ),
    step('set-1', 'set', `Set the bath at ${setC} °C`, 10, found?.how ?? 'By the label.', {
      fromC: setC,
      toC: setC,
      adds: first,
    }),
    ...(last.length === 0
      ? []
      : [
          step(
            'add-2',
            'add',
            `Add ${last.join(' and ')}`,
            5,
            'Powder into the bath, a little at a time; the cloth goes in after it.',
            {
              fromC: setC,
              toC: setC,
              adds: last,
            },
          ),
        ]),
    ...heated(setC, temperatureC),
    step(
      'hold-4',
      'hold',
      `Hold ${temperatureC} °C`,
      holdMinutes,
      'The cloth under the liquor. Look in the last minutes, and stop in time.',
      {
        fromC: temperatureC,
        toC: temperatureC,
        mark,
      },
    ),
    ...cooled(temperatureC),
    step('rinse', 'rinse', 'Rinse three times', 20, 'Drain, and rinse three times in fresh water.'),
    ...lastRinse(found?.lastRinse ?? null),
    dry(),
  ];
}

function heated(fromC: number, toC: number): DraftStep[] {
  if (toC <= fromC) return [];
  const minutes = Math.ceil((toC - fromC) / RATE_C);
  return [
    step('heat-3', 'heat', `Heat to ${toC} °C`, minutes, `Heat at ${RATE_C} °C a minute.`, { fromC, toC }),
  ];
}

function cooled(fromC: number): DraftStep[] {
  if (fromC <= HANDLED_C) return [];
  const minutes = Math.ceil((fromC - HANDLED_C) / RATE_C);
  const says = 'Let it cool in the bath, lid on. Lift the lid away from you.';
  return [step('cool-5', 'cool', `Cool to ${HANDLED_C} °C`, minutes, says, { fromC, toC: HANDLED_C })];
}

function lastRinse(taken: Dose | null): DraftStep[] {
  if (!taken) return [];
  const says =
    'A fresh bath, then rinse until the water is neutral. Never into the bath before it, nor into wet cloth that was not rinsed.';
  return [step('clear', 'clear', `A last bath with ${taken.name}`, 10, says, { doses: [taken] })];
}

function bathSteps(recipe: Recipe): DraftStep[] {
  const { temperatureC, holdMinutes, dyes, auxiliaries } = recipe;
  const setC = Math.min(WARM_C, temperatureC);
  const adds = [...dyes, ...auxiliaries].map(({ name }) => name);
  return [
    step('set-1', 'set', `Set the bath at ${setC} °C`, 10, 'In the order of the label.', {
      fromC: setC,
      toC: setC,
      adds,
    }),
    ...heated(setC, temperatureC),
    step('hold-4', 'hold', `Hold ${temperatureC} °C`, holdMinutes, 'For as long as the label says.', {
      fromC: temperatureC,
      toC: temperatureC,
      mark: markOf(recipe, 'holdMinutes'),
    }),
    ...cooled(temperatureC),
  ];
}

function washed(): DraftStep {
  const says = 'Washed free of finish, dried and ironed flat: finish keeps dye and paint out.';
  return step('prepare', 'prepare', 'Wash the cloth', 60, says, { fromC: WARM_C, toC: WARM_C });
}

function mixed({ dyes, auxiliaries }: Recipe): DraftStep {
  const adds = [...dyes, ...auxiliaries].map(({ name }) => name);
  const says = 'Mix in the order of the label, and strain it. What has dye and alkali in it is used at once.';
  return step('set-1', 'set', 'Mix it', 20, says, { adds });
}

function padded({ temperatureC }: Recipe): DraftStep {
  const says =
    'Through the liquor and the rollers at one speed, open and without folds; weigh for the pick-up.';
  return step('add-2', 'add', 'Pad the cloth', 30, says, { fromC: temperatureC, toC: temperatureC });
}

function batched(recipe: Recipe): DraftStep {
  const { temperatureC, holdMinutes } = recipe;
  const says =
    'Roll it up, wrap it airtight, and turn the roll now and then so that the liquor does not settle.';
  const at = { fromC: temperatureC, toC: temperatureC, mark: markOf(recipe, 'holdMinutes') };
  return step('hold-3', 'hold', `Batch it at ${temperatureC} °C`, holdMinutes, says, at);
}

function painted({ temperatureC }: Recipe): DraftStep {
  const says = 'Paint, print or spray it, the cloth stretched flat. Note how: it is what must be repeated.';
  return step('add-2', 'add', 'Apply it', 60, says, { fromC: temperatureC, toC: temperatureC });
}

const FIX_TITLES = { steam: 'Steam', 'dry heat': 'Cure', press: 'Press' } as const;
const FIX_SAYS = {
  steam:
    'Rolled in clean paper, no drop on the cloth. Never let the steamer boil dry: set an alarm. Open it away from you.',
  'dry heat':
    'The air moving: what leaves the cloth is not breathed. Look for scorching on a piece of it first.',
  press: 'Firm and even, paper against paper. Fumes off: extraction on. Let it cool before it is moved.',
} as const;

function fixStep({ how, temperatureC, seconds }: Fixing): DraftStep {
  const title = `${FIX_TITLES[how]} at ${temperatureC} °C for ${saySeconds(seconds)}`;
  return step('fix', 'fix', title, Math.ceil(seconds / 60), FIX_SAYS[how], {
    fromC: temperatureC,
    toC: temperatureC,
    mark: { basis: 'label', source: "the maker's label" },
  });
}

/** "45 s", "4 min 30 s", "1 h". */
export function saySeconds(seconds: number): string {
  const [hours, minutes, rest] = [
    Math.floor(seconds / 3600),
    Math.floor((seconds % 3600) / 60),
    seconds % 60,
  ];
  const parts = [hours && `${hours} h`, minutes && `${minutes} min`, rest && `${rest} s`];
  return parts.filter((part) => part !== 0).join(' ');
}

function rinse(): DraftStep {
  return step(
    'rinse',
    'rinse',
    'Rinse',
    30,
    'Cold first, then warmer, until the water stays clear; wash as the label says.',
  );
}

function dry(key = 'dry', minutes = 120): DraftStep {
  const says =
    'Press water out without wringing; dry flat or over a wide rail, away from flame and hot plates.';
  return step(key, 'dry', 'Dry', minutes, says);
}

import { finishBatch, finishForm } from '../server/dye-bench/batch/finish.ts';
import { batchPlanForm, planBatch } from '../server/dye-bench/batch/plan.ts';
import { readBatch, readSentLengths } from '../server/dye-bench/batch/store.ts';
import { startBatch } from '../server/dye-bench/batch/verbs.ts';
import { newRecipeForm, versionForm } from '../server/dye-bench/recipe/form.ts';
import { fillIn, offerFor } from '../server/dye-bench/recipe/offer.ts';
import { keepNewRecipe, keepNewVersion } from '../server/dye-bench/recipe/verbs.ts';
import { VESSEL } from '../server/dye-bench/vessels/form.ts';
import { addVessel } from '../server/dye-bench/vessels/verbs.ts';
import { dayOf } from '../server/kit/when.ts';
import { addWaterTest, WATER } from '../server/setup/water/form.ts';
import type { Hand } from './hand.ts';

/** The vessels of the dye bench and the recipes that are known by heart. */
export function fitOutBench(hand: Hand): void {
  for (const [at, vessel] of VESSELS.entries()) {
    hand.fillsIn(hand.before(40, `09:${10 + at}`), 'Tamsin', vessel, {
      schema: () => VESSEL,
      write: addVessel,
    });
  }
  for (const [at, { daysAgo, ...test }] of WATER_TESTS.entries()) {
    const typed = { ...test, on_day: dayOf(hand.before(daysAgo, '12:00')) };
    hand.fillsIn(hand.before(40, `09:${40 + at}`), 'Tamsin', typed, {
      schema: () => WATER,
      write: (tx, form, _, asTyped) => addWaterTest(tx, form, asTyped),
    });
  }
  for (const [at, recipe] of RECIPES.entries()) {
    keepRecipe(hand, hand.before(40, `10:${10 + at * 12}`), recipe);
  }
}

/** The harbour town's water, once by the report of its works and once by the workroom's own drops. */
const WATER_TESTS = [
  {
    daysAgo: 90,
    alkalinity: '8 °dH',
    hardness: '11 °dH',
    ph: '7.6',
    source: 'report of the town water works, invented',
  },
  { daysAgo: 40, alkalinity: '130', hardness: '190', ph: '7.7', source: 'drop test at the bench tap' },
] as const;

interface Recipe {
  readonly shade: string;
  readonly fibre: string;
  readonly dyeClass: string;
  readonly depth: 'pale' | 'medium' | 'dark';
  readonly dyes: Readonly<Record<string, string>>;
  readonly shrinkage: string;
  readonly note: string;
}

const nameOf = ({ shade, fibre }: Recipe) => `${shade} on ${fibre}`;

export function keepRecipe(hand: Hand, when: string, recipe: Recipe): void {
  const asked = { name: nameOf(recipe), ...typedRecipe(hand, recipe) };
  hand.fillsIn(when, 'Tamsin', asked, {
    schema: () => newRecipeForm(hand.book),
    write: (tx, form, _, typed) => keepNewRecipe(tx, form, typed),
  });
}

/** A recipe is never changed: what was learned at the pot makes the next version. */
export function keepBetterRecipe(hand: Hand, when: string, dyes: Recipe['dyes'], note: string): void {
  const recipe = { ...DUSK_VIOLET, dyes, note };
  const { shade_id: _, fibre: __, ...asked } = typedRecipe(hand, recipe);
  hand.fillsIn(when, 'Tamsin', asked, {
    schema: () => versionForm(hand.book),
    write: (tx, form, _, typed) => keepNewVersion(tx, Number(hand.id('recipe', nameOf(recipe))), form, typed),
  });
}

/** As the form is filled in by its own offer, with the workroom's dyes put in. */
function typedRecipe(hand: Hand, recipe: Recipe): Record<string, string> {
  const { shade, fibre, dyeClass, depth, dyes, shrinkage, note } = recipe;
  const typed: Record<string, string> = {
    shade_id: hand.id('shade', shade),
    fibre,
    dye_class: dyeClass,
    depth,
    shrinkage,
    note,
  };
  for (const [row, [name, owf]] of Object.entries(dyes).entries()) {
    typed[`dyes.${row}.name`] = name;
    typed[`dyes.${row}.owf`] = owf;
  }
  return { ...fillIn(typed, offerFor(typed)) };
}

/** Plans a batch from lengths of pieces. Gives its code. */
export function plan(
  hand: Hand,
  when: string,
  batch: {
    readonly who: string;
    readonly recipe: string;
    readonly vessel: string;
    readonly lengths: Readonly<Record<string, string>>;
    readonly due?: string;
    readonly note?: string;
  },
): string {
  const asked = {
    recipe_id: hand.id('recipe', batch.recipe),
    vessel_id: hand.id('vessel', batch.vessel),
    pieces: Object.entries(batch.lengths).map(([piece, length]) => ({ piece, length })),
    due_on: batch.due ?? '',
    note: batch.note ?? '',
  };
  const key = hand.fillsIn(when, batch.who, asked, {
    schema: (asker) => batchPlanForm(hand.book, asker),
    write: (tx, form, { units }) => planBatch(tx, form, units),
  });
  return hand.book.answerOf(key)?.location.split('/').at(-1) ?? '';
}

export function start(hand: Hand, when: string, who: string, code: string): void {
  hand.writes(when, who, { code }, (tx, { units }) => startBatch(tx, code, units));
}

/** Measures what came back, in the order in which it was sent. */
export function finish(
  hand: Hand,
  when: string,
  batch: {
    readonly who: string;
    readonly code: string;
    readonly measured: readonly string[];
    readonly place: string;
  },
): void {
  const sent = readSentLengths(hand.book, readBatch(hand.book, batch.code).id);
  const pieces = batch.measured.map((length, at) => ({
    sent_id: String(sent[at]?.entryId ?? ''),
    length,
    place_id: hand.id('place', batch.place),
  }));
  hand.fillsIn(
    when,
    batch.who,
    { pieces },
    {
      schema: (asker) => finishForm(hand.book, asker),
      write: (tx, form, asker) => finishBatch(tx, batch.code, form, asker),
    },
  );
}

const VESSELS = [
  {
    name: 'Large steel pot',
    volume: '30',
    material: 'stainless steel',
    empty: '3.4',
    heater_kind: 'induction',
    heater: '3.5 kW',
    note: 'Two to lift it.',
  },
  {
    name: 'Enamel pot',
    volume: '12',
    material: 'enamelled steel',
    heater_kind: 'electric',
    heater: '1500 W',
    note: 'Chipped at one ear; the inside is whole.',
  },
  {
    name: 'Small steel pot',
    volume: '5',
    pots: '3',
    material: 'stainless steel',
    heater_kind: 'electric',
    heater: '1500 W',
    note: '',
  },
  { name: 'Beaker for swatches', volume: '800 ml', material: 'glass', note: '' },
];

const INVENTED = 'The dyes of this recipe are invented; no such dye is sold.';

const DUSK_VIOLET: Recipe = {
  shade: 'Dusk violet',
  fibre: 'nylon',
  dyeClass: 'acid-milling',
  depth: 'dark',
  dyes: { 'Heather violet M (invented)': '1.2', 'Harbour blue M (invented)': '0.4' },
  shrinkage: '2',
  note: INVENTED,
};

const RECIPES: readonly Recipe[] = [
  {
    shade: 'Deep tide',
    fibre: 'nylon',
    dyeClass: 'acid-levelling',
    depth: 'medium',
    dyes: { 'Harbour blue A (invented)': '1.1', 'Kelp green A (invented)': '0.3' },
    shrinkage: '2.5',
    note: INVENTED,
  },
  DUSK_VIOLET,
  {
    shade: 'Ember',
    fibre: 'polyester',
    dyeClass: 'disperse',
    depth: 'pale',
    dyes: { 'Flare orange D (invented)': '0.3', 'Brick red D (invented)': '0.15' },
    shrinkage: '1',
    note: `${INVENTED} At the boil without a carrier it is a tint, lighter than the swatch.`,
  },
  {
    shade: 'Rope',
    fibre: 'cotton',
    dyeClass: 'reactive',
    depth: 'pale',
    dyes: { 'Straw yellow R (invented)': '0.35', 'Bark brown R (invented)': '0.22' },
    shrinkage: '4',
    note: INVENTED,
  },
];

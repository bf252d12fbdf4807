/**
 * The order of work at the pot: scour, the ramp of the bath with what goes in at each step, rinse, clear, dry; and
 * the steps that an addition puts in between. Every step has minutes, so that a clock can be laid over it.
 */

import { type AfterBath, afterBaths } from './after-baths.ts';
import { liquidVolumeUl } from './auxiliaries.ts';
import { type Bath, type BathLine, massUgOf } from './bath.ts';
import { chemicalsOf, chemicalsOfAuxiliaries, chemicalsOfDoses } from './bath-chemicals.ts';
import type { Chemical } from './chemical-group.ts';
import { clashesBetween, clashesIn, sayBetween, sayOrder } from './clash.ts';
import { type ClothState, finishesFor, sayBeforeScour, scourAfter } from './cloth-finish.ts';
import { dissolveSteps, weighStep } from './dissolving.ts';
import { heatLimitFor } from './dye-facts.ts';
import type { Content } from './fibre.ts';
import { hasOwnOrder, labelSteps } from './label-order.ts';
import { type SideBath, scourFor } from './order-facts.ts';
import { type RampStep, rampSteps } from './ramp.ts';
import { contentInBath, type Recipe } from './recipe.ts';
import { shareLine } from './vessel.ts';
import {
  COLD_C,
  type DraftStep,
  draftStep,
  type WorkAdd,
  type WorkKind,
  type WorkStep,
} from './work-step.ts';

/** How long drying takes in the plan (common practice). */
const DRY_MINUTES = 120;

/**
 * The steps of one bath of a recipe on a cloth, in order. Throws RangeError when the content is empty.
 *
 * The ramp is that of `rampSteps`; what stands around it is by fibre and class (see order-facts and after-baths). `cloth`
 * is what is known of its finish.
 */
export function orderOfWork(recipe: Recipe, cloth: Content, state: ClothState = {}): readonly WorkStep[] {
  const content = contentInBath(cloth, recipe);
  const inBath = chemicalsOf(recipe);
  const scour = scourAfter(scourFor(content), state, content);
  const afters = afterBaths(recipe, content);
  const limitC = heatLimitFor(content).limitC;
  if (hasOwnOrder(recipe))
    return numbered(withWarnings(withOrders(labelSteps(recipe), inBath), recipe, inBath));
  const drafts: DraftStep[] = [
    also(sideStep('prepare', 'Scour the cloth', scour, limitC), sayBeforeScour(finishesFor(state, content))),
    weighStep(recipe),
    ...dissolveSteps(recipe),
    ...withOrders(rampSteps(recipe, content).map(rampStep), inBath),
    ...afters.map((each, at) => afterStep(each, at, afters, limitC)),
    draftStep('dry', 'Dry', DRY_MINUTES, DRY_SAYS),
  ];
  return numbered(withWarnings(drafts, recipe, inBath));
}

const DRY_SAYS =
  'Press water out without wringing; dry flat or over a wide rail, away from flame and hot plates.';

function afterStep(after: AfterBath, at: number, afters: readonly AfterBath[], limitC: number): DraftStep {
  const place = afters.slice(0, at).filter(({ kind }) => kind === after.kind).length;
  const key = place === 0 ? after.kind : `${after.kind}-${place + 1}`;
  const hot = after.toC > COLD_C;
  const made = sideStep(after.kind, after.title, after, limitC);
  return { ...made, key, adds: after.adds, title: hot ? made.title : after.title };
}

/** The parts of what goes in at several steps, such as salt in thirds or the caustic soda of a vat. */
function numbered(drafts: readonly DraftStep[]): readonly WorkStep[] {
  return drafts.map((step, place) => ({
    ...step,
    adds: step.adds.map((name): WorkAdd => {
      const naming = drafts.flatMap(({ adds }, at) => (adds.includes(name) ? [at] : []));
      return { name, part: naming.indexOf(place) + 1, of: naming.length };
    }),
  }));
}

/** Between two baths, what must be out of the cloth before the second: told where the first is let go. */
function withWarnings(
  drafts: readonly DraftStep[],
  recipe: Recipe,
  inBath: readonly Chemical[],
): readonly DraftStep[] {
  const baths = drafts.flatMap((step, place) => {
    const chemicals =
      step.kind === 'prepare' || AFTER.includes(step.kind)
        ? chemicalsOfStep(step, recipe)
        : step.kind === 'set'
          ? inBath
          : [];
    return chemicals.length > 0 ? [{ place, chemicals }] : [];
  });
  const told = new Map<number, string>();
  for (const [at, { place, chemicals }] of baths.entries()) {
    const before = baths[at - 1];
    if (!before) continue;
    // A rinse between the two is where it is done, or one with something in its last water; else the end of the first.
    const rinse = drafts.findIndex(
      ({ kind }, each) => kind === 'rinse' && each > before.place && each <= place,
    );
    const says = sayBetween(clashesBetween(before.chemicals, chemicals));
    if (says !== '') told.set(rinse < 0 ? before.place : rinse, says);
  }
  return drafts.map((step, place) => also(step, told.get(place) ?? ''));
}

const AFTER: readonly WorkKind[] = ['rinse', 'oxidise', 'clear', 'fix'];

/** What a step of its own brings to its bath: its doses, and what of the recipe goes in there. */
export function chemicalsOfStep(
  { doses, adds }: Pick<WorkStep, 'doses'> & { readonly adds: readonly string[] },
  recipe: Recipe,
): readonly Chemical[] {
  const own = recipe.auxiliaries.filter(({ name }) => adds.includes(name));
  return [...chemicalsOfDoses(doses), ...chemicalsOfAuxiliaries(own, recipe.liquorRatioMilli)];
}

/** What the last bath of some work held: a bath after the dye bath, or that itself where there was none. */
export function lastChemicals(recipe: Recipe, steps: readonly WorkStep[]): readonly Chemical[] {
  const after = steps
    .filter(({ kind }) => AFTER.includes(kind))
    .map((step) => chemicalsOfStep({ ...step, adds: step.adds.map(({ name }) => name) }, recipe))
    .findLast((chemicals) => chemicals.length > 0);
  return after ?? chemicalsOf(recipe);
}

/** The steps of a bath with the orders to keep in it, each at the last step that adds what it is about. */
function withOrders(steps: readonly DraftStep[], chemicals: readonly Chemical[]): readonly DraftStep[] {
  const orders = clashesIn(chemicals).filter(({ clash }) => clash.action === 'order');
  const placed = orders.map((found) => {
    const names = [found.one.name, found.other?.name];
    const place = steps.findLastIndex(({ adds }) => adds.some((name) => names.includes(name)));
    // What a class of dye brings itself is in the bath when it is set.
    return { place: Math.max(place, 0), says: sayOrder(found) };
  });
  return steps.map((step, at) =>
    placed.filter(({ place }) => place === at).reduce((told, { says }) => also(told, says), step),
  );
}

function also(step: DraftStep, says: string): DraftStep {
  return says === '' ? step : { ...step, says: `${step.says} ${says}` };
}

function rampStep(step: RampStep, place: number, ramp: readonly RampStep[]): DraftStep {
  const { kind, toC, minutes, says, mark } = step;
  const fromC = ramp[place - 1]?.toC ?? toC;
  // The dye was weighed before: it goes in now, and is not weighed again.
  const adds = step.dyes === true ? [] : step.adds;
  return {
    key: `${kind}-${place + 1}`,
    kind,
    title: titleOf(step, fromC),
    says,
    minutes,
    fromC,
    toC,
    adds,
    doses: [],
    extra: [],
    mark,
  };
}

function titleOf({ kind, toC, adds }: RampStep, fromC: number): string {
  switch (kind) {
    case 'set':
      return `Set the bath at ${toC} °C`;
    case 'add':
      return adds.length === 1 ? `Add ${adds[0]}` : `Add at ${fromC} °C`;
    case 'heat':
      return fromC === toC ? `Wait at ${toC} °C` : `Heat to ${toC} °C`;
    case 'hold':
      return `Hold ${toC} °C`;
    case 'cool':
      return `Cool to ${toC} °C`;
  }
}

function sideStep(kind: WorkKind, title: string, side: SideBath, limitC: number): DraftStep {
  const toC = Math.min(side.toC, limitC);
  const { says, minutes, doses, mark } = side;
  const orders = clashesIn(chemicalsOfDoses(doses)).filter(({ clash }) => clash.action === 'order');
  const told = [says, ...orders.map(sayOrder)].join(' ');
  return { ...draftStep(kind, `${title} at ${toC} °C`, minutes, told, mark), fromC: toC, toC, doses };
}

/** One thing to weigh at a step. `volumeUl` is there where it is measured as a liquid or a stock. */
export interface Weighing {
  /** the line of the bath; -1 for what is no line of it */
  readonly line: number;
  readonly name: string;
  readonly part: BathLine['part'] | 'addition' | 'side bath';
  readonly massMg: number;
  readonly massUg: number;
  readonly volumeUl: number | null;
  /** grams in 100 mL of the stock that is measured instead, in thousandths; null where the thing itself is weighed */
  readonly stockMgPer100Ml: number | null;
  /** "part 1 of 3"; '' for the whole */
  readonly share: string;
}

/** What is weighed at a step for one bath, in the order of the card: amounts are those of that bath. */
export function weighingsAt(step: WorkStep, bath: Bath): readonly Weighing[] {
  const lines = bath.lines.flatMap((whole, line): Weighing[] => {
    const add = step.adds.find(({ name }) => name === whole.name);
    if (!add) return [];
    const part = shareLine(whole, new Array<number>(add.of).fill(1))[add.part - 1] ?? whole;
    return [weighing(part, line, add.of === 1 ? '' : `part ${add.part} of ${add.of}`)];
  });
  const side = step.doses.map(({ kind, form, name, mgPerLitre }) => {
    const massMg = Math.round((bath.volumeUl * mgPerLitre) / 1_000_000);
    const volumeUl = form === undefined ? undefined : liquidVolumeUl(kind, form, massMg);
    return weighing({ name, part: 'side bath', massMg, ...(volumeUl === undefined ? {} : { volumeUl }) });
  });
  const extra = step.extra.map((dye) => weighing({ ...dye, part: 'addition' }));
  return [...lines, ...side, ...extra];
}

/** Everything that a bath takes, whatever the step. */
export function weighingsOf(bath: Bath): readonly Weighing[] {
  return bath.lines.map((line, place) => weighing(line, place));
}

type Weighed = Pick<Weighing, 'name' | 'part' | 'massMg'> &
  Pick<BathLine, 'massUg' | 'volumeUl' | 'stockMgPer100Ml'>;

function weighing(weighed: Weighed, line = -1, share = ''): Weighing {
  const { name, part, massMg, volumeUl = null, stockMgPer100Ml = null } = weighed;
  return { line, name, part, massMg, massUg: massUgOf(weighed), volumeUl, stockMgPer100Ml, share };
}

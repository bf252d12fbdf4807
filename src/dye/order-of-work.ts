/**
 * The order of work at the pot: scour, the ramp of the bath with what goes in at each step, rinse, clear, dry; and
 * the steps that an addition puts in between. Every step has minutes, so that a clock can be laid over it.
 */

import { COMMON_PRACTICE, type Provenance } from '../quantity/provenance.ts';
import { type Bath, type BathLine, massUgOf } from './bath.ts';
import { chemicalsOf, chemicalsOfDoses } from './bath-chemicals.ts';
import type { Chemical } from './chemical-group.ts';
import { clashesBetween, clashesIn, sayBetween, sayOrder } from './clash.ts';
import { heatLimitFor } from './dye-facts.ts';
import type { Content } from './fibre.ts';
import { clearFor, type Dose, type SideBath, scourFor } from './order-facts.ts';
import { type RampStep, rampSteps } from './ramp.ts';
import type { Recipe } from './recipe.ts';
import { shareLine } from './vessel.ts';

export type WorkKind = 'prepare' | 'set' | 'add' | 'heat' | 'hold' | 'cool' | 'rinse' | 'clear' | 'dry';

/** What goes in when a step begins: a line of the bath by name, or one of its equal parts. */
export interface WorkAdd {
  readonly name: string;
  /** the part that is due now, from 1, of so many */
  readonly part: number;
  readonly of: number;
}

/** One step. Temperatures in °C: where the bath stands when the step begins and when it ends. */
export interface WorkStep {
  /** names the step in the log; it stays when additions come in between */
  readonly key: string;
  readonly kind: WorkKind;
  readonly title: string;
  readonly says: string;
  readonly minutes: number;
  readonly fromC: number;
  readonly toC: number;
  readonly adds: readonly WorkAdd[];
  /** what a bath of its own takes, by its litres */
  readonly doses: readonly Dose[];
  /** the dyes of an addition, weighed for one bath */
  readonly extra: readonly { readonly name: string; readonly massMg: number }[];
  readonly mark: Provenance;
}

/** How long rinsing and drying take in the plan (common practice). */
const RINSE_MINUTES = 15;
const DRY_MINUTES = 120;
/** Room temperature, in °C: of rinsing and drying (common practice). */
const COLD_C = 20;

/**
 * The steps of one bath of a recipe on a cloth, in order. Throws RangeError when the content is empty.
 *
 * The ramp is that of `rampSteps`; what stands around it is by fibre and class (see order-facts).
 */
export function orderOfWork(recipe: Recipe, content: Content): readonly WorkStep[] {
  const ramp = rampSteps(recipe, content);
  const clear = clearFor(recipe.dyeClass, recipe.dyes, content);
  const scour = scourFor(content);
  const limitC = heatLimitFor(content).limitC;
  const inBath = chemicalsOf(recipe);
  const afterScour = sayBetween(clashesBetween(chemicalsOfDoses(scour.doses), inBath));
  const beforeClear = clear ? sayBetween(clashesBetween(inBath, chemicalsOfDoses(clear.doses))) : '';
  return [
    also(sideStep('prepare', 'Scour the cloth', scour, limitC), afterScour),
    ...withOrders(
      ramp.map((step, place) => rampStep(step, place, ramp)),
      inBath,
    ),
    also(
      workStep('rinse', 'Rinse', RINSE_MINUTES, 'Warm first, then colder, until the water stays clear.'),
      beforeClear,
    ),
    ...(clear ? [sideStep('clear', 'Clear loose dye', clear, limitC)] : []),
    workStep(
      'dry',
      'Dry',
      DRY_MINUTES,
      'Press water out without wringing; dry flat or over a wide rail, away from flame and hot plates.',
    ),
  ];
}

/** The steps of a bath with the orders to keep in it, each at the last step that adds what it is about. */
function withOrders(steps: readonly WorkStep[], chemicals: readonly Chemical[]): readonly WorkStep[] {
  const orders = clashesIn(chemicals).filter(({ clash }) => clash.action === 'order');
  const placed = orders.map((found) => {
    const names = [found.one.name, found.other?.name];
    const place = steps.findLastIndex(({ adds }) => adds.some(({ name }) => names.includes(name)));
    // What a class of dye brings itself is in the bath when it is set.
    return { place: Math.max(place, 0), says: sayOrder(found) };
  });
  return steps.map((step, at) =>
    placed.filter(({ place }) => place === at).reduce((told, { says }) => also(told, says), step),
  );
}

function also(step: WorkStep, says: string): WorkStep {
  return says === '' ? step : { ...step, says: `${step.says} ${says}` };
}

function rampStep(step: RampStep, place: number, ramp: readonly RampStep[]): WorkStep {
  const { kind, toC, minutes, says, mark } = step;
  const fromC = ramp[place - 1]?.toC ?? toC;
  return {
    key: `${kind}-${place + 1}`,
    kind,
    title: titleOf(step, fromC),
    says,
    minutes,
    fromC,
    toC,
    adds: step.adds.map((name) => partOf(name, place, ramp)),
    doses: [],
    extra: [],
    mark,
  };
}

/** Salt goes in by equal parts: which part is due is read off the steps that name it. */
function partOf(name: string, place: number, ramp: readonly RampStep[]): WorkAdd {
  const naming = ramp.flatMap(({ adds }, at) => (adds.includes(name) ? [at] : []));
  return { name, part: naming.indexOf(place) + 1, of: naming.length };
}

function titleOf({ kind, toC, adds }: RampStep, fromC: number): string {
  switch (kind) {
    case 'set':
      return `Set the bath at ${toC} °C`;
    case 'add':
      return adds.length === 1 ? `Add ${adds[0]}` : `Add at ${fromC} °C`;
    case 'heat':
      return `Heat to ${toC} °C`;
    case 'hold':
      return `Hold ${toC} °C`;
    case 'cool':
      return `Cool to ${toC} °C`;
  }
}

function sideStep(kind: WorkKind, title: string, side: SideBath, limitC: number): WorkStep {
  const toC = Math.min(side.toC, limitC);
  const { says, minutes, doses, mark } = side;
  const orders = clashesIn(chemicalsOfDoses(doses)).filter(({ clash }) => clash.action === 'order');
  return {
    key: kind,
    kind,
    title: `${title} at ${toC} °C`,
    says: [says, ...orders.map(sayOrder)].join(' '),
    minutes,
    fromC: toC,
    toC,
    adds: [],
    doses,
    extra: [],
    mark,
  };
}

function workStep(kind: WorkKind, title: string, minutes: number, says: string): WorkStep {
  const bare = { fromC: COLD_C, toC: COLD_C, adds: [], doses: [], extra: [], mark: COMMON_PRACTICE };
  return { key: kind, kind, title, says, minutes, ...bare };
}

/** An addition to bring a shade up, as it is weighed for one bath. `key` names it in the log. */
export interface BathAddition {
  readonly key: string;
  readonly number: number;
  readonly dyes: readonly { readonly name: string; readonly massMg: number }[];
}

/** How far a bath is let down before an addition, and how long it is held after it (common practice). */
const LET_DOWN_C = 15;
const ADDITION_MINUTES = 10;
const HOLD_AGAIN_MINUTES = 30;
/** Below this a bath is not let down: dye goes in evenly as it is. */
const LET_DOWN_FROM_C = 60;

/**
 * The same steps with those of an addition: let down, add, heat again, hold again. They come before the first step
 * that is not done, and after the hold where that is not over.
 */
export function withAddition(
  steps: readonly WorkStep[],
  doneKeys: ReadonlySet<string>,
  addition: BathAddition,
): readonly WorkStep[] {
  const open = steps.findIndex(({ key }) => !doneKeys.has(key));
  const lastHold = steps.findLastIndex(({ kind }) => kind === 'hold');
  const place = Math.max(open < 0 ? steps.length : open, lastHold + 1);
  const hot = steps.find(({ kind }) => kind === 'hold')?.toC ?? COLD_C;
  const fromC = steps[place - 1]?.toC ?? hot;
  return [...steps.slice(0, place), ...additionSteps(addition, fromC, hot), ...steps.slice(place)];
}

function additionSteps({ key, number, dyes }: BathAddition, fromC: number, hotC: number): WorkStep[] {
  const lowC = hotC >= LET_DOWN_FROM_C ? Math.min(fromC, hotC - LET_DOWN_C) : fromC;
  const step = (
    part: string,
    made: Omit<WorkStep, 'key' | 'adds' | 'doses' | 'extra' | 'mark'>,
  ): WorkStep => ({
    adds: [],
    doses: [],
    extra: [],
    mark: COMMON_PRACTICE,
    key: `${key}-${part}`,
    ...made,
  });
  const minutesTo = (degrees: number) => Math.ceil(degrees);
  return [
    ...(lowC < fromC
      ? [
          step('cool', {
            kind: 'cool',
            title: `Let down to ${lowC} °C`,
            says: 'Cool a little, so that the addition goes on evenly.',
            minutes: minutesTo(fromC - lowC),
            fromC,
            toC: lowC,
          }),
        ]
      : []),
    {
      ...step('add', {
        kind: 'add',
        title: `Addition ${number}`,
        says: 'Lift the cloth, add the dissolved dye in parts, stir, and lower the cloth again.',
        minutes: ADDITION_MINUTES,
        fromC: lowC,
        toC: lowC,
      }),
      extra: dyes,
    },
    ...(hotC > lowC
      ? [
          step('heat', {
            kind: 'heat',
            title: `Heat to ${hotC} °C again`,
            says: `Heat to ${hotC} °C at 1 °C a minute.`,
            minutes: minutesTo(hotC - lowC),
            fromC: lowC,
            toC: hotC,
          }),
        ]
      : []),
    step('hold', {
      kind: 'hold',
      title: `Hold ${hotC} °C again`,
      says: `Hold ${HOLD_AGAIN_MINUTES} minutes, then compare with the swatch.`,
      minutes: HOLD_AGAIN_MINUTES,
      fromC: hotC,
      toC: hotC,
    }),
  ];
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
  const side = step.doses.map(({ name, mgPerLitre }) => {
    const massMg = Math.round((bath.volumeUl * mgPerLitre) / 1_000_000);
    return weighing({ name, part: 'side bath', massMg });
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

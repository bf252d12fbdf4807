/**
 * How a bath is heated and cooled: the steps of a ramp by the class of dye and the fibre, and its points in minutes
 * from the setting of the bath, for a chart and for the clock.
 *
 * Rates and waits are common practice unless a step names its source. A recipe's own rates go before them, save that
 * what must be passed slowly is never passed faster. The dye maker's label outranks all of them.
 */

import { COMMON_PRACTICE, type Provenance } from '../quantity/provenance.ts';
import { groupsOf } from './auxiliaries.ts';
import type { ChemicalGroup } from './chemical-group.ts';
import type { Content } from './fibre.ts';
import { ACRYLIC_HEATING, heatingFor, SYNTHETIC, type Wait } from './heating.ts';
import type { MakerLabel } from './label-figures.ts';
import { markOfLabel } from './maker-label.ts';
import { bathAuxiliaries, contentInBath, markOf, type Recipe, type RecipeAuxiliary } from './recipe.ts';
import { VAT_SAYS } from './vat.ts';

export type RampKind = 'set' | 'add' | 'heat' | 'hold' | 'cool';

/** One step: the bath is at `toC` when it ends. `rateCPerMinute` is nought where the heat stays. */
export interface RampStep {
  readonly kind: RampKind;
  readonly toC: number;
  readonly minutes: number;
  readonly rateCPerMinute: number;
  /** What goes into the bath when the step begins, by the names of the recipe. */
  readonly adds: readonly string[];
  /** Whether that is the dye, which was weighed before. */
  readonly dyes?: true;
  /** What is done, as one sentence. */
  readonly says: string;
  readonly mark: Provenance;
}

/** Where the bath stands at a minute after setting, and the step that begins there; the last begins none. */
export interface RampPoint {
  readonly minute: number;
  readonly temperatureC: number;
  readonly kind: RampKind | 'end';
  readonly adds: readonly string[];
  readonly says: string;
}

/** A stretch that is heated at a rate of its own, in °C. */
interface Stretch {
  readonly toC: number;
  readonly rate: number;
  readonly mark: Provenance;
}

/** How the heat of one kind of bath runs. */
interface Course {
  readonly setC: number;
  readonly setMark: Provenance;
  readonly stretches: readonly Stretch[];
  /** where the bath waits on its way up: after the stretch that ends there */
  readonly wait: Wait | null;
  readonly coolToC: number;
  readonly coolRate: number;
  readonly coolSays: string;
  readonly coolMark: Provenance;
}

/** Minutes that the cloth runs with the auxiliaries, and then with the dye, before the heat rises. */
const RUN_MINUTES = 10;
/** Minutes between portions of salt, and from the last of them to the soda. */
const PORTION_MINUTES = 10;
/** Minutes in a vat before its first portion of salt (from memory). */
const VAT_RUN_MINUTES = 15;
const COOL_MARK: Provenance = {
  basis: 'common practice',
  source:
    'common practice for sheer cloth; textilelearner.blogspot.com, January 2012, cools quickly to 60 °C instead',
};

/**
 * The points of a recipe's ramp on a cloth, the first at minute nought; times are whole minutes, rounded up. Throws
 * RangeError when the content is empty.
 */
export function rampOf(recipe: Recipe, content: Content): readonly RampPoint[] {
  const steps = rampSteps(recipe, content);
  const points: RampPoint[] = [];
  let minute = 0;
  let temperatureC = steps[0]?.toC ?? recipe.temperatureC;
  for (const step of steps) {
    points.push({ minute, temperatureC, kind: step.kind, adds: step.adds, says: step.says });
    minute += step.minutes;
    temperatureC = step.toC;
  }
  return [...points, { minute, temperatureC, kind: 'end', adds: [], says: '' }];
}

/** The steps of a recipe's ramp on a cloth, in order. Throws RangeError when the content is empty. */
export function rampSteps(recipe: Recipe, cloth: Content): readonly RampStep[] {
  const content = contentInBath(cloth, recipe);
  const course = courseOf(recipe, content);
  const { dyeClass, label } = recipe;
  const inBath = bathAuxiliaries(recipe);
  if (label && label.additions.length > 0) return stepsByLabel(recipe, label, content, course);
  const late = inBath.filter((each) => goesInLate(each, recipe));
  const first = inBath.filter((each) => !late.includes(each)).map(({ name }) => name);
  return [
    setStep(course, first, recipe),
    dyeStep(recipe, course.setC),
    ...(dyeClass === 'reactive' || dyeClass === 'vat' ? saltSteps(late, course.setC) : []),
    ...heatSteps(course),
    ...(dyeClass === 'vat'
      ? []
      : dyeClass === 'reactive'
        ? sodaSteps(late, recipe.temperatureC)
        : lateSteps(late, recipe.temperatureC)),
    holdStep(recipe, content),
    ...coolSteps(course, recipe.temperatureC),
  ];
}

function setStep({ setC, setMark }: Course, adds: readonly string[], { dyeClass }: Recipe): RampStep {
  const then = dyeClass === 'vat' ? ` ${VAT_SAYS.blank}` : ' Wet the cloth in it.';
  return {
    ...steadyStep('set', setC, RUN_MINUTES, adds, `Set the bath at ${setC} °C.${then}`),
    mark: setMark,
  };
}

/**
 * The steps in the order of a label: what it does not name is in the bath from the start, and what it adds at a heat waits
 * for that. Its own stretches, and what must be passed slowly, stay.
 */
function stepsByLabel(
  recipe: Recipe,
  label: MakerLabel,
  content: Content,
  course: Course,
): readonly RampStep[] {
  const { temperatureC, dyes } = recipe;
  const mark = markOfLabel(label);
  const named = label.additions.map(({ what }) => what);
  const inBath = bathAuxiliaries(recipe);
  const first = inBath.filter(({ kind }) => !named.includes(kind)).map(({ name }) => name);
  const dyeing = named.includes('dye') ? [] : [dyeStep(recipe, course.setC)];
  let atC = course.setC;
  const steps = label.additions.flatMap(({ what, atC: wantedC, minutes }): readonly RampStep[] => {
    const adds =
      what === 'dye'
        ? dyes.map(({ name }) => name)
        : inBath.filter(({ kind }) => kind === what).map(({ name }) => name);
    if (adds.length === 0) return [];
    const toC = Math.min(temperatureC, Math.max(atC, wantedC ?? atC));
    const heating = heatSteps(between(course, atC, toC));
    atC = toC;
    const says = what === 'dye' ? sayDyeIn(recipe) : SAYS_ADDED;
    const added = { ...steadyStep('add', toC, minutes, adds, says), mark };
    return [...heating, what === 'dye' ? { ...added, dyes: true } : added];
  });
  return [
    setStep(course, first, recipe),
    ...dyeing,
    ...steps,
    ...heatSteps(between(course, atC, temperatureC)),
    holdStep(recipe, content),
    ...coolSteps(course, temperatureC),
  ];
}

/** The part of a course from one heat to another. */
function between(course: Course, fromC: number, toC: number): Course {
  const stretches = course.stretches.flatMap((stretch, at) => {
    const beginsC = course.stretches[at - 1]?.toC ?? course.setC;
    return stretch.toC <= fromC || beginsC >= toC || fromC >= toC
      ? []
      : [{ ...stretch, toC: Math.min(stretch.toC, toC) }];
  });
  return { ...course, setC: fromC, stretches };
}

function dyeStep(recipe: Recipe, atC: number): RampStep {
  const dyes = recipe.dyes.map(({ name }) => name);
  const minutes = recipe.dyeClass === 'vat' ? VAT_RUN_MINUTES : RUN_MINUTES;
  return { ...steadyStep('add', atC, minutes, dyes, sayDyeIn(recipe)), dyes: true };
}

/** How the dye goes into the bath. Disperse dye is never dissolved: it is stirred up in water. */
function sayDyeIn({ dyeClass }: Recipe): string {
  switch (dyeClass) {
    case 'vat':
      return VAT_SAYS.dye;
    case 'disperse':
      return 'Shake the dispersion and add it through a sieve in parts, the cloth lifted or moving.';
    default:
      return 'Add the dissolved dye in parts, the cloth lifted or moving.';
  }
}

/** The fastest heating of a recipe's ramp, in °C a minute; nought where the heat stays. */
export function fastestHeating(recipe: Recipe, content: Content): number {
  return Math.max(0, ...rampSteps(recipe, content).map(({ rateCPerMinute }) => rateCPerMinute));
}

/** Salt and soda wait for reactive dye to be even; the acid of milling dyes comes when the bath is hot. */
function goesInLate(auxiliary: RecipeAuxiliary, { dyeClass }: Recipe): boolean {
  if (dyeClass === 'reactive') return isSalt(auxiliary) || isAlkali(auxiliary);
  if (dyeClass === 'direct' || dyeClass === 'vat') return isSalt(auxiliary);
  return dyeClass === 'acid-milling' && isOf(auxiliary, ['concentrated-acid', 'dilute-acid']);
}

function isSalt({ kind }: RecipeAuxiliary): boolean {
  return kind === 'salt' || kind === 'glauber-salt';
}

function isAlkali(auxiliary: RecipeAuxiliary): boolean {
  return isOf(auxiliary, ['soda', 'caustic']);
}

function isOf({ kind, form }: RecipeAuxiliary, groups: readonly ChemicalGroup[]): boolean {
  return (groupsOf(kind, form) ?? []).some((group) => groups.includes(group));
}

function courseOf(recipe: Recipe, content: Content): Course {
  const main = [...content].sort((a, b) => b.shareBp - a.shareBp)[0]?.fibre;
  if (main === undefined) throw new RangeError('A ramp needs at least one fibre');
  const { dyeClass, temperatureC } = recipe;
  const rising = heatingFor(main, dyeClass);
  const { label } = recipe;
  const byLabel = label !== undefined && label.startC !== null;
  const setC = Math.min(label?.startC ?? rising.setC, temperatureC);
  const { slow, wait } = rising;
  const { heatRateMilli, coolRateMilli } = recipe;
  const rate = heatRateMilli === undefined ? rising.rate : heatRateMilli / 1000;
  const mark = heatRateMilli === undefined ? rising.mark : markOf(recipe, 'rates');
  const stretches: Stretch[] = [];
  if (slow && slow.fromC < temperatureC) {
    if (setC < slow.fromC) stretches.push({ toC: slow.fromC, rate, mark });
    if (setC < slow.toC)
      stretches.push({
        toC: Math.min(slow.toC, temperatureC),
        rate: Math.min(slow.rate, rate),
        mark: slow.mark,
      });
  }
  const reached = stretches.at(-1)?.toC ?? setC;
  if (reached < temperatureC) stretches.push({ toC: temperatureC, rate, mark });
  const synthetic = content.some(({ fibre }) => SYNTHETIC.includes(fibre));
  const acrylic = content.some(({ fibre }) => fibre === 'acrylic');
  return {
    setC,
    setMark: byLabel ? markOfLabel(label) : COMMON_PRACTICE,
    stretches,
    wait: wait && wait.atC < temperatureC ? wait : null,
    coolToC: acrylic ? 50 : 60,
    coolRate: coolRateMilli === undefined ? (synthetic ? 1 : 2) : coolRateMilli / 1000,
    coolSays: acrylic
      ? 'Cool slowly, the cloth open: cooled fast it cracks and creases for good.'
      : synthetic
        ? 'Cool slowly, the cloth open and moving: what is folded while hot stays creased.'
        : 'Let it cool before the cloth is handled.',
    coolMark:
      coolRateMilli !== undefined
        ? markOf(recipe, 'rates')
        : acrylic
          ? ACRYLIC_HEATING
          : synthetic
            ? COOL_MARK
            : COMMON_PRACTICE,
  };
}

function steadyStep(
  kind: RampKind,
  toC: number,
  minutes: number,
  adds: readonly string[],
  says: string,
): RampStep {
  return { kind, toC, minutes, rateCPerMinute: 0, adds, says, mark: COMMON_PRACTICE };
}

function saltSteps(late: readonly RecipeAuxiliary[], atC: number): RampStep[] {
  const salts = late.filter(isSalt).map(({ name }) => name);
  if (salts.length === 0) return [];
  return ['the first third', 'the second third', 'the rest'].map((part) =>
    steadyStep(
      'add',
      atC,
      PORTION_MINUTES,
      salts,
      `Add ${part} of the salt, dissolved, away from the cloth.`,
    ),
  );
}

function heatSteps({ setC, stretches, wait }: Course): RampStep[] {
  return stretches.flatMap(({ toC, rate, mark }, place): RampStep[] => {
    const fromC = stretches[place - 1]?.toC ?? setC;
    const heat: RampStep = {
      kind: 'heat',
      toC,
      minutes: minutesFor(toC - fromC, rate),
      rateCPerMinute: rate,
      adds: [],
      says: `Heat to ${toC} °C at ${rate} °C a minute.`,
      mark,
    };
    if (!wait || wait.atC !== toC) return [heat];
    const { minutes, says, mark: waitMark } = wait;
    return [heat, { ...steadyStep('heat', toC, minutes, [], says), mark: waitMark }];
  });
}

function sodaSteps(late: readonly RecipeAuxiliary[], atC: number): RampStep[] {
  const alkali = late.filter(isAlkali).map(({ name }) => name);
  if (alkali.length === 0) return [];
  return [
    steadyStep('add', atC, PORTION_MINUTES, alkali, 'Add the dissolved alkali slowly, away from the cloth.'),
  ];
}

function lateSteps(late: readonly RecipeAuxiliary[], atC: number): RampStep[] {
  if (late.length === 0) return [];
  const names = late.map(({ name }) => name);
  return [steadyStep('add', atC, PORTION_MINUTES, names, SAYS_ADDED)];
}

const SAYS_ADDED = 'Add in parts, diluted or dissolved, away from the cloth.';

function holdStep(recipe: Recipe, content: Content): RampStep {
  const { temperatureC, holdMinutes, marks } = recipe;
  const says = `Hold ${temperatureC} °C for ${holdMinutes} minutes, the cloth moving.${sayWhileHolding(recipe, content)}`;
  const mark = marks.holdMinutes ?? { basis: 'own', source: 'this workroom' };
  return { kind: 'hold', toC: temperatureC, minutes: holdMinutes, rateCPerMinute: 0, adds: [], says, mark };
}

/** What to look to while a bath is held. */
function sayWhileHolding({ dyeClass, auxiliaries }: Recipe, content: Content): string {
  if (dyeClass === 'vat') return ` ${VAT_SAYS.hold}`;
  if (content.some(({ fibre }) => fibre === 'acrylic') && dyeClass === 'basic') {
    return ' No longer and no hotter to even it out: acrylic stretches, and its dye migrates poorly.';
  }
  if (auxiliaries.some(({ kind }) => kind === 'ammonium-sulphate')) {
    return ' Lid off: the bath turns acid only as ammonia leaves it. Measure its pH: in a covered pot or alkaline water it may never get there.';
  }
  return '';
}

function coolSteps(course: Course, fromC: number): RampStep[] {
  const { coolToC, coolRate, coolSays, coolMark } = course;
  if (fromC <= coolToC) return [];
  return [
    {
      kind: 'cool',
      toC: coolToC,
      minutes: minutesFor(fromC - coolToC, coolRate),
      rateCPerMinute: -coolRate,
      adds: [],
      says: `${coolSays} By ${coolRate} °C a minute.`,
      mark: coolMark,
    },
  ];
}

/** Whole minutes, rounded up; rates are thousandths of a degree, so that 27 °C at 0.9 are 30 minutes and not 31. */
function minutesFor(degrees: number, rate: number): number {
  return Math.ceil((degrees * 1000) / Math.round(rate * 1000));
}

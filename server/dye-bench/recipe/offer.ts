import { nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { readOwf, showLiquorRatio, showOwf } from '../../../src/dye/bench-figures.ts';
import { verdictOn } from '../../../src/dye/dye-advice.ts';
import { classesFor, DYE_CLASS_NAMES, DYE_CLASSES, type DyeClass } from '../../../src/dye/dye-class.ts';
import { conditionsFor } from '../../../src/dye/dye-conditions.ts';
import { DEPTHS, TINT_OWF_MILLI } from '../../../src/dye/dye-facts.ts';
import { type Content, capital, FIBRE_CODES, type FibreCode, fibreOf } from '../../../src/dye/fibre.ts';
import { wholeByLabel } from '../../../src/dye/maker-label.ts';
import { rampSteps } from '../../../src/dye/ramp.ts';
import {
  amountOf,
  markOf,
  type Recipe,
  type RecipeAuxiliary,
  type RecipeDye,
} from '../../../src/dye/recipe.ts';
import { showAddition, showPh, showRamp } from '../../../src/dye/recipe-figures.ts';
import { starterRecipe, startersFor } from '../../../src/dye/starter-recipe.ts';
import type { Typed } from '../../kit/typed.ts';
import { type LabelInForce, sayWhoseLabel } from '../label/store.ts';
import { sayMeasured, sayPh } from './figures.ts';
import { sayMark } from './store.ts';

export const DEPTH_NAMES = ['pale', 'medium', 'dark'] as const;

export interface Note {
  readonly kind: 'note' | 'warn' | 'stop';
  readonly label: string;
  readonly text: string;
  readonly more: readonly string[];
}

/** What the app offers for a fibre and a class of dye: figures in words by field, and what to know. */
export interface SuggestedRecipe {
  readonly dyeClass: DyeClass | null;
  readonly starter: Recipe | null;
  /** by field of the form: the figure offered and where it comes from */
  readonly hints: Readonly<Record<string, string>>;
  readonly notes: readonly Note[];
  readonly methods: readonly string[];
}

const NOTHING: SuggestedRecipe = { dyeClass: null, starter: null, hints: {}, notes: [], methods: [] };

/** Shrinkage has no table that can be relied on, so the offer says so. */
const SHRINKAGE_HINT =
  'Wash and dye a marked square of this cloth and measure it: no table is reliable. "Pre-shrunk" customarily means under 3 % each way (wikisum, Dimensional stability).';

/**
 * The offer for what is typed in a recipe form so far. A maker's label goes before the figures that are offered here, and
 * what it doses is offered too.
 */
export function offerFor(typed: Typed, labelled: LabelInForce | null = null): SuggestedRecipe {
  const fibre = FIBRE_CODES.find((code) => code === typed.fibre);
  if (!fibre) return NOTHING;
  const dyeClass =
    DYE_CLASSES.find((each) => each === typed.dye_class) ?? startersFor(fibre)[0] ?? classesFor(fibre)[0];
  if (!dyeClass) return { ...NOTHING, notes: [nothingDyes(fibre)] };
  const content = [{ fibre, shareBp: 10_000 }];
  const { verdict, reasons } = verdictOn(content, dyeClass);
  if (verdict === 'no' || verdict === 'stains') {
    const note: Note = { kind: 'stop', label: 'Cannot work', text: reasons.join(' '), more: [] };
    return { ...NOTHING, dyeClass, notes: [note] };
  }
  const usual = starterRecipe(content, dyeClass, dyesFor(typed, dyeClass), typed.method) ?? null;
  const starter = usual && labelled ? wholeByLabel(usual, labelled.label) : usual;
  return {
    dyeClass,
    starter,
    hints: {
      ...depthHint(dyeClass),
      ...(starter ? hintsFrom(starter, content) : {}),
      shrinkage: SHRINKAGE_HINT,
    },
    notes: notesOn(fibre, dyeClass, { starter, labelled }, reasons),
    methods: conditionsFor(fibre, dyeClass)
      .filter(({ vessel }) => vessel === 'open')
      .map(({ method }) => method),
  };
}

/** The form filled in with what is offered; names, dyes, shade and note stay as they were typed. */
export function fillIn(typed: Typed, offer: SuggestedRecipe): Typed {
  const { starter, dyeClass } = offer;
  const kept = Object.entries(typed).filter(([name]) => !REPLACED.test(name));
  if (!starter || !dyeClass) return dyeClass ? { ...typed, dye_class: dyeClass } : typed;
  const filled: Record<string, string> = {
    ...Object.fromEntries(kept),
    dye_class: dyeClass,
    method: starter.method,
    liquor_ratio: showLiquorRatio(starter.liquorRatioMilli),
    temperature: String(starter.temperatureC),
    hold: String(starter.holdMinutes),
    ph_from: starter.pHFrom === undefined ? '' : showPh(Math.round(starter.pHFrom * 10)),
    ph_to: starter.pHTo === undefined ? '' : showPh(Math.round(starter.pHTo * 10)),
    shrinkage: typed.shrinkage || '3',
  };
  if (typedDyes(typed).length === 0)
    filled['dyes.0.owf'] = showOwf(depthOf(typed, dyeClass)).replace(' % owf', '');
  const isOfLabel = (figure: string) => markOf(starter, figure).basis === 'label';
  for (const [figure, field] of LABEL_TICKS) if (isOfLabel(figure)) filled[field] = 'yes';
  if (starter.heatRateMilli !== undefined) filled.heat_rate = showRamp(starter.heatRateMilli);
  if (starter.coolRateMilli !== undefined) filled.cool_rate = showRamp(starter.coolRateMilli);
  starter.auxiliaries.forEach((auxiliary, row) => {
    if (isOfLabel(`auxiliaries.${auxiliary.kind}`)) filled[`auxiliaries.${row}.label`] = 'yes';
    filled[`auxiliaries.${row}.what`] = `${auxiliary.kind}/${auxiliary.form}`;
    filled[`auxiliaries.${row}.amount`] = sayMeasured(auxiliary.kind, auxiliary.form, sayAmount(auxiliary));
  });
  return filled;
}

const REPLACED =
  /^auxiliaries\.|^(?:liquor_ratio|temperature|hold|ph|rates)(?:_label)?$|^(?:heat|cool)_rate$/;

/** What a figure that comes from the maker's label is ticked by. */
const LABEL_TICKS = [
  ['liquorRatioMilli', 'liquor_ratio_label'],
  ['temperatureC', 'temperature_label'],
  ['holdMinutes', 'hold_label'],
  ['pH', 'ph_label'],
  ['rates', 'rates_label'],
] as const;

export function sayAmount(auxiliary: RecipeAuxiliary): string {
  return showAddition({ per: auxiliary.per, amount: amountOf(auxiliary) });
}

/** The dyes as far as they can be read; else one that stands for the depth that was chosen. */
function dyesFor(typed: Typed, dyeClass: DyeClass): readonly RecipeDye[] {
  const dyes = typedDyes(typed);
  return dyes.length > 0 ? dyes : [{ name: '', owfMilli: depthOf(typed, dyeClass) }];
}

function typedDyes(typed: Typed): RecipeDye[] {
  return Object.entries(typed).flatMap(([name, value]) => {
    if (!/^dyes\.\d+\.owf$/.test(name)) return [];
    const reading = readOwf(value);
    return reading.ok && reading.value > 0 ? [{ name: '', owfMilli: reading.value }] : [];
  });
}

function depthOf(typed: Typed, dyeClass: DyeClass): number {
  const usual = DEPTHS[dyeClass][DEPTH_NAMES.find((each) => each === typed.depth) ?? 'medium'];
  const tint = dyeClass === 'disperse' && typed.fibre === 'polyester' && typed.method !== 'with carrier';
  // What would be refused is not offered.
  return tint ? Math.min(usual, TINT_OWF_MILLI) : usual;
}

function depthHint(dyeClass: DyeClass): Record<string, string> {
  const { pale, medium, dark, mark } = DEPTHS[dyeClass];
  const dyes = `All dyes together: about ${showOwf(pale)} for a pale shade, ${showOwf(medium)} medium, ${showOwf(dark)} dark (${sayMark(mark)}).`;
  return { dyes };
}

function hintsFrom(starter: Recipe, content: Content): Record<string, string> {
  const hint = (figure: string, key: string) => `Suggested ${figure}: ${sayMark(markOf(starter, key))}.`;
  const offered = starter.auxiliaries.map((auxiliary) => {
    const { kind, form } = auxiliary;
    const amount = sayMeasured(kind, form, sayAmount(auxiliary));
    const source = sayMark(markOf(starter, `auxiliaries.${kind}`));
    return `${capital(nameOfForm(kind, form))}: ${amount} (${source}).`;
  });
  return {
    liquor_ratio: hint(showLiquorRatio(starter.liquorRatioMilli), 'liquorRatioMilli'),
    temperature: hint(`${starter.temperatureC} °C`, 'temperatureC'),
    hold: hint(`${starter.holdMinutes} min`, 'holdMinutes'),
    ...(starter.pHFrom === undefined ? {} : { ph_from: hint(`pH ${sayPh(starter)}`, 'pH') }),
    auxiliaries: offered.length === 0 ? '' : `Suggested. ${offered.join(' ')}`,
    ...usualRates(starter, content),
  };
}

/** The rates that a bath is heated and cooled by where the recipe gives none of its own. */
function usualRates(starter: Recipe, content: Content): Record<string, string> {
  const steps = rampSteps(starter, content);
  const usual = (kind: 'heat' | 'cool') => {
    const found = steps.filter((step) => step.kind === kind);
    const rates = [
      ...new Set(found.map((step) => showRamp(Math.round(Math.abs(step.rateCPerMinute) * 1000)))),
    ];
    const mark = found[0]?.mark;
    return mark ? `Blank: ${rates.join(', then ')} (${sayMark(mark)}).` : '';
  };
  return { heat_rate: usual('heat'), cool_rate: usual('cool') };
}

function nothingDyes(fibre: FibreCode): Note {
  const { reasons } = verdictOn([{ fibre, shareBp: 10_000 }], 'disperse');
  return { kind: 'stop', label: 'Cannot work', text: reasons.join(' '), more: [] };
}

function notesOn(
  fibre: FibreCode,
  dyeClass: DyeClass,
  { starter, labelled }: { readonly starter: Recipe | null; readonly labelled: LabelInForce | null },
  reasons: readonly string[],
): Note[] {
  const ways = conditionsFor(fibre, dyeClass).flatMap(({ method, note, vessel }) =>
    note && (vessel === 'sealed' || !starter || method === starter.method)
      ? [`${capital(method)}: ${note}`]
      : [],
  );
  const dye = DYE_CLASS_NAMES[dyeClass];
  const given = starter && labelled;
  const text = given
    ? `Figures of ${sayWhoseLabel(labelled)} stand at each field, and where it says nothing, figures to start from for ${dye} on ${fibreOf(fibre).name}.`
    : starter
      ? `Figures to start from for ${dye} on ${fibreOf(fibre).name} stand at each field. The dye maker's label goes before all of them: put its figures in and tick "from the maker's label".`
      : `No figures are offered for ${dye} on ${fibreOf(fibre).name}: take them from the maker's label.`;
  return [
    {
      kind: starter ? 'note' : 'warn',
      label: starter ? 'Suggested' : 'Warning',
      text,
      more: [...reasons, ...ways],
    },
  ];
}

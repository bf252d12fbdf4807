import { factorInForm, nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { dyedMassMg, type StockStrength } from '../../../src/dye/bath.ts';
import { type BathPlan, planBath } from '../../../src/dye/bath-plan.ts';
import { grams } from '../../../src/dye/bath-sums.ts';
import { whyNotInVessel } from '../../../src/dye/card-warnings.ts';
import { verdictOn } from '../../../src/dye/dye-advice.ts';
import { classesFor, type DyeClass } from '../../../src/dye/dye-class.ts';
import { DEPTHS } from '../../../src/dye/dye-facts.ts';
import { exhaustionBp } from '../../../src/dye/exhaustion.ts';
import { type Content, checkContent } from '../../../src/dye/fibre.ts';
import { wholeByLabel } from '../../../src/dye/maker-label.ts';
import { type Bench, benchOf } from '../../../src/dye/measuring.ts';
import { auxiliaryFrom, type Recipe, type RecipeAuxiliary, withLabel } from '../../../src/dye/recipe.ts';
import { showAddition } from '../../../src/dye/recipe-figures.ts';
import { commercialMassMg, regainBpOf, regainMarks, sumOfRegain } from '../../../src/dye/regain.ts';
import { type BathRatio, ratioFor, sheerBathCare, withRatio } from '../../../src/dye/sheer-bath.ts';
import { starterRecipe, startersFor } from '../../../src/dye/starter-recipe.ts';
import { divideRounded } from '../../../src/quantity/figure-show.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showMassPerArea } from '../../../src/quantity/mass.ts';
import type { Provenance } from '../../../src/quantity/provenance.ts';
import type { Reader } from '../../database/book.ts';
import { invalid, type Problem, refuseAny } from '../../refusal.ts';
import { type LabelInForce, labelOfNamed } from '../label/store.ts';
import { atField } from '../numbered-rows.ts';
import { checkInWater } from '../recipe/check.ts';
import { LABEL, OWN, sayMark } from '../recipe/store.ts';
import type { QuickForm } from './form.ts';

/** A bath worked out from typed values alone, in plain figures. */
export type QuickBath = ReturnType<typeof workOutQuick>;

const SQUARE_METRE_TICKS2 = 160_000n * 160_000n;
const TYPED: Provenance = { basis: 'own', source: 'as typed' };

/**
 * Works out a quick bath, by the label of its dyes where they are on the list and have one.
 * @throws {Refusal} invalid, with every problem at its field
 */
export function workOutQuick(reader: Reader, form: QuickForm, bench: Bench) {
  const problems: Problem[] = [];
  const content = contentOf(form, problems);
  const mass = massOf(form, content, problems);
  const dyeClass = classOf(form, content);
  const takes = verdictOn(content, dyeClass);
  if (content.length > 0 && (takes.verdict === 'no' || takes.verdict === 'stains')) {
    problems.push({ field: 'dye_class', message: takes.reasons.join(' ') });
  }
  refuseAny(problems);
  const named = form.dyes.map(({ name, owf }) => ({ name, owfMilli: owf }));
  const labelled = labelOfNamed(reader, named, dyeClass);
  const { recipe: asked, sources } = recipeOf(form, { content, dyeClass, labelled }, problems);
  refuseAny(problems);
  const ratio = ratioOf(form, { recipe: asked, content, massMg: mass.massMg });
  const recipe = withRatio(asked, ratio);
  problems.push(...checkInWater(reader, recipe, content).problems.map((problem) => atTyped(problem, form)));
  const inVessel = whyNotInVessel(recipe, form.material);
  if (inVessel !== '') problems.push({ field: 'material', message: inVessel });
  refuseAny(problems);
  const { dyedBp } = takes;
  const planned = planBath({
    massMg: mass.massMg,
    dyedBp,
    recipe,
    stocks: stocksOf(form),
    ...benchOf(bench),
    balanceMg: form.balance ?? bench.balanceMg,
    ...(form.vessel === null ? {} : { vesselMl: form.vessel }),
    ...(form.strips === null ? {} : { strips: form.strips.value }),
    ...(form.parts === null ? {} : { parts: form.parts }),
  });
  if (!planned.ok) {
    const field = {
      mass: form.area === null ? 'mass' : 'area',
      vessel: 'vessel',
      parts: 'parts',
      stocks: firstStock(form),
    };
    throw invalid(field[planned.at], planned.reason);
  }
  const dyedMg = dyedMassMg(mass.massMg, dyedBp);
  const { plan } = planned;
  const ratioWarnings = [...ratio.warnings, ...(form.sheer ? sheerBathCare(plan.baths) : [])];
  return {
    content,
    recipe,
    sources,
    labelled,
    ratioWarnings,
    ...mass,
    dyedBp,
    dyedMg,
    plan,
    exhaustion: exhaustionOf(form, plan),
  };
}

/** Sheer cloth gets its bath by area too, where that is typed or follows from the mass per area. */
function ratioOf(
  { sheer, area, mass_per_area: perArea }: QuickForm,
  { recipe, content, massMg }: { recipe: Recipe; content: Content; massMg: number },
): BathRatio {
  const byMassMm2 = perArea === null ? 0 : (massMg / perArea) * 1_000_000;
  const areaMm2 = area === null ? byMassMm2 : area / TICKS_PER.mm ** 2;
  return ratioFor(recipe, content, [{ sheer, areaMm2, massMg }]);
}

/** What is wrong with an amount that was offered and not typed is told where the offer is asked for. */
function atTyped(problem: Problem, form: QuickForm): Problem {
  const [list = '', place = ''] = problem.field.split('.');
  const offered = list === 'auxiliaries' && Number(place) >= form.auxiliaries.length;
  return offered ? { ...problem, field: 'offered' } : atField(problem, form);
}

/** Dye put in, dye left in the liquor, and the share that went onto the cloth; null where none was told. */
function exhaustionOf({ left }: QuickForm, { bath }: BathPlan) {
  if (left === null) return null;
  const appliedMg = bath.lines.reduce((sum, { part, massMg }) => sum + (part === 'dye' ? massMg : 0), 0);
  if (left > appliedMg) {
    throw invalid('left', `No more dye can be left than was put in, which is ${grams(appliedMg)}.`);
  }
  return { appliedMg, leftMg: left, exhaustionBp: exhaustionBp(appliedMg, left) };
}

function contentOf({ fibres }: QuickForm, problems: Problem[]): Content {
  const alone = fibres.length === 1;
  const content = fibres.map(({ fibre, share }) => ({ fibre, shareBp: share ?? (alone ? 10_000 : 0) }));
  for (const { field, message } of checkContent(content)) {
    const [, place = '', part = ''] = field.split('.');
    const row = fibres[Number(place)]?.place;
    const name = part === 'shareBp' ? 'share' : part;
    problems.push({ field: row === undefined || place === '' ? 'fibres' : `fibres.${row}.${name}`, message });
  }
  return content;
}

/**
 * From the scale or from area × mass per area; both typed, the scale wins. What was weighed oven-dry is turned into what
 * it weighs in the room, which owf is of. Cloth weighed wet is refused.
 */
function massOf(
  form: QuickForm,
  content: Content,
  problems: Problem[],
): { massMg: number; massFrom: string } {
  const { mass, weighed, area, mass_per_area: perArea } = form;
  if (mass !== null) {
    if (weighed === 'wet') {
      const message = 'Wet cloth weighs its water too: dry it and weigh it again, or give its area.';
      problems.push({ field: 'weighed', message });
    } else if (weighed === '') {
      problems.push({ field: 'weighed', message: 'Say how the cloth was weighed.' });
    }
    if (weighed !== 'oven-dry' || checkContent(content).length > 0) return { massMg: mass, massFrom: '' };
    const massMg = commercialMassMg(mass, content);
    const from = regainMarks(content).map(sayMark).join('; ');
    return { massMg, massFrom: `${sumOfRegain(mass, regainBpOf(content), massMg)}; regain ${from}` };
  }
  if (area === null && perArea === null) {
    problems.push({
      field: 'mass',
      message: 'Give the mass of the cloth, or its area and its mass per area.',
    });
  } else if (area === null) {
    problems.push({ field: 'area', message: 'Give the area too, or the mass of the cloth.' });
  } else if (perArea === null) {
    problems.push({
      field: 'mass_per_area',
      message: 'Give the mass per area too, or the mass of the cloth.',
    });
  }
  if (area === null || perArea === null) return { massMg: 0, massFrom: '' };
  const massMg = Number(divideRounded(BigInt(area) * BigInt(perArea), SQUARE_METRE_TICKS2, 'near'));
  const m2 = (area / Number(SQUARE_METRE_TICKS2)).toFixed(4).replace(/\.?0+$/, '');
  return { massMg, massFrom: `${m2} m² × ${showMassPerArea(perArea, 'g/m²', 'near')}` };
}

interface AskedFor {
  readonly content: Content;
  readonly dyeClass: DyeClass;
  readonly labelled: LabelInForce | null;
}

function recipeOf(
  form: QuickForm,
  { content, dyeClass, labelled }: AskedFor,
  problems: Problem[],
): { recipe: Recipe; sources: string[] } {
  const dyes = dyesOf(form, dyeClass);
  if (dyes.length === 0)
    problems.push({ field: 'dyes', message: 'Give a dye in % of the cloth, or choose a depth.' });
  const usual = starterRecipe(content, dyeClass, dyes, form.method);
  const offered = usual && labelled ? wholeByLabel(usual, labelled.label) : usual;
  const typed = form.auxiliaries.map((row) => auxiliaryOf(row, problems));
  const kinds = new Set(typed.map(({ kind }) => kind));
  const added = form.offered ? (offered?.auxiliaries ?? []).filter(({ kind }) => !kinds.has(kind)) : [];
  const need = (field: string, name: string): number => {
    problems.push({ field, message: `Give the ${name}: none is offered for this dye on this cloth.` });
    return 0;
  };
  const recipe: Recipe = {
    dyeClass,
    method: offered?.method ?? form.method,
    dyes,
    auxiliaries: [...typed, ...added],
    liquorRatioMilli: form.liquor_ratio ?? offered?.liquorRatioMilli ?? need('liquor_ratio', 'liquor ratio'),
    temperatureC: form.temperature ?? offered?.temperatureC ?? need('temperature', 'temperature'),
    holdMinutes: form.hold?.value ?? offered?.holdMinutes ?? need('hold', 'time to hold'),
    ...(offered?.pHFrom === undefined ? {} : { pHFrom: offered.pHFrom }),
    ...(offered?.pHTo === undefined ? {} : { pHTo: offered.pHTo }),
    ...(offered?.heatRateMilli === undefined ? {} : { heatRateMilli: offered.heatRateMilli }),
    ...(offered?.coolRateMilli === undefined ? {} : { coolRateMilli: offered.coolRateMilli }),
    ...(offered?.label ? { label: offered.label } : {}),
    ...(form.also === null ? {} : { also: form.also }),
    marks: {
      ...offered?.marks,
      ...(form.liquor_ratio === null ? {} : { liquorRatioMilli: TYPED }),
      ...(form.temperature === null ? {} : { temperatureC: TYPED }),
      ...(form.hold === null ? {} : { holdMinutes: TYPED }),
    },
  };
  const sources = [
    ...dyes.map(() => (form.dyes.length > 0 ? sayFrom(form.from_label) : sayMark(DEPTHS[dyeClass].mark))),
    ...form.auxiliaries.map((row) => sayTyped(row, form.from_label)),
    ...added.map(({ kind }) => sayMark(offered?.marks[`auxiliaries.${kind}`] ?? OWN)),
  ];
  const byLabel = {
    ...(form.liquor_ratio === null ? {} : { liquorRatioMilli: form.liquor_ratio }),
    ...(form.temperature === null ? {} : { temperatureC: form.temperature }),
    ...(form.hold === null ? {} : { holdMinutes: form.hold.value }),
  };
  return { recipe: form.from_label ? withLabel(recipe, byLabel, LABEL.source) : recipe, sources };
}

function sayFrom(byLabel: boolean): string {
  return byLabel ? sayMark(LABEL) : 'as typed';
}

/** Where an amount comes from; one given for another form is told with the factor between the two. */
function sayTyped({ what, amount, stated }: QuickForm['auxiliaries'][number], byLabel: boolean): string {
  const from = sayFrom(byLabel);
  if (!stated || stated.kind !== what.kind || stated.form === what.form) return from;
  const { num, den } = factorInForm(what.kind, stated.form, what.form);
  const factor = (num / den).toFixed(4);
  return `${from}: ${showAddition(amount)} of ${nameOfForm(what.kind, stated.form)} × ${factor}`;
}

function classOf({ dye_class: typed }: QuickForm, content: Content): DyeClass {
  if (typed !== '') return typed;
  const main = [...content].sort((a, b) => b.shareBp - a.shareBp)[0]?.fibre;
  return (main && (startersFor(main)[0] ?? classesFor(main)[0])) ?? 'disperse';
}

function dyesOf(form: QuickForm, dyeClass: DyeClass): Recipe['dyes'] {
  if (form.dyes.length > 0) {
    return form.dyes.map(({ name, owf }, at) => ({
      name: name === '' ? `Dye ${at + 1}` : name,
      owfMilli: owf,
    }));
  }
  return form.depth === ''
    ? []
    : [{ name: `Dye for a ${form.depth} shade`, owfMilli: DEPTHS[dyeClass][form.depth] }];
}

type AuxiliaryRow = QuickForm['auxiliaries'][number];

/** The amount for the form that is at hand, or for another form of the same thing that it was given for. */
function auxiliaryOf({ place, what, amount, stated }: AuxiliaryRow, problems: Problem[]): RecipeAuxiliary {
  const name = nameOfForm(what.kind, what.form);
  if (stated && stated.kind !== what.kind) {
    problems.push({
      field: `auxiliaries.${place}.stated`,
      message: `Choose a form of ${nameOfForm(what.kind, what.form)}.`,
    });
    return auxiliaryFrom({ ...what, ...amount, name });
  }
  const other = stated && stated.form !== what.form ? { stated: stated.form } : {};
  return auxiliaryFrom({ ...what, ...amount, ...other, name });
}

/** Stocks by line: the dyes come first, then the auxiliaries that were typed. */
function stocksOf(form: QuickForm): StockStrength[] {
  const dyes = form.dyes.length > 0 ? form.dyes : form.depth === '' ? [] : [{ stock: null }];
  return [...dyes, ...form.auxiliaries].flatMap(({ stock }, line) =>
    stock === null ? [] : [{ line, mgPer100Ml: stock }],
  );
}

function firstStock(form: QuickForm): string {
  const dye = form.dyes.find(({ stock }) => stock !== null);
  if (dye) return `dyes.${dye.place}.stock`;
  const auxiliary = form.auxiliaries.find(({ stock }) => stock !== null);
  return auxiliary ? `auxiliaries.${auxiliary.place}.stock` : 'liquor_ratio';
}

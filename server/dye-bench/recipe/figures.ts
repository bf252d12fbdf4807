import { type AuxiliaryKind, auxiliaryForm, nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { showLiquorRatio } from '../../../src/dye/bench-figures.ts';
import { capital } from '../../../src/dye/fibre.ts';
import type { Fixing } from '../../../src/dye/label-class.ts';
import { saySeconds } from '../../../src/dye/label-order.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { MEASURED_PER, showPh, showRamp } from '../../../src/dye/recipe-figures.ts';
import { OWN, sayMark } from './store.ts';

/** A figure of a recipe in words, with where it comes from in small print. */
export interface RecipeFigure {
  readonly label: string;
  readonly value: string;
  readonly source: string;
}

type Figures = Pick<
  Recipe,
  | 'liquorRatioMilli'
  | 'temperatureC'
  | 'holdMinutes'
  | 'pHFrom'
  | 'pHTo'
  | 'heatRateMilli'
  | 'coolRateMilli'
  | 'marks'
> & { readonly dyeClass?: Recipe['dyeClass']; readonly fixing?: Recipe['fixing'] };

/** Liquor ratio, temperature, hold and pH of a recipe, and its own rates where it has any. */
export function recipeFigures(recipe: Figures): RecipeFigure[] {
  const figure = (label: string, value: string, key: string): RecipeFigure => ({
    label,
    value,
    source: sayMark(recipe.marks[key] ?? OWN),
  });
  const pH = sayPh(recipe);
  const rate = (label: string, rateMilli: number | undefined) =>
    rateMilli === undefined ? [] : [figure(label, showRamp(rateMilli), 'rates')];
  return [
    ...(recipe.dyeClass === 'transfer'
      ? []
      : [figure('Liquor ratio', showLiquorRatio(recipe.liquorRatioMilli), 'liquorRatioMilli')]),
    figure('Temperature', `${recipe.temperatureC} °C`, 'temperatureC'),
    figure('Hold', `${recipe.holdMinutes} min`, 'holdMinutes'),
    ...(pH === '' ? [] : [figure('pH', pH, 'pH')]),
    ...rate('Heat by', recipe.heatRateMilli),
    ...rate('Cool by', recipe.coolRateMilli),
    ...(recipe.fixing ? [figure('Fixed by', sayFixing(recipe.fixing), 'holdMinutes')] : []),
  ];
}

/** All of them in a line: "liquor ratio 1:20, temperature 98 °C, hold 45 min, pH 4 to 6". */
export function sayFigures(recipe: Figures): string {
  return recipeFigures(recipe)
    .map(({ label, value }) => `${label === 'pH' ? label : label.toLowerCase()} ${value}`)
    .join(', ');
}

/** "press, 200 °C for 30 s". */
function sayFixing({ how, temperatureC, seconds }: Fixing): string {
  return `${how}, ${temperatureC} °C for ${saySeconds(seconds)}`;
}

/** "4 to 5.5", or '' where the recipe gives no pH. */
export function sayPh({ pHFrom, pHTo }: Pick<Recipe, 'pHFrom' | 'pHTo'>): string {
  if (pHFrom === undefined || pHTo === undefined) return '';
  const show = (pH: number) => showPh(Math.round(pH * 10));
  return pHFrom === pHTo ? show(pHFrom) : `${show(pHFrom)} to ${show(pHTo)}`;
}

/**
 * A recipe's amount of a liquid as it is measured, where that is the rounder figure: "20.12 % owf" of vinegar is "200 mL
 * to 1 kg of cloth", "20.12 g/L" of it "20 mL/L". The rest stays as it was asked. A recipe's form reads it back.
 */
export function sayMeasured(kind: AuxiliaryKind, form: string, asked: string): string {
  const density = auxiliaryForm(kind, form)?.densityMgPerMl;
  if (density === undefined) return asked;
  const byLitre = asked.endsWith('g/L');
  const figure = Number.parseFloat(asked);
  // 1 g/L is 1000 mg in a litre, 1 % is 10 000 mg on a kilogram.
  const ml = (figure * (byLitre ? 1000 : 10_000)) / density;
  const shown = Number(ml.toPrecision(FIGURES));
  const rounder = Math.abs(shown - ml) < 1e-9 * ml && figure !== Number(figure.toPrecision(FIGURES));
  return rounder ? `${shown} ${MEASURED_PER[byLitre ? 'litre' : 'cloth']}` : asked;
}

/** As many figures as a jug or a spoon of the balance can tell. */
const FIGURES = 3;

/** The workroom's own name for an auxiliary, with the form in brackets where the name does not say it. */
export function sayForm(auxiliary: {
  readonly kind: AuxiliaryKind;
  readonly form: string;
  readonly name: string;
}): string {
  const form = nameOfForm(auxiliary.kind, auxiliary.form);
  const name = capital(auxiliary.name);
  return auxiliary.kind === 'other' || auxiliary.name === form ? name : `${name} (${form})`;
}

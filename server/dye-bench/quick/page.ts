import { sumOfBath, sumOfShare } from '../../../src/dye/bath-sums.ts';
import { eachOnce, vesselWarnings } from '../../../src/dye/card-warnings.ts';
import { type Caution, cautionsFor } from '../../../src/dye/cautions.ts';
import { creaseCare } from '../../../src/dye/crease-care.ts';
import { dyeFor, type Warning } from '../../../src/dye/dye-advice.ts';
import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { EXHAUSTION_MARK, sumOfExhaustion } from '../../../src/dye/exhaustion.ts';
import { capital, showContent } from '../../../src/dye/fibre.ts';
import { loadOf, TAP_C } from '../../../src/dye/heater.ts';
import { fastestHeating, rampOf } from '../../../src/dye/ramp.ts';
import { checkRecipe } from '../../../src/dye/recipe.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems } from '../../refusal.ts';
import { readBody } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { type ShownGroup, type ShownLine, showGrams, shownGroups, shownLines } from '../card/amounts-show.ts';
import { type ShownHeat, showHeat } from '../card/heat-show.ts';
import { type ShownPoint, shownRamp } from '../card/ramp-show.ts';
import { WEIGHED_AIR_DRY } from '../card/show.ts';
import { type ShownSplit, showSplit } from '../card/split-show.ts';
import { showUl } from '../card/volumes.ts';
import { type RecipeFigure, recipeFigures } from '../recipe/figures.ts';
import { OWN, sayMark } from '../recipe/store.ts';
import { type QuickBath, workOutQuick } from './bath.ts';
import { type QuickChoices, quickChoices } from './choices.ts';
import { QUICK, QUICK_ROWS, type QuickForm } from './form.ts';

export interface QuickBathData {
  /** by the name of the field */
  readonly typed: Typed;
  readonly rows: Readonly<Record<keyof typeof QUICK_ROWS, readonly number[]>>;
  readonly choices: QuickChoices;
  readonly balance: string;
  /** what was worked out, in words and in plain figures; null before that */
  readonly result: ShownQuick | null;
  readonly figures: QuickBath | null;
}

export interface ShownQuick {
  readonly cautions: readonly Caution[];
  readonly warnings: readonly Warning[];
  readonly cloth: string;
  readonly dye: string;
  readonly mass: { readonly shown: string; readonly how: string };
  /** '' where all of the cloth takes the dye */
  readonly dyedHow: string;
  readonly bath: { readonly shown: string; readonly how: string };
  readonly groups: readonly ShownGroup[];
  readonly lines: readonly ShownLine[];
  readonly split: ShownSplit | null;
  readonly figures: readonly RecipeFigure[];
  readonly heat: ShownHeat;
  readonly ramp: readonly ShownPoint[];
}

/** The calculator alone: what the address asks is worked out, nothing is kept. */
export function quickBathPage(typed: Typed, balanceMg: number): Page {
  const asked = Object.values(typed).some((text) => text !== '');
  const { value: worked, problems } = orProblems(() => (asked ? workOutTyped(typed, balanceMg) : null));
  const data: QuickBathData = {
    typed: asked ? typed : { offered: 'yes' },
    rows: {
      fibres: rowsOf(typed, 'fibres'),
      dyes: rowsOf(typed, 'dyes'),
      auxiliaries: rowsOf(typed, 'auxiliaries'),
    },
    choices: quickChoices(),
    balance: showGrams(balanceMg),
    result: worked?.result ?? null,
    figures: worked?.figures ?? null,
  };
  return { view: 'dye-bench/quick/quick', data, title: 'Quick bath', room: 'dye-bench', problems };
}

function workOutTyped(typed: Typed, balanceMg: number) {
  const form = readForm(QUICK, readBody({ ...typed }).body);
  const figures = workOutQuick(form, balanceMg);
  return { result: showQuick(figures, form), figures };
}

function showQuick(quick: QuickBath, form: QuickForm): ShownQuick {
  const { plan, recipe, content } = quick;
  const { volumeUl } = plan.bath;
  return {
    cautions: cautionsFor(recipe),
    warnings: warningsOf(quick, form),
    cloth: showContent(content),
    dye: `${capital(DYE_CLASS_NAMES[recipe.dyeClass])}${recipe.method === '' ? '' : `, ${recipe.method}`}`,
    mass: { shown: showGrams(quick.massMg), how: quick.massFrom || WEIGHED_AIR_DRY },
    dyedHow: quick.dyedBp === 10_000 ? '' : sumOfShare(quick.massMg, quick.dyedBp, quick.dyedMg),
    bath: { shown: showUl(volumeUl), how: sumOfBath(quick.massMg, recipe.liquorRatioMilli, volumeUl) },
    groups: shownGroups(plan, form.strips !== null),
    lines: shownLines(plan, quick.dyedMg, quick.sources),
    split:
      form.vessel === null
        ? null
        : showSplit(plan, {
            name: showVolume(form.vessel, 'near'),
            volumeMl: form.vessel,
            temperatureC: recipe.temperatureC,
            counted: form.strips !== null,
          }),
    figures: [
      ...recipeFigures(recipe).map((figure) =>
        figure.source === sayMark(OWN) ? { ...figure, source: 'as typed' } : figure,
      ),
      ...exhaustionFigure(quick),
    ],
    heat: heatOf(quick, form),
    ramp: shownRamp(rampOf(recipe, content)),
  };
}

function exhaustionFigure({ exhaustion }: QuickBath): RecipeFigure[] {
  if (!exhaustion) return [];
  const { appliedMg, leftMg } = exhaustion;
  const [how = '', value = ''] = sumOfExhaustion(appliedMg, leftMg).split(' = ');
  return [{ label: 'Exhaustion', value, source: `${how}; ${sayMark(EXHAUSTION_MARK)}` }];
}

function warningsOf({ recipe, content }: QuickBath, form: QuickForm): Warning[] {
  return eachOnce([
    ...checkRecipe(recipe, content).warnings,
    ...dyeFor(content).warnings,
    ...(form.sheer ? creaseCare(content, recipe) : []),
    ...vesselWarnings(recipe, form),
  ]);
}

function heatOf({ plan, recipe, content }: QuickBath, form: QuickForm): ShownHeat {
  const one = plan.baths[0] ?? plan.bath;
  const kind = form.heater_kind === '' ? 'electric' : form.heater_kind;
  return showHeat({
    load: loadOf(one, { emptyMg: form.empty, material: form.material }),
    fromC: form.water ?? TAP_C,
    toC: recipe.temperatureC,
    rateCPerMinute: fastestHeating(recipe, content),
    holdMinutes: recipe.holdMinutes,
    heater:
      form.heater === null
        ? null
        : {
            watts: form.heater,
            kind,
            ...(form.efficiency === null ? {} : { efficiencyBp: form.efficiency }),
          },
  });
}

/** The places of a list's rows: those that were sent, and one to spare where the page draws no more. */
function rowsOf(typed: Typed, list: keyof typeof QUICK_ROWS): number[] {
  const filled = Object.entries(typed).map(([name, value]) => {
    const place = new RegExp(`^${list}\\.(\\d+)\\.`).exec(name)?.[1];
    return place === undefined || value === '' ? 0 : Number(place) + 1;
  });
  const count = Math.min(20, Math.max(QUICK_ROWS[list], Math.max(0, ...filled) + 1));
  return Array.from({ length: count }, (_, index) => index);
}

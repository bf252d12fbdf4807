import { sumOfBath, sumOfShare } from '../../../src/dye/bath-sums.ts';
import { eachOnce, orderWarnings, vesselWarnings } from '../../../src/dye/card-warnings.ts';
import { cautionsFor } from '../../../src/dye/cautions.ts';
import { creaseCare } from '../../../src/dye/crease-care.ts';
import { dyeFor, type Warning } from '../../../src/dye/dye-advice.ts';
import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { EXHAUSTION_MARK, sumOfExhaustion } from '../../../src/dye/exhaustion.ts';
import { wantedPh } from '../../../src/dye/expected-ph.ts';
import { capital, showContent } from '../../../src/dye/fibre.ts';
import { loadOf, TAP_C } from '../../../src/dye/heater.ts';
import { labelDifferences } from '../../../src/dye/maker-label.ts';
import type { Bench } from '../../../src/dye/measuring.ts';
import { fastestHeating, type RampPoint, rampOf } from '../../../src/dye/ramp.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import type { DatedWater } from '../../../src/dye/water.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { orProblems } from '../../refusal.ts';
import { readWater } from '../../setup/water/store.ts';
import { readBody } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { showGrams, shownGroups, shownLines } from '../card/amounts-show.ts';
import { showHeat } from '../card/heat-show.ts';
import { showBathPh } from '../card/ph-show.ts';
import { WEIGHED_AIR_DRY } from '../card/show.ts';
import { showSplit } from '../card/split-show.ts';
import { showUl } from '../card/volumes.ts';
import { sayWhoseLabel } from '../label/store.ts';
import { filledIn } from '../numbered-rows.ts';
import { withHeads } from '../pot/step.ts';
import { type RecipeFigure, recipeFigures } from '../recipe/figures.ts';
import { OWN, sayMark } from '../recipe/store.ts';
import { type QuickBath, workOutQuick } from './bath.ts';
import { QUICK, type QuickForm } from './form.ts';

/** The calculator alone: what the address asks is worked out, nothing is kept. */
export function quickBathPage(reader: Reader, typed: Typed) {
  const bench = readWorkroom(reader);
  const water = readWater(reader);
  const asked = Object.values(typed).some((text) => text !== '');
  const { value: worked, problems } = orProblems(() =>
    asked ? workOutTyped(reader, typed, bench, water) : null,
  );
  const data = {
    fields: drawFields(QUICK.shape, asked ? filledIn(typed) : { offered: 'yes' }),
    balance: showGrams(bench.balanceMg),
    /** what was worked out, in words and in plain figures; null before that */
    result: worked?.result ?? null,
    figures: worked?.figures ?? null,
  };
  return {
    view: 'dye-bench/quick/quick',
    data,
    title: 'Quick bath',
    room: 'dye-bench',
    problems,
  } satisfies Page;
}

function workOutTyped(reader: Reader, typed: Typed, bench: Bench, water: DatedWater | null) {
  const form = readForm(QUICK, readBody({ ...typed }).body);
  const figures = workOutQuick(reader, form, bench);
  return { result: showQuick(figures, form, water), figures };
}

/** What a quick bath comes to, in words. */
export type QuickBathAnswer = ReturnType<typeof showQuick>;

function showQuick(quick: QuickBath, form: QuickForm, water: DatedWater | null) {
  const { plan, recipe, content } = quick;
  const { volumeUl } = plan.bath;
  return {
    cautions: withHeads(cautionsFor(recipe)),
    warnings: warningsOf(quick, form, water),
    cloth: showContent(content),
    dye: `${capital(DYE_CLASS_NAMES[recipe.dyeClass])}${recipe.method === '' ? '' : `, ${recipe.method}`}`,
    /** whose label it is worked by; '' where it is worked by none */
    label: quick.labelled ? `Worked by ${sayWhoseLabel(quick.labelled)}` : '',
    mass: { shown: showGrams(quick.massMg), how: quick.massFrom || WEIGHED_AIR_DRY },
    /** '' where all of the cloth takes the dye */
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
    ph: showBathPh({
      bath: plan.baths[0] ?? plan.bath,
      wants: wantedPh(recipe, content),
      temperatureC: recipe.temperatureC,
      water,
      marks: recipe.marks,
    }),
    heat: heatOf(quick, form),
    ramp: showRamp(rampOf(recipe, content)),
  };
}

function exhaustionFigure({ exhaustion }: QuickBath): RecipeFigure[] {
  if (!exhaustion) return [];
  const { appliedMg, leftMg } = exhaustion;
  const [how = '', value = ''] = sumOfExhaustion(appliedMg, leftMg).split(' = ');
  return [{ label: 'Exhaustion', value, source: `${how}; ${sayMark(EXHAUSTION_MARK)}` }];
}

function warningsOf(
  { recipe, content, ratioWarnings }: QuickBath,
  form: QuickForm,
  water: DatedWater | null,
): Warning[] {
  return eachOnce([
    ...checkRecipe(recipe, content, water).warnings,
    ...labelDifferences(recipe),
    ...dyeFor(content).warnings,
    ...(form.sheer ? creaseCare(content, recipe) : []),
    ...ratioWarnings,
    ...vesselWarnings(recipe, form),
    ...orderWarnings(recipe),
  ]);
}

function heatOf({ plan, recipe, content }: QuickBath, form: QuickForm) {
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

/** The ramp as a table: when a step begins, how warm the bath is then, and what is done. */
function showRamp(points: readonly RampPoint[]) {
  return points.map(({ minute, temperatureC, says, adds, kind }) => ({
    minute,
    /** "0:10", hours and minutes after setting */
    at: `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`,
    temperature: `${temperatureC} °C`,
    says: kind === 'end' ? 'Take the cloth out, rinse, and clear it as the label says.' : says,
    adds: adds.join(', '),
  }));
}

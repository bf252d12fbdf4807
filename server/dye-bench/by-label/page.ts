import { showLiquorRatio, showOwf } from '../../../src/dye/bench-figures.ts';
import { capital, fibreOf } from '../../../src/dye/fibre.ts';
import {
  isLabelClass,
  LABEL_CLASS_NAMES,
  LABEL_CLASSES,
  labelClassFacts,
} from '../../../src/dye/label-class.ts';
import { saySeconds } from '../../../src/dye/label-order.ts';
import { showPh } from '../../../src/dye/recipe-figures.ts';
import { writePercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { countTyped, type Drawn, type DrawnField, drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import { rowsAsTyped, type Typed } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { filledIn } from '../numbered-rows.ts';
import { BY_LABEL, byLabelVersionPath } from '../recipe/by-label.ts';
import { sayAmount } from '../recipe/offer.ts';
import { readRecipe, recipePath, type StoredRecipe } from '../recipe/store.ts';
import { labelRecipeForm, labelVersionForm } from './form.ts';

/** Blank rows that are added where more are asked for. */
const MORE_ROWS = 3;

/** The form for a recipe by a label; with `?from=` it is filled in with another one. */
export function labelRecipePage(reader: Reader, typed: Typed) {
  const fromId = queryNumber(typed, 'from');
  const source = fromId === null ? null : readRecipe(reader, fromId);
  const { from: _, ...said } = typed;
  const shown: Typed = source ? { ...asTypedByLabel(source), fibre: source.fibre, ...said } : said;
  const { name, shade_id, fibre, ...fields } = drawLabel(labelRecipeForm(reader).shape, shown);
  return labelFormPage(shown, fields, {
    title: source ? `Copy of ${source.name}` : 'New label-only recipe',
    action: BY_LABEL,
    forWhat: [name, shade_id, fibre],
    follows: null,
  });
}

/** The form for the next version of a recipe by a label. */
export function labelVersionPage(reader: Reader, id: number, typed: Typed) {
  const before = readRecipe(reader, id);
  const shown = typed.dye_class === undefined ? { ...asTypedByLabel(before), ...typed } : typed;
  const fields = drawLabel(labelVersionForm(reader).shape, shown);
  return labelFormPage(shown, fields, {
    title: `${before.name}, version ${before.version + 1}`,
    action: byLabelVersionPath(id),
    forWhat: [],
    follows: {
      version: before.version,
      href: recipePath(id),
      chip: shadeChip(before.shade),
      fibre: fibreOf(before.fibre).name,
    },
  });
}

interface FormOf {
  readonly title: string;
  readonly action: string;
  readonly forWhat: readonly DrawnField[];
  /** the version that the new one follows */
  readonly follows: {
    readonly version: number;
    readonly href: string;
    readonly chip: ReturnType<typeof shadeChip>;
    readonly fibre: string;
  } | null;
}

export function labelFormPage(
  typed: Typed,
  fields: Drawn<ReturnType<typeof labelVersionForm>['shape']>,
  { title, action, forWhat, follows }: FormOf,
) {
  const kind = LABEL_CLASSES.find((each) => each === typed.dye_class);
  const data = {
    requestKey: mintKey(),
    action,
    forWhat,
    follows,
    fields,
    /** what was found in print of each kind, to read a label with; no figure of ours is offered */
    found: LABEL_CLASSES.flatMap((each) => {
      const { found, mark } = labelClassFacts(each);
      if (found === '') return [];
      return [{ name: capital(LABEL_CLASS_NAMES[each]), found, source: mark.source, chosen: each === kind }];
    }),
    back: follows?.href ?? '/dye-bench/recipes',
  };
  return { view: 'dye-bench/by-label/form', data, title, room: 'dye-bench' } satisfies Page;
}

function drawLabel<const F extends Parameters<typeof drawFields>[0]>(shape: F, typed: Typed): Drawn<F> {
  const filled = filledIn(typed);
  const more = (list: string) => ({ [list]: countTyped(filled, list) + MORE_ROWS });
  return drawFields(
    shape,
    filled,
    typed.keep === undefined ? {} : { ...more('dyes'), ...more('auxiliaries') },
  );
}

/** A recipe by its label as somebody would type it. */
function asTypedByLabel({ recipe, shrinkageBp, note }: StoredRecipe): Typed {
  const { dyes, auxiliaries, fixing, pHFrom, pHTo } = recipe;
  const pH = (value: number | undefined) => (value === undefined ? '' : showPh(Math.round(value * 10)));
  return {
    dye_class: isLabelClass(recipe.dyeClass) ? recipe.dyeClass : 'other-by-label',
    method: recipe.method,
    liquor_ratio: showLiquorRatio(recipe.liquorRatioMilli),
    temperature: String(recipe.temperatureC),
    hold: String(recipe.holdMinutes),
    ph_from: pH(pHFrom),
    ph_to: pH(pHTo),
    fixing: fixing?.how ?? '',
    fixing_temperature: fixing ? String(fixing.temperatureC) : '',
    fixing_time: fixing ? saySeconds(fixing.seconds) : '',
    shrinkage: writePercent(shrinkageBp),
    note,
    ...rowsAsTyped(
      'dyes',
      dyes.map(({ name, owfMilli }) => ({ name, owf: showOwf(owfMilli).replace(' % owf', '') })),
    ),
    ...rowsAsTyped(
      'auxiliaries',
      auxiliaries.map((each) => ({
        what: `${each.kind}/${each.form}`,
        amount: sayAmount(each).replace(' owf', ''),
        name: each.name,
      })),
    ),
  };
}

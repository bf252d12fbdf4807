import { byLabel, saysNothing } from '../../../src/dye/maker-label.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { type Problem, refuseAny } from '../../refusal.ts';
import { withoutKey } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { dyePath, readDye } from '../dyes/store.ts';
import { filledIn } from '../numbered-rows.ts';
import { checkInWater } from '../recipe/check.ts';
import { readRecipe, recipePath } from '../recipe/store.ts';
import { MAKER_LABEL, type MakerLabelForm, makeLabel } from './form.ts';
import { labelSheet } from './sheet.ts';
import { keepLabel, readLabels } from './store.ts';

/** The maker's label of a dye. */
export function dyeLabelPage(reader: Reader, dyeId: number, typed?: Typed) {
  const dye = readDye(reader, dyeId);
  const of = { name: dye.name, what: 'dye', href: dyePath(dyeId) } as const;
  return labelPage(readLabels(reader, { dyeId }), of, typed);
}

/** The maker's label of what a recipe is made of. */
export function recipeLabelPage(reader: Reader, recipeId: number, typed?: Typed) {
  const { name, version } = readRecipe(reader, recipeId);
  const of = { name: `${name}, version ${version}`, what: 'recipe', href: recipePath(recipeId) } as const;
  return labelPage(readLabels(reader, { name, version }), of, typed);
}

function labelPage(
  labels: ReturnType<typeof readLabels>,
  of: { readonly name: string; readonly what: 'dye' | 'recipe'; readonly href: string },
  typed?: Typed,
) {
  const [now] = labels;
  const data = {
    requestKey: mintKey(),
    ...of,
    action: `${of.href}/label`,
    fields: drawFields(MAKER_LABEL.shape, filledIn(typed ?? now?.typed ?? {})),
    /** as it is printed; null where nothing is entered */
    sheet: now && !saysNothing(now.label) ? labelSheet(now.label) : null,
    /** who entered it when, the one in force first */
    entered: labels.map(({ at, person, label }) => ({
      who: `${person}, ${showMoment(at)}`,
      empty: saysNothing(label),
    })),
  };
  return {
    view: 'dye-bench/label/label',
    data,
    title: `Maker’s label of ${of.name}`,
    room: 'dye-bench',
  } satisfies Page;
}

/** Keeps the label of a dye; recipes with it are worked by it from now on, batches that have started are not. */
export function keepDyeLabel(tx: Tx, dyeId: number, form: MakerLabelForm, typed: Typed): Answer {
  const dye = readDye(tx, dyeId);
  const problems: Problem[] = [];
  const label = makeLabel(form, problems);
  refuseAny(problems);
  const newest = readLabels(tx, { dyeId })[0]?.label;
  keepLabel(tx, { dyeId }, { label, typed: withoutKey(typed), newest });
  return { location: `${dyePath(dyeId)}/label`, said: sayKept(dye.name, saysNothing(label)) };
}

/** Keeps the label of a recipe. @throws {Refusal} invalid, by field, where the fibre does not stand it */
export function keepRecipeLabel(tx: Tx, recipeId: number, form: MakerLabelForm, typed: Typed): Answer {
  const { name, version, written, fibre } = readRecipe(tx, recipeId);
  const problems: Problem[] = [];
  const label = makeLabel(form, problems);
  refuseAny(problems);
  const content = [{ fibre, shareBp: 10_000 }];
  const before = new Set(checkInWater(tx, written, content).problems.map(({ message }) => message));
  const found = checkInWater(tx, byLabel(written, label), content).problems;
  refuseAny(
    found
      .filter(({ message }) => !before.has(message))
      .map(({ field, message }) => ({ field: fieldOf(field), message })),
  );
  const newest = readLabels(tx, { name, version })[0]?.label;
  keepLabel(tx, { recipeId }, { label, typed: withoutKey(typed), newest });
  return { location: recipePath(recipeId), said: sayKept(name, saysNothing(label)) };
}

const FIELDS: Readonly<Record<string, string>> = {
  temperatureC: 'temperature',
  holdMinutes: 'hold',
  liquorRatioMilli: 'liquor_ratio',
  pH: 'ph_from',
};

function fieldOf(field: string): string {
  return FIELDS[field] ?? (field.startsWith('auxiliaries') ? 'doses' : 'source');
}

function sayKept(name: string, nothing: boolean): string {
  return nothing
    ? `The label of ${name} says nothing now: the figures given here hold again.`
    : `The label of ${name} is kept. It goes before the figures given here.`;
}

import { nameOfForm } from '../../../src/dye/auxiliaries.ts';
import type { Content } from '../../../src/dye/fibre.ts';
import type { Fixing } from '../../../src/dye/label-class.ts';
import { auxiliaryFrom, type Recipe } from '../../../src/dye/recipe.ts';
import type { Answer, Tx } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { conflict, invalid, type Problem, refuseAny } from '../../refusal.ts';
import { withoutKey } from '../../web/body.ts';
import { atField } from '../numbered-rows.ts';
import { checkInWater } from '../recipe/check.ts';
import { insertRecipe, LABEL, readRecipe, recipePath } from '../recipe/store.ts';
import type { LabelRecipeForm, LabelVersionForm } from './form.ts';

/** Keeps a recipe by a label under a new name. @throws {Refusal} invalid, by field, where it cannot work */
export function keepLabelRecipe(tx: Tx, form: LabelRecipeForm, typed: Typed): Answer {
  const same = tx.first(tx.db.selectFrom('recipe').select('id').where('name', '=', form.name));
  if (same) throw invalid('name', `There is a recipe ${form.name} already: take another name.`);
  const as = { name: form.name, version: 1, followsId: null };
  const id = keep(tx, form, typed, { ...as, shadeId: form.shade_id, fibre: form.fibre });
  return { location: recipePath(id), said: `Recipe ${form.name} is kept, by its label.` };
}

/** Keeps the next version of a recipe by a label, for the same shade and fibre. */
export function keepLabelVersion(tx: Tx, ofId: number, form: LabelVersionForm, typed: Typed): Answer {
  const before = readRecipe(tx, ofId);
  if (before.followedById !== null) {
    throw conflict(`Version ${before.version} of ${before.name} was followed by a newer one already.`, {
      text: `The newer version of ${before.name}`,
      href: recipePath(before.followedById),
    });
  }
  const version = before.version + 1;
  const as = { name: before.name, version, followsId: before.id, shadeId: before.shade.id };
  const id = keep(tx, form, typed, { ...as, fibre: before.fibre });
  return { location: recipePath(id), said: `Version ${version} of ${before.name} is kept.` };
}

interface KeptAs {
  readonly name: string;
  readonly version: number;
  readonly followsId: number | null;
  readonly shadeId: number;
  readonly fibre: LabelRecipeForm['fibre'];
}

function keep(tx: Tx, form: LabelVersionForm, typed: Typed, as: KeptAs): number {
  const problems: Problem[] = [];
  const recipe = makeLabelRecipe(form, problems);
  const content: Content = [{ fibre: as.fibre, shareBp: 10_000 }];
  problems.push(...checkInWater(tx, recipe, content).problems.map((problem) => atLabelField(problem, form)));
  for (const { place, name, what } of form.auxiliaries) {
    if (what.kind === 'other' && name === '')
      problems.push({ field: `auxiliaries.${place}.name`, message: 'Say what it is.' });
  }
  refuseAny(problems);
  return insertRecipe(tx, {
    ...as,
    recipe,
    auxiliaryMarks: recipe.auxiliaries.map(() => LABEL),
    shrinkageBp: form.shrinkage.value,
    note: form.note,
    typed: withoutKey(typed),
  });
}

const FIXING_FIELDS: Readonly<Record<string, string>> = {
  'fixing.temperatureC': 'fixing_temperature',
  'fixing.seconds': 'fixing_time',
};

function atLabelField(problem: Problem, form: LabelVersionForm): Problem {
  const field = FIXING_FIELDS[problem.field];
  return field ? { ...problem, field } : atField(problem, form);
}

/** The recipe that a form describes, every figure from the label; a fixing of which a part is missing is a problem. */
export function makeLabelRecipe(form: LabelVersionForm, problems: Problem[]): Recipe {
  const fixing = readFixing(form, problems);
  const from = form.ph_from ?? form.ph_to;
  const to = form.ph_to ?? form.ph_from;
  return {
    dyeClass: form.dye_class,
    method: form.method,
    dyes: form.dyes.map(({ name, owf }) => ({ name, owfMilli: owf })),
    auxiliaries: form.auxiliaries.map(({ what, name, amount }) =>
      auxiliaryFrom({ ...what, ...amount, name: name === '' ? nameOfForm(what.kind, what.form) : name }),
    ),
    liquorRatioMilli: form.liquor_ratio,
    temperatureC: form.temperature,
    holdMinutes: form.hold.value,
    ...(from === null || to === null ? {} : { pHFrom: from / 10, pHTo: to / 10 }),
    ...(fixing ? { fixing } : {}),
    marks: { liquorRatioMilli: LABEL, temperatureC: LABEL, holdMinutes: LABEL, pH: LABEL },
  };
}

function readFixing(form: LabelVersionForm, problems: Problem[]): Fixing | undefined {
  const { fixing: how, fixing_temperature: heat, fixing_time: seconds } = form;
  if (how === '') {
    if (heat !== null || seconds !== null)
      problems.push({ field: 'fixing', message: 'Say how it is fixed, or leave its heat and time blank.' });
    return undefined;
  }
  if (heat === null)
    problems.push({ field: 'fixing_temperature', message: 'Give the heat that the label says.' });
  if (seconds === null)
    problems.push({ field: 'fixing_time', message: 'Give the time that the label says.' });
  return heat === null || seconds === null ? undefined : { how, temperatureC: heat.value, seconds };
}

import { nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { conditionsFor } from '../../../src/dye/dye-conditions.ts';
import { type Content, fibreOf } from '../../../src/dye/fibre.ts';
import { lackingDoses, withLackingDoses } from '../../../src/dye/maker-label.ts';
import {
  amountOf,
  auxiliaryFrom,
  markOf,
  type Recipe,
  type RecipeAuxiliary,
} from '../../../src/dye/recipe.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';
import type { Provenance } from '../../../src/quantity/provenance.ts';
import type { Answer, Tx } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { listed } from '../../kit/words.ts';
import { conflict, invalid, type Problem, refuseAny } from '../../refusal.ts';
import { withoutKey } from '../../web/body.ts';
import { readDyeCloths } from '../batch/dyeable.ts';
import { type Dye, readDyes } from '../dyes/store.ts';
import { carryLabel } from '../label/store.ts';
import { atField } from '../numbered-rows.ts';
import { typedWith } from './as-typed.ts';
import { refuseByLabel } from './by-label.ts';
import { checkInWater } from './check.ts';
import { keepCopied } from './copy-store.ts';
import type { CopyRecipeForm, NewRecipeForm, RecipeForm, VersionForm } from './form.ts';
import { insertRecipe, LABEL, OWN, readRecipe, recipePath, type StoredRecipe } from './store.ts';

/** Keeps a recipe of a new name, version 1. @throws {Refusal} invalid, by field, where it cannot work */
export function keepNewRecipe(tx: Tx, form: NewRecipeForm, typed: Typed): Answer {
  const id = keepNamed(tx, form, typed);
  return { location: recipePath(id), said: `Recipe ${form.name} is kept.` };
}

/** Keeps a copy of a recipe under a name of its own, for another shade, cloth or fibre. Refused as a new recipe is. */
export function keepCopy(tx: Tx, ofId: number, { cloth_id, ...form }: CopyRecipeForm, typed: Typed): Answer {
  const source = readRecipe(tx, ofId);
  const content = cloth_id === null ? [] : (readDyeCloths(tx, [cloth_id]).get(cloth_id)?.content ?? []);
  if (content.length > 0) {
    if (!content.some(({ fibre }) => fibre === form.fibre)) {
      throw invalid('fibre', `The cloth has no ${fibreOf(form.fibre).name}: choose one of its fibres.`);
    }
    refuseAny(
      checkInWater(tx, makeRecipe(form).recipe, content).problems.map((problem) => atField(problem, form)),
    );
  }
  const id = keepNamed(tx, form, typed);
  keepCopied(tx, id, source.id, cloth_id);
  return {
    location: recipePath(id),
    said: `Recipe ${form.name} is kept, copied from ${source.name}, version ${source.version}.${copyLabel(tx, source, form, id)}`,
  };
}

/** A label is of a class of dye on a fibre: another of either has a label of its own. In words. */
function copyLabel(tx: Tx, source: StoredRecipe, form: RecipeForm, id: number): string {
  if (source.labelled?.dye !== null) return '';
  if (form.fibre === source.fibre && form.dye_class === source.recipe.dyeClass) {
    carryLabel(tx, source, id);
    return ' Its maker’s label came with it.';
  }
  return ' Its maker’s label is for another dye or fibre and was left behind.';
}

/** The next version of a recipe, with what its label doses at this depth and it lacks. */
export function addLabelDoses(tx: Tx, ofId: number): Answer {
  const before = readRecipe(tx, ofId);
  refuseByLabel(before);
  refuseFollowed(before);
  const { labelled, recipe, written, fibre } = before;
  const lacking = labelled ? lackingDoses(recipe, labelled.label) : [];
  if (!labelled || lacking.length === 0) {
    throw conflict(`${before.name} has all that its label doses at this depth.`);
  }
  const made = withLackingDoses(written, labelled.label);
  const [problem] = checkInWater(tx, made, [{ fibre, shareBp: 10_000 }]).problems;
  if (problem)
    throw conflict(problem.message, { text: 'To the form', href: `${recipePath(ofId)}/versions/new` });
  const version = before.version + 1;
  const id = insertRecipe(tx, {
    ...before,
    version,
    followsId: before.id,
    shadeId: before.shade.id,
    recipe: made,
    auxiliaryMarks: made.auxiliaries.map(({ kind }) => markOf(made, `auxiliaries.${kind}`)),
    typed: typedWith(before, made),
  });
  return {
    location: recipePath(id),
    said: `Version ${version} of ${before.name} is kept, with ${listed(lacking.map(({ name }) => name))} by the label.`,
  };
}

/** @throws {Refusal} conflict where a newer version follows */
function refuseFollowed(before: StoredRecipe): void {
  if (before.followedById === null) return;
  throw conflict(
    `Version ${before.version} of ${before.name} was followed by version ${before.version + 1} already: start from the newest.`,
    { text: `The newer version of ${before.name}`, href: recipePath(before.followedById) },
  );
}

function keepNamed(tx: Tx, form: NewRecipeForm, typed: Typed): number {
  const same = tx.first(
    tx.db
      .selectFrom('recipe')
      .select(['id', 'version'])
      .where('name', '=', form.name)
      .orderBy('version', 'desc'),
  );
  if (same) {
    throw invalid(
      'name',
      `There is a recipe ${form.name} already: keep a new version of it, or take another name.`,
    );
  }
  return keep(tx, form, typed, { name: form.name, version: 1, followsId: null });
}

/** Keeps the next version of a recipe, for the same shade and fibre; the one before stays as it is. */
export function keepNewVersion(tx: Tx, ofId: number, form: VersionForm, typed: Typed): Answer {
  const before = readRecipe(tx, ofId);
  refuseFollowed(before);
  const version = before.version + 1;
  const { shade, fibre } = before;
  const forWhat = { shade_id: String(shade.id), fibre };
  const id = keep(
    tx,
    { ...form, shade_id: shade.id, fibre },
    { ...typed, ...forWhat },
    { name: before.name, version, followsId: before.id },
  );
  return {
    location: recipePath(id),
    said: `Version ${version} of ${before.name} is kept; version ${before.version} is unchanged.`,
  };
}

function keep(
  tx: Tx,
  form: RecipeForm,
  typed: Typed,
  as: { readonly name: string; readonly version: number; readonly followsId: number | null },
): number {
  const shade = tx.first(
    tx.db.selectFrom('shade').select(['name', 'ground']).where('id', '=', form.shade_id),
  );
  if (shade?.ground !== 0) {
    throw invalid(
      'shade_id',
      'This shade is an undyed ground: choose the shade that the cloth has after dyeing.',
    );
  }
  const { recipe, auxiliaryMarks } = makeRecipe(form);
  const content: Content = [{ fibre: form.fibre, shareBp: 10_000 }];
  const problems = checkInWater(tx, recipe, content).problems.map((problem) => atField(problem, form));
  problems.push(...otherClasses(tx, form));
  for (const { kind, place, name } of form.auxiliaries.map((each) => ({ ...each, ...each.what }))) {
    if (kind === 'other' && name === '') {
      problems.push({ field: `auxiliaries.${place}.name`, message: 'Say what it is.' });
    }
  }
  refuseAny(problems);
  return insertRecipe(tx, {
    ...as,
    shadeId: form.shade_id,
    fibre: form.fibre,
    recipe,
    auxiliaryMarks,
    shrinkageBp: form.shrinkage.value,
    note: form.note,
    typed: withoutKey(typed),
  });
}

/** Dyes of the workroom's list that are of another class than the recipe. */
function otherClasses(tx: Tx, form: RecipeForm): Problem[] {
  const list = readDyes(tx);
  return form.dyes.flatMap(({ name, place }) => {
    const dye = list.find((each) => each.name === name);
    if (!dye) return [];
    if (dye.dyeClass === form.dye_class) return otherGroup(dye, place, form);
    const message = `${name} is on your list as a ${DYE_CLASS_NAMES[dye.dyeClass]}, and this recipe is for ${DYE_CLASS_NAMES[form.dye_class]}.`;
    return [{ field: `dyes.${place}.name`, message }];
  });
}

/** Reactive groups want heats of their own: a dye of one group is not worked as another unless the label says so. */
function otherGroup(dye: Dye, row: number, form: RecipeForm): Problem[] {
  if (form.dye_class !== 'reactive' || form.temperature_label) return [];
  const groups = conditionsFor(form.fibre, 'reactive').map(({ method }) => method);
  const differs = groups.includes(dye.method) && groups.includes(form.method) && dye.method !== form.method;
  if (!differs) return [];
  const message = `${dye.name} is on your list as ${dye.method}, and this recipe works ${form.method}: they want other heats.`;
  return [{ field: `dyes.${row}.name`, message }];
}

/** The recipe that a form describes, each figure with where it comes from. */
export function makeRecipe(form: RecipeForm): { recipe: Recipe; auxiliaryMarks: Provenance[] } {
  const dyes = form.dyes.map(({ name, owf }) => ({ name, owfMilli: owf }));
  const starter = starterRecipe([{ fibre: form.fibre, shareBp: 10_000 }], form.dye_class, dyes, form.method);
  const auxiliaries = form.auxiliaries.map(({ what, name, amount }) =>
    auxiliaryFrom({ ...what, ...amount, name: name === '' ? nameOfForm(what.kind, what.form) : name }),
  );
  const auxiliaryMarks = auxiliaries.map((auxiliary, row) =>
    form.auxiliaries[row]?.label ? LABEL : markOfAuxiliary(auxiliary, starter),
  );
  const from = form.ph_from ?? form.ph_to;
  const to = form.ph_to ?? form.ph_from;
  const figures = {
    dyeClass: form.dye_class,
    method: form.method,
    dyes,
    auxiliaries,
    liquorRatioMilli: form.liquor_ratio,
    temperatureC: form.temperature,
    holdMinutes: form.hold.value,
    ...(form.also === null ? {} : { also: form.also }),
    ...(from === null || to === null ? {} : { pHFrom: from / 10, pHTo: to / 10 }),
    ...(form.heat_rate === null ? {} : { heatRateMilli: form.heat_rate }),
    ...(form.cool_rate === null ? {} : { coolRateMilli: form.cool_rate }),
  };
  const mark = (key: 'liquorRatioMilli' | 'temperatureC' | 'holdMinutes', label: boolean): Provenance =>
    label ? LABEL : markIfSame(figures[key] === starter?.[key], starter, key);
  const pHSame = figures.pHFrom === starter?.pHFrom && figures.pHTo === starter?.pHTo;
  const marks: Record<string, Provenance> = {
    liquorRatioMilli: mark('liquorRatioMilli', form.liquor_ratio_label),
    temperatureC: mark('temperatureC', form.temperature_label),
    holdMinutes: mark('holdMinutes', form.hold_label),
    pH: form.ph_label ? LABEL : markIfSame(pHSame, starter, 'pH'),
    rates: form.rates_label ? LABEL : OWN,
  };
  return { recipe: { ...figures, marks }, auxiliaryMarks };
}

/** A figure that was left as it was offered keeps the source of the offer. */
function markIfSame(same: boolean, starter: Recipe | undefined, key: string): Provenance {
  return (same ? starter?.marks[key] : undefined) ?? OWN;
}

function markOfAuxiliary(auxiliary: RecipeAuxiliary, starter: Recipe | undefined): Provenance {
  const offered = starter?.auxiliaries.find(({ kind }) => kind === auxiliary.kind);
  const same =
    offered !== undefined &&
    offered.form === auxiliary.form &&
    offered.per === auxiliary.per &&
    amountOf(offered) === amountOf(auxiliary);
  return markIfSame(same, starter, `auxiliaries.${auxiliary.kind}`);
}

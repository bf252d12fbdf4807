import { readOwf } from '../../../src/dye/bench-figures.ts';
import { atDepth } from '../../../src/dye/depth.ts';
import { classesFor, type DyeClass } from '../../../src/dye/dye-class.ts';
import { FIBRE_CODES, type FibreCode, fibreOf } from '../../../src/dye/fibre.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { countTyped, type Drawn, type DrawnField, drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems } from '../../refusal.ts';
import { readBody, withoutKey } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { type DyeCloth, readDyeCloths } from '../batch/dyeable.ts';
import { filledIn } from '../numbered-rows.ts';
import { typedWith } from './as-typed.ts';
import { refuseByLabel } from './by-label.ts';
import { type RecipeChange, recipeChanges } from './changes.ts';
import { checkInWater } from './check.ts';
import { copyRecipeForm, newRecipeForm, versionForm } from './form.ts';
import { fillIn, type Note, type SuggestedRecipe } from './offer.ts';
import { readRecipe, recipePath, type StoredRecipe } from './store.ts';
import { suggestFor } from './suggested.ts';
import { makeRecipe } from './verbs.ts';

/** Blank rows that are added where more are asked for. */
const MORE_ROWS = 4;

/**
 * The form for a new recipe. Opened with a fibre (`?fibre=nylon&dye_class=…&depth=…`), it is filled in with the
 * figures offered for it; with `keep` too, or sent and refused, it keeps what was typed.
 */
export function newRecipePage(reader: Reader, typed: Typed, opened: 'asked' | 'refused') {
  const offers = opened === 'asked' && typed.keep === undefined;
  const shown = offers ? fillIn(typed, suggestFor(reader, typed)) : typed;
  const offer = suggestFor(reader, shown);
  const { name, shade_id, fibre, ...fields } = drawRecipe(newRecipeForm(reader, shown, offer).shape, shown);
  return recipeFormPage(fields, {
    title: 'New recipe',
    offer,
    action: '/dye-bench/recipes/new',
    forWhat: [name, shade_id, fibre],
  });
}

/** The form for the next version of a recipe, with the figures of this one until others are asked for. */
export function versionPage(reader: Reader, recipeId: number, typed: Typed, opened: 'asked' | 'refused') {
  const recipe = readRecipe(reader, recipeId);
  refuseByLabel(recipe);
  const forWhat = { shade_id: String(recipe.shade.id), fibre: recipe.fibre };
  const said = { ...typed, ...forWhat };
  const asked =
    typed.dye_class === undefined
      ? { ...recipe.typed, ...filledIn(typed) }
      : fillIn(said, suggestFor(reader, said, recipe));
  const offers = opened === 'asked' && typed.keep === undefined;
  const shown = { ...(offers ? asked : said), ...forWhat };
  const href = recipePath(recipe.id);
  const offer = suggestFor(reader, shown, recipe);
  return recipeFormPage(drawRecipe(versionForm(reader, shown, offer).shape, shown), {
    title: `New version of ${recipe.name}`,
    offer,
    action: `${href}/versions/new`,
    forWhat: [],
    follows: {
      name: recipe.name,
      version: recipe.version,
      href,
      chip: shadeChip(recipe.shade),
      fibre: fibreOf(recipe.fibre).name,
      copy: `${href}/copy`,
    },
  });
}

/**
 * The form for a copy of a recipe. Another fibre (`?fibre=`, or that of `?cloth_id=`) brings the figures offered for it,
 * and another class of dye where this one does not dye it; `?at_depth=` makes it paler or deeper. Everything that then
 * differs is listed.
 */
export function copyRecipePage(reader: Reader, recipeId: number, typed: Typed, opened: 'asked' | 'refused') {
  const source = readRecipe(reader, recipeId);
  refuseByLabel(source);
  const offers = opened === 'asked' && typed.keep === undefined;
  const cloth = clothOf(reader, typed);
  const shown = offers ? copied(reader, source, cloth, typed) : typed;
  const offer = suggestFor(reader, shown, labelFor(source, shown));
  const schema = copyRecipeForm(reader, shown, offer);
  const { name, shade_id, fibre, cloth_id, ...fields } = drawRecipe(schema.shape, shown);
  const href = recipePath(source.id);
  return recipeFormPage(
    fields,
    {
      title: `Copy of ${source.name}`,
      offer,
      action: `${href}/copy`,
      forWhat: [name, shade_id, cloth_id, fibre],
      copies: {
        name: source.name,
        version: source.version,
        href,
        changes: changesIn(reader, source, schema, shown),
      },
    },
    cloth ? notesOnCloth(reader, source, cloth) : [],
  );
}

function clothOf(reader: Reader, typed: Typed): DyeCloth | undefined {
  const id = queryNumber(typed, 'cloth_id');
  return id === null ? undefined : readDyeCloths(reader, [id]).get(id);
}

/** The recipe as it is copied: its own figures for its own fibre, and those offered for another. */
function copied(reader: Reader, source: StoredRecipe, cloth: DyeCloth | undefined, typed: Typed): Typed {
  const { at_depth: _, ...fields } = typed;
  const asked = Object.fromEntries(Object.entries(fields).filter(([, text]) => text !== ''));
  const fibre = cloth ? fibreIn(cloth, source) : (asked.fibre ?? source.fibre);
  const shade = queryNumber(typed, 'shade_id') ?? source.shade.id;
  const first = typed.dye_class === undefined ? atAskedDepth(source, typed.at_depth) : typed;
  const said: Typed = { ...first, ...asked, fibre, shade_id: String(shade) };
  const name = asked.name ?? nameFor(reader, source, shade, fibre);
  if (fibre === source.fibre && typed.dye_class === undefined) return { ...said, name };
  const dyeClass = said.dye_class as DyeClass;
  const dyes = classesFor(fibre as FibreCode).includes(dyeClass);
  const kept = dyes ? said : withoutClass(said);
  return { ...fillIn(kept, suggestFor(reader, kept, labelFor(source, kept))), name };
}

/** A copy for the same fibre and class of dye goes by the recipe's own label, which comes along with it. */
function labelFor(source: StoredRecipe, { fibre, dye_class }: Typed): StoredRecipe | null {
  return fibre === source.fibre && dye_class === source.recipe.dyeClass ? source : null;
}

/** The recipe as it was typed, its dyes in proportion at a depth in percent that the address asks for. */
function atAskedDepth(source: StoredRecipe, asked: string | undefined): Typed {
  const depth = readOwf(asked ?? '');
  return depth.ok && depth.value > 0
    ? typedWith(source, atDepth(source.recipe, source.fibre, depth.value))
    : source.typed;
}

/** The dyes of a class that does not dye the fibre stay behind with it; how deep they were stays. */
function withoutClass(typed: Typed): Typed {
  return Object.fromEntries(
    Object.entries(typed).filter(([field]) => !/^dye_class$|^method$|^dyes\.\d+\.name$/.test(field)),
  );
}

/** The fibre of a cloth that the recipe is for: that of the recipe, the first that its class dyes, or the first. */
function fibreIn(cloth: DyeCloth, { fibre, recipe }: StoredRecipe): string {
  const fibres = cloth.content.map((share) => share.fibre);
  if (fibres.includes(fibre)) return fibre;
  return (
    fibres.find((each) => classesFor(each).some((dyeClass) => dyeClass === recipe.dyeClass)) ??
    fibres[0] ??
    fibre
  );
}

/** "Sea green on silk"; blank where a recipe has that name already. */
function nameFor(reader: Reader, source: StoredRecipe, shadeId: number, fibre: string): string {
  const shade = reader.first(reader.db.selectFrom('shade').select('name').where('id', '=', shadeId));
  const known = FIBRE_CODES.find((code) => code === fibre) ?? source.fibre;
  const name = `${shade?.name ?? source.shade.name} on ${fibreOf(known).name}`;
  const taken = reader.first(reader.db.selectFrom('recipe').select('id').where('name', '=', name));
  return taken ? '' : name;
}

/** What differs from the recipe that is copied, as far as what is typed can be read; null where it cannot. */
function changesIn(
  reader: Reader,
  source: StoredRecipe,
  schema: ReturnType<typeof copyRecipeForm>,
  typed: Typed,
): RecipeChange[] | null {
  const named = { ...withDyesToChoose(typed), name: typed.name || source.name };
  const { value: form } = orProblems(() => readForm(schema, readBody(withoutKey(named)).body));
  if (!form) return null;
  const shade = reader.first(reader.db.selectFrom('shade').select('name').where('id', '=', form.shade_id));
  const made = makeRecipe(form);
  return recipeChanges(source, {
    ...made,
    shade: shade ?? source.shade,
    fibre: form.fibre,
    shrinkageBp: form.shrinkage.value,
  });
}

/** A dye without a name, such as one of another class that is still to be chosen, is told as that. */
function withDyesToChoose(typed: Typed): Typed {
  const open = Object.entries(typed).flatMap(([field, owf]) => {
    const row = /^dyes\.(\d+)\.owf$/.exec(field)?.[1];
    if (row === undefined || owf === '' || typed[`dyes.${row}.name`]) return [];
    return [[`dyes.${row}.name`, `Dye ${Number(row) + 1}, to be chosen`]];
  });
  return { ...typed, ...Object.fromEntries(open) };
}

/** Whether the recipe as it stands would dye the cloth, and that its shrinkage is to be measured. */
function notesOnCloth(reader: Reader, { recipe }: StoredRecipe, { name, content }: DyeCloth): Note[] {
  const { problems, warnings } = checkInWater(reader, recipe, content);
  const shrinkage = `How much ${name} shrinks is its own: wash and dye a marked square of it. Dye a swatch of it first.`;
  return [
    ...(problems.length === 0
      ? []
      : [
          {
            kind: 'warn' as const,
            label: 'Warning',
            text: `As it stands the recipe cannot dye ${name}.`,
            more: problems.map(({ message }) => message),
          },
        ]),
    { kind: 'note', label: 'Note', text: shrinkage, more: warnings.map(({ text }) => text) },
  ];
}

/** Draws a recipe's form with a few blank rows more where they are asked for. */
function drawRecipe<const F extends Parameters<typeof drawFields>[0]>(shape: F, typed: Typed): Drawn<F> {
  const filled: Typed = { depth: 'medium', ...filledIn(typed) };
  const more = (list: string) => ({ [list]: countTyped(filled, list) + MORE_ROWS });
  return drawFields(
    shape,
    filled,
    typed.keep === undefined ? {} : { ...more('dyes'), ...more('auxiliaries') },
  );
}

/** What the form is for, beside its fields. */
interface FormOf {
  readonly title: string;
  readonly offer: SuggestedRecipe;
  /** where the form is sent, and where it is asked for offered figures */
  readonly action: string;
  /** name, shade, fibre and cloth, where they are asked */
  readonly forWhat: readonly DrawnField[];
  /** the version that the new one follows */
  readonly follows?: {
    readonly name: string;
    readonly version: number;
    readonly href: string;
    readonly chip: Chip;
    readonly fibre: string;
    /** where it is copied for another shade or fibre */
    readonly copy: string;
  };
  /** the recipe that is copied, and what differs from it so far; null where that cannot be read yet */
  readonly copies?: {
    readonly name: string;
    readonly version: number;
    readonly href: string;
    readonly changes: readonly RecipeChange[] | null;
  };
}

export function recipeFormPage(
  fields: Drawn<ReturnType<typeof versionForm>['shape']>,
  { title, action, offer, forWhat, follows, copies }: FormOf,
  moreNotes: readonly Note[] = [],
) {
  const { hints, notes } = offer;
  const data = {
    requestKey: mintKey(),
    action,
    forWhat,
    follows: follows ?? null,
    copies: copies ?? null,
    /** where the form is left without saving */
    back: follows?.href ?? copies?.href ?? '/dye-bench/recipes',
    fields,
    /** what is offered for the lists and where it comes from; '' where nothing is */
    hints: { dyes: hints.dyes ?? '', auxiliaries: hints.auxiliaries ?? '' },
    notes: [...notes, ...moreNotes],
  };
  return { view: 'dye-bench/recipe/form', data, title, room: 'dye-bench' } satisfies Page;
}

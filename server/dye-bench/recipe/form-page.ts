import { DYE_CLASS_NAMES, DYE_CLASSES, type DyeClass } from '../../../src/dye/dye-class.ts';
import { capital, FIBRES } from '../../../src/dye/fibre.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, withBlank } from '../../kit/choices.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { readDyes } from '../dyes/store.ts';
import { MOST_RECIPE_ROWS, WHAT_CHOICES } from './form.ts';
import { recipePath } from './making.ts';
import { DEPTH_NAMES, fillIn, type Note, offerFor } from './offer.ts';
import { readRecipe } from './store.ts';

const FIELDS = [
  'name',
  'shade_id',
  'fibre',
  'dye_class',
  'depth',
  'method',
  'liquor_ratio',
  'liquor_ratio_label',
  'temperature',
  'temperature_label',
  'hold',
  'hold_label',
  'ph_from',
  'ph_to',
  'ph_label',
  'heat_rate',
  'cool_rate',
  'rates_label',
  'shrinkage',
  'note',
] as const;

type Field = (typeof FIELDS)[number];

export interface RecipeFormPageData {
  readonly requestKey: string;
  /** where the form is sent, and where it is asked for offered figures */
  readonly action: string;
  /** the version that the new one follows; null for a new recipe */
  readonly follows: { readonly name: string; readonly version: number; readonly href: string } | null;
  readonly typed: Readonly<Record<Field, string>>;
  readonly dyes: readonly { readonly index: number; readonly name: string; readonly owf: string }[];
  readonly auxiliaries: readonly {
    readonly index: number;
    readonly what: string;
    readonly name: string;
    readonly amount: string;
    readonly label: string;
  }[];
  readonly choices: {
    readonly shades: readonly Choice[];
    readonly fibres: readonly Choice[];
    readonly classes: readonly Choice[];
    readonly depths: readonly Choice[];
    readonly what: readonly Choice[];
  };
  readonly methods: readonly string[];
  /** the reactive groups, to choose from; empty for other dyes, whose way of working is typed */
  readonly groups: readonly Choice[];
  /** names of the workroom's own dyes of this class, or of all classes before one is known */
  readonly dyeNames: readonly string[];
  /** by field: what is offered and where it comes from; '' where nothing is */
  readonly hints: Readonly<Record<HintField, string>>;
  readonly notes: readonly Note[];
}

type HintField =
  | 'dyes'
  | 'auxiliaries'
  | 'liquor_ratio'
  | 'temperature'
  | 'hold'
  | 'ph_from'
  | 'heat_rate'
  | 'cool_rate'
  | 'shrinkage';

/**
 * The form for a new recipe. Opened with a fibre (`?fibre=nylon&dye_class=…&depth=…`), it is filled in with the
 * figures offered for it; with `keep` too, or sent and refused, it keeps what was typed.
 */
export function newRecipePage(reader: Reader, typed: Typed, opened: 'asked' | 'refused'): Page {
  const offers = opened === 'asked' && typed.keep === undefined;
  const shown = offers ? fillIn(typed, offerFor(typed)) : typed;
  const data = shapeForm(reader, shown, { action: '/dye-bench/recipes/new', follows: null });
  return { view: 'dye-bench/recipe/form', data, title: 'New recipe', room: 'dye-bench' };
}

/** The form for the next version of a recipe, with the figures of this one until others are asked for. */
export function versionPage(
  reader: Reader,
  recipeId: number,
  typed: Typed,
  opened: 'asked' | 'refused',
): Page {
  const recipe = readRecipe(reader, recipeId);
  const asked = typed.fibre === undefined ? recipe.typed : fillIn(typed, offerFor(typed));
  const offers = opened === 'asked' && typed.keep === undefined;
  const href = recipePath(recipe.id);
  const data = shapeForm(reader, offers ? asked : typed, {
    action: `${href}/versions/new`,
    follows: { name: recipe.name, version: recipe.version, href },
  });
  const title = `New version of ${recipe.name}`;
  return { view: 'dye-bench/recipe/form', data, title, room: 'dye-bench' };
}

function shapeForm(
  reader: Reader,
  typed: Typed,
  form: Pick<RecipeFormPageData, 'action' | 'follows'>,
): RecipeFormPageData {
  const { hints, notes, methods, dyeClass } = offerFor(typed);
  const hint = (name: HintField) => hints[name] ?? '';
  return {
    requestKey: mintKey(),
    ...form,
    typed: Object.fromEntries(FIELDS.map((name) => [name, typed[name] ?? ''])) as Record<Field, string>,
    dyes: rowsOf(typed, 'dyes', 3).map((index) => ({
      index,
      name: typed[`dyes.${index}.name`] ?? '',
      owf: typed[`dyes.${index}.owf`] ?? '',
    })),
    auxiliaries: rowsOf(typed, 'auxiliaries', 3).map((index) => ({
      index,
      what: typed[`auxiliaries.${index}.what`] ?? '',
      name: typed[`auxiliaries.${index}.name`] ?? '',
      amount: typed[`auxiliaries.${index}.amount`] ?? '',
      label: typed[`auxiliaries.${index}.label`] ?? '',
    })),
    choices: {
      shades: withBlank(dyedShadeChoices(reader), 'Choose a shade'),
      fibres: withBlank(
        FIBRES.map(({ code, name }) => ({ value: code, label: capital(name) })),
        'Choose a fibre',
      ),
      classes: withBlank(classChoices(), 'The usual first choice'),
      depths: DEPTH_NAMES.map((depth) => ({ value: depth, label: capital(depth) })),
      what: withBlank(WHAT_CHOICES, 'None'),
    },
    methods,
    groups: groupsOf(dyeClass, methods, typed.method ?? ''),
    dyeNames: readDyes(reader)
      .filter((dye) => dye.gone === '' && (dyeClass === null || dye.dyeClass === dyeClass))
      .map(({ name }) => name),
    hints: {
      dyes: hint('dyes'),
      auxiliaries: hint('auxiliaries'),
      liquor_ratio: hint('liquor_ratio'),
      temperature: hint('temperature'),
      hold: hint('hold'),
      ph_from: hint('ph_from'),
      heat_rate: hint('heat_rate'),
      cool_rate: hint('cool_rate'),
      shrinkage: hint('shrinkage'),
    },
    notes,
  };
}

/** What is kept already and is no group of ours stays to be chosen, or a new version would change it unseen. */
function groupsOf(dyeClass: DyeClass | null, methods: readonly string[], typed: string): Choice[] {
  if (dyeClass !== 'reactive' || methods.length < 2) return [];
  const kept = typed === '' || methods.includes(typed) ? methods : [...methods, typed];
  const groups = kept.map((method) => ({ value: method, label: capital(method) }));
  return [{ value: '', label: 'Another, by the label' }, ...groups];
}

/** The places of a list's rows: those that were sent and blank ones after them, one to spare at least. */
function rowsOf(typed: Typed, list: string, least: number): number[] {
  const spare = typed.keep === undefined ? 1 : 4;
  const filled = Object.entries(typed).map(([name, value]) => {
    const place = new RegExp(`^${list}\\.(\\d+)\\.`).exec(name)?.[1];
    return place === undefined || value === '' ? 0 : Number(place) + 1;
  });
  const count = Math.min(Math.max(least, Math.max(0, ...filled) + spare), MOST_RECIPE_ROWS);
  return Array.from({ length: count }, (_, index) => index);
}

/** The shades that dyeing can give: all but the undyed grounds. */
export function dyedShadeChoices(reader: Reader): Choice[] {
  return reader
    .all(reader.db.selectFrom('shade').select(['id', 'name']).where('ground', '=', 0).orderBy('name'))
    .map(({ id, name }) => ({ value: String(id), label: name }));
}

export function classChoices(): Choice[] {
  return DYE_CLASSES.map((each) => ({ value: each, label: capital(DYE_CLASS_NAMES[each]) }));
}

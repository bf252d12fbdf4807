import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, clothChoices, shadeChoices, withBlank } from '../../kit/choices.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems } from '../../refusal.ts';
import type { Body } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { countRows, type GarmentFormData, garmentFormData } from '../garment/form.ts';
import { NO_OUTCOME, type Outcome, shapeOutcome } from '../garment/outcome.ts';
import { edgeChoices } from '../tier/parts.ts';
import { FIRST_SHADE, MOST_NEW_TIERS, type NewChoices, newGarmentSchema } from './fields.ts';
import { planNew, workedNew } from './plan.ts';

const FIRST_TIERS = 5;
const MORE_TIERS = 5;

const ROW_FIELDS = [
  'drop',
  'depth',
  'fullness',
  'cloth_id',
  'shade_id',
  'second_shade_id',
  'ruffle_depth',
  'ruffle_shade_id',
] as const;
const ALL_FIELDS = [
  'overlap',
  'seam_kind',
  'lower_edge',
  'ruffle_fullness',
  'finish_repeat',
  'step',
] as const;

export interface NewGarmentData extends GarmentFormData {
  readonly tiers: readonly Readonly<Record<(typeof ROW_FIELDS)[number], string>>[];
  readonly moreTiers: boolean;
  /** what goes for every tier, by the names of the fields */
  readonly all: Readonly<Record<(typeof ALL_FIELDS)[number], string>>;
  /** choices of the first row and of those below it, which may be left as above */
  readonly choices: {
    readonly cloths: readonly Choice[];
    readonly shades: readonly Choice[];
    readonly clothsBelow: readonly Choice[];
    readonly shadesBelow: readonly Choice[];
    readonly secondShades: readonly Choice[];
    readonly ruffleShades: readonly Choice[];
    readonly seamKinds: readonly Choice[];
    readonly lowerEdges: readonly Choice[];
  };
  readonly outcome: Outcome;
}

export function readNewChoices(reader: Reader): NewChoices {
  return { cloths: clothChoices(reader), shades: shadeChoices(reader) };
}

/** The form that makes a garment with all its tiers: blank, or as it was typed. */
export function newGarmentPage(
  reader: Reader,
  units: Units,
  typed: Typed | null,
  outcome = NO_OUTCOME,
): Page {
  const { cloths, shades } = readNewChoices(reader);
  const shown = typed ?? {};
  const tiers = tierRows(shown, typed);
  const { lowerEdges, seamKinds } = edgeChoices(units);
  const data: NewGarmentData = {
    ...garmentFormData(null, units, typed),
    tiers,
    moreTiers: tiers.length < MOST_NEW_TIERS,
    all: textsOf(ALL_FIELDS, (name) => shown[name]),
    choices: {
      cloths: withBlank(cloths, 'Choose a cloth'),
      shades: withBlank(shades, 'Choose a shade'),
      clothsBelow: withBlank(cloths, 'as above'),
      shadesBelow: withBlank(shades, 'as above'),
      secondShades: withBlank(shades, 'none'),
      ruffleShades: withBlank([FIRST_SHADE, ...shades], 'as the tier’s blocks'),
      seamKinds,
      lowerEdges: [...lowerEdges].sort((a, b) => Number(b.value === 'narrow') - Number(a.value === 'narrow')),
    },
    outcome,
  };
  return { view: 'garments/new/new', data, title: 'New garment', room: 'garments' };
}

/** Works out what was typed, as far as it can be read. */
export function workOutNew(reader: Reader, body: Body, units: Units): Outcome {
  const schema = newGarmentSchema(units, readNewChoices(reader));
  const { value: form, problems } = orProblems(() => readForm(schema, body));
  if (!form) return { ...NO_OUTCOME, problems };
  const plan = planNew(reader, form, units);
  return { ...shapeOutcome(reader, workedNew(plan, form), null, units), problems: plan.problems };
}

function tierRows(shown: Typed, typed: Typed | null) {
  const given = countRows(shown, 'tiers');
  const asked = typed?.act === 'more-tiers' ? given + MORE_TIERS : given;
  const count = typed ? Math.max(asked, FIRST_TIERS) : FIRST_TIERS;
  return Array.from({ length: Math.min(count, MOST_NEW_TIERS) }, (_, row) =>
    textsOf(ROW_FIELDS, (name) => shown[`tiers.${row}.${name}`]),
  );
}

function textsOf<const N extends readonly string[]>(
  names: N,
  of: (name: N[number]) => string | undefined,
): Record<N[number], string> {
  return Object.fromEntries(names.map((name) => [name, of(name) ?? ''])) as Record<N[number], string>;
}

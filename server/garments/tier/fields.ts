import { z } from 'zod';
import type { Hangs } from '../../../src/garment/hanging.ts';
import { OPENING_WAYS } from '../../../src/garment/opening.ts';
import type { PlacedBy } from '../../../src/garment/placing.ts';
import { LOWER_EDGES, SEAM_KINDS, UPPER_EDGES } from '../../../src/garment/seams-and-edges.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, chosenField, clothChoices, optionalChosen, shadeChoices } from '../../kit/choices.ts';
import {
  choiceField,
  choiceOrFirst,
  field,
  fullnessField,
  lengthField,
  optionalLength,
  optionalText,
  optionalWhole,
  rowsField,
  tickField,
  wholeField,
} from '../../kit/fields.ts';
import { asked, unasked } from '../../kit/form-drawing.ts';
import { sizeUnit } from '../../kit/units.ts';
import type { Garment } from '../garment/records.ts';
import { tiersIn } from '../garment/worked.ts';
import { CLOSINGS } from './closings.ts';
import { edgeChoices } from './seam-and-edge-words.ts';

/** The deepest drop and the largest finished depth, 10 m, and the largest girth, 100 m, in ticks. */
export const MOST_DROP_TICKS = 1_600_000;
export const MOST_GIRTH_TICKS = 16_000_000;
/** The largest allowance: 1 m in ticks. */
const MOST_ALLOWANCE_TICKS = 160_000;
export const MOST_BLOCKS = 200;

// A button that only draws the form again says so in `act`; the version tells which state the form was drawn from.
export const sentUnseen = {
  act: unasked(optionalText({ max: 20 })),
  version: optionalWhole({ min: 1, max: 1_000_000_000 }),
};

/** What a tier may be made of and hang from: any other tier that is in, whatever that one hangs from. */
export function readTierChoices(reader: Reader, garment: Garment, tierId: number) {
  const others = tiersIn(garment).filter(({ id }) => id !== tierId);
  return {
    cloths: clothChoices(reader),
    shades: shadeChoices(reader),
    /** "form", "foundation", "edge-12", "face-12" */
    hangs: [
      { value: 'form', label: 'the form, at the drop given' },
      { value: 'foundation', label: 'the foundation layer, at the drop given' },
      ...others.map(({ id, name }) => ({ value: `edge-${id}`, label: `the lower edge of ${name}` })),
      ...others.map(({ id, name }) => ({
        value: `face-${id}`,
        label: `the face of ${name}, at the height given`,
      })),
    ],
    /** "upper", "lower", "floor", "level-12" */
    placed: [
      { value: 'upper', label: 'upper edge at the drop given' },
      { value: 'lower', label: 'lower edge at the drop given' },
      { value: 'floor', label: 'lower edge at the height given above the floor' },
      ...others.map(({ id, name }) => ({
        value: `level-${id}`,
        label: `lower edge level with that of ${name}`,
      })),
    ],
    /** Its fullness may be a ratio of the cut length of another tier. */
    ratios: others.map(({ id, name }) => ({ value: String(id), label: `the flat length of ${name}` })),
  };
}

export type TierChoices = ReturnType<typeof readTierChoices>;

/**
 * What is asked of a tier. An allowance of a seam or an edge that is left blank is the usual one of its kind, other
 * allowances nothing; a blank strip length takes the whole width; what is not chosen is the ordinary case.
 */
export function tierFields(units: Units, choices: TierChoices) {
  const unit = sizeUnit(units);
  const { seamKinds, upperEdges, lowerEdges } = edgeChoices(units);
  const allowance = { max: MOST_ALLOWANCE_TICKS };
  return {
    name: optionalText({ max: 80, label: 'Name', hint: 'Blank: Tier and its number.' }),
    cloth_id: chosenField(choices.cloths, 'a cloth', { label: 'Cloth', blank: 'Choose a cloth' }),
    hangs: hangsField(choices.hangs),
    placed: placedField(choices.placed),
    drop: optionalLength(unit, {
      min: 0,
      max: MOST_DROP_TICKS,
      label: 'Drop',
      hint: 'Of the edge that it is placed by.',
    }),
    height: optionalLength(unit, {
      min: 1,
      max: MOST_DROP_TICKS,
      label: 'Height',
      hint: 'Above the lower edge of that tier, or above the floor.',
    }),
    depth: lengthField(unit, { max: MOST_DROP_TICKS, label: 'Finished depth' }),
    overlap: optionalLength(unit, {
      max: MOST_DROP_TICKS,
      label: 'Overlap',
    }),
    move_below: tickField({ label: 'Move the tiers below, so that they stay covered as they are' }),
    fullness: fullnessField({
      label: 'Fullness',
      unit: '×',
      hint: 'Flat ÷ finished length. Sheers: 2 to 3.',
    }),
    ratio_tier_id: optionalChosen(choices.ratios, 'one of the tiers', {
      label: 'Fullness is of',
      blank: 'what it is sewn on',
      required: true,
      size: 'long',
    }),
    closing: choiceField(['ring', 'open'], 'ring or open', { label: 'Ring or open', options: CLOSINGS }),
    opening_way: choiceOrFirst(OPENING_WAYS, 'what becomes of it where the garment opens', {
      label: 'Where the garment opens',
      options: OPENING_CHOICES,
    }),
    seam_kind: choiceOrFirst(SEAM_KINDS, 'a kind of seam', { label: 'Seams', options: seamKinds }),
    seam: optionalLength(unit, {
      ...allowance,
      label: 'Seam allowance',
      hint: 'At each end of a strip.',
    }),
    end: optionalLength(unit, {
      ...allowance,
      label: 'End allowance',
      hint: 'At each end of an open band.',
    }),
    heading: optionalLength(unit, { ...allowance, label: 'Heading' }),
    upper_edge: choiceOrFirst(UPPER_EDGES, 'an upper edge', { label: 'Upper edge', options: upperEdges }),
    hang_seam: optionalLength(unit, {
      ...allowance,
      label: 'Gathering seam allowance',
    }),
    lower_edge: choiceOrFirst(['narrow', ...LOWER_EDGES], 'a lower edge', {
      label: 'Lower edge',
      options: lowerEdges,
    }),
    hem: optionalLength(unit, {
      ...allowance,
      label: 'Hem allowance',
    }),
    hem_first: tickField({ label: 'Hem first: the strips are hemmed one by one and joined afterwards' }),
    direction: choiceOrFirst(['across', 'along', 'either'], 'across, along or either', {
      label: 'Strips lie',
      options: [
        { value: 'across', label: 'across the cloth' },
        { value: 'along', label: 'along the cloth' },
        { value: 'either', label: 'either way, as less is lost' },
      ],
    }),
    strip_length: optionalLength(unit, {
      min: 1,
      max: MOST_GIRTH_TICKS,
      label: 'Strip length',
      hint: 'Blank: the usable width. Needed along the cloth.',
    }),
    blocks: rowsField(blockRow(choices), { max: MOST_BLOCKS, what: 'colour blocks' }),
    offset: optionalWhole({
      min: 0,
      max: 10_000,
      label: 'Start later by',
      unit: 'strips',
    }),
    finish_repeat: tickField({ label: FULL_REPEAT }),
    ...sentUnseen,
  };
}

/** What becomes of a tier that the garment's opening goes through. */
const OPENING_CHOICES = [
  { value: 'finished', label: 'two finished ends' },
  { value: 'unsewn', label: 'a seam left unsewn, as of net' },
  { value: 'closed', label: 'stays closed' },
];

export const FULL_REPEAT = 'Round up to a full colour repeat';

export function tierSchema(units: Units, choices: TierChoices) {
  return z.strictObject(tierFields(units, choices)).superRefine((form, context) => {
    for (const [path, message] of placingProblems(form))
      context.addIssue({ code: 'custom', message, path: [path] });
    if (form.hangs.hangs === 'face' && form.height === null) {
      const message = 'Give the height above the lower edge of the tier that it lies on.';
      context.addIssue({ code: 'custom', message, path: ['height'] });
    }
    if (form.hangs.hangs !== 'face' && form.placed.by !== 'floor' && form.height !== null) {
      const message = 'A height is only of a tier on the face of another: leave it blank, or choose a face.';
      context.addIssue({ code: 'custom', message, path: ['height'] });
    }
  });
}

type Placed = Pick<
  z.output<z.ZodObject<ReturnType<typeof tierFields>>>,
  'hangs' | 'placed' | 'drop' | 'height'
>;

/** What a tier's place lacks, or says twice, each at its field. */
function placingProblems({ hangs, placed, drop, height }: Placed): [path: string, message: string][] {
  if (hangs.onTierId !== null) {
    return placed.by === 'upper'
      ? []
      : [['placed', 'Only a tier on the form or its foundation layer is placed by its lower edge.']];
  }
  if (placed.by === 'upper')
    return drop ? [] : [['drop', 'Give the drop at which it hangs, or choose the tier that it is sewn on.']];
  if (placed.by === 'lower') return drop ? [] : [['drop', 'Give the drop of its lower edge.']];
  const follows: [string, string][] = drop
    ? [['drop', 'The drop follows from its lower edge: leave it blank, or place it by a drop.']]
    : [];
  if (placed.by === 'floor' && !height)
    return [['height', 'Give the height of its lower edge above the floor.'], ...follows];
  return follows;
}

export type TierForm = z.output<ReturnType<typeof tierSchema>>;

/** What a tier hangs from and, where that is another tier, which. Blank is the form. */
function hangsField(choices: readonly Choice[]) {
  const read = field((typed, refuse): { readonly hangs: Hangs; readonly onTierId: number | null } => {
    if (typed === '') return { hangs: 'form', onTierId: null };
    if (!choices.some(({ value }) => value === typed)) return refuse('Choose what it hangs from.');
    const [hangs, tierId] = typed.split('-');
    if (hangs === 'edge' || hangs === 'face') return { hangs, onTierId: Number(tierId) };
    return { hangs: hangs === 'foundation' ? hangs : 'form', onTierId: null };
  });
  return asked(read, { kind: 'select', options: choices, label: 'Hangs from', size: 'long' });
}

/** What places a tier on the form, and the tier that it is level with. Blank is its upper edge. */
function placedField(choices: readonly Choice[]) {
  const read = field((typed, refuse): { readonly by: PlacedBy; readonly levelTierId: number | null } => {
    if (typed === '') return { by: 'upper', levelTierId: null };
    if (!choices.some(({ value }) => value === typed)) return refuse('Choose what it is placed by.');
    const [by, tierId] = typed.split('-');
    if (by === 'level') return { by, levelTierId: Number(tierId) };
    return { by: by === 'lower' || by === 'floor' ? by : 'upper', levelTierId: null };
  });
  return asked(read, { kind: 'select', options: choices, label: 'Placed by', size: 'long' });
}

// A row with nothing chosen in it is blank: so blank is the tier's cloth, and one lot.
function blockRow({ shades, cloths }: TierChoices) {
  return z.strictObject({
    shade_id: chosenField(shades, 'a shade', { label: 'Shade', blank: 'Choose a shade' }),
    strips: wholeField({ min: 1, max: 10_000, label: 'Strips' }),
    cloth_id: optionalChosen(cloths, 'a cloth', { label: 'Cloth', blank: 'the tier’s cloth', filter: true }),
    lots: choiceOrFirst(['one', 'meet', 'any'], 'one lot, matching lots or any lots', {
      label: 'Lots',
      filter: true,
      options: [
        { value: '', label: 'from one lot' },
        { value: 'meet', label: 'from matching lots' },
        { value: 'any', label: 'from any lots' },
      ],
    }),
  });
}

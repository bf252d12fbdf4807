import { z } from 'zod';
import type { Hangs } from '../../../src/garment/hanging.ts';
import { LOWER_EDGES, SEAM_KINDS, UPPER_EDGES } from '../../../src/garment/seams-and-edges.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { type Choice, chosenField, optionalChosen } from '../../kit/choices.ts';
import {
  choiceField,
  field,
  fullnessField,
  lengthField,
  optionalLength,
  optionalText,
  optionalWhole,
  rowsField,
  textField,
  tickField,
  wholeField,
} from '../../kit/fields.ts';
import { sizeUnit } from '../../kit/units.ts';

/** The deepest drop and the largest finished depth, 10 m, and the largest girth, 100 m, in ticks. */
export const MOST_DROP_TICKS = 1_600_000;
export const MOST_GIRTH_TICKS = 16_000_000;
/** The largest allowance: 1 m in ticks. */
const MOST_ALLOWANCE_TICKS = 160_000;
export const MOST_BLOCKS = 200;

// A button that only draws the form again says so in `act`; the version tells which state the form was drawn from.
export const drawn = {
  act: optionalText({ max: 20 }),
  version: optionalWhole({ min: 1, max: 1_000_000_000 }),
};

export interface TierChoices {
  readonly cloths: readonly Choice[];
  readonly shades: readonly Choice[];
  /** "form", "foundation", "edge-12", "face-12" */
  readonly hangs: readonly Choice[];
  /** the tiers whose cut length its fullness may be a ratio of */
  readonly ratios: readonly Choice[];
}

/**
 * The form of a tier. An allowance of a seam or an edge that is left blank is the usual one of its kind, other
 * allowances nothing; a blank strip length takes the whole width; what is not chosen is the ordinary case.
 */
export function tierSchema(units: Units, choices: TierChoices) {
  const unit = sizeUnit(units);
  const allowance = optionalLength(unit, { max: MOST_ALLOWANCE_TICKS, what: 'allowance' });
  return z
    .strictObject({
      name: textField({ max: 80, label: 'The name' }),
      cloth_id: chosenField(choices.cloths, 'a cloth'),
      hangs: hangsField(choices.hangs),
      drop: optionalLength(unit, { min: 0, max: MOST_DROP_TICKS, what: 'drop' }),
      height: optionalLength(unit, { min: 1, max: MOST_DROP_TICKS, what: 'height' }),
      depth: lengthField(unit, { max: MOST_DROP_TICKS, what: 'depth' }),
      overlap: optionalLength(unit, { max: MOST_DROP_TICKS, what: 'overlap' }),
      move_below: tickField(),
      fullness: fullnessField(),
      ratio_tier_id: optionalChosen(choices.ratios, 'one of the tiers'),
      closing: choiceField(['ring', 'open'], 'ring or open'),
      seam_kind: choiceOrFirst(SEAM_KINDS, 'a kind of seam'),
      seam: allowance,
      end: allowance,
      heading: allowance,
      upper_edge: choiceOrFirst(UPPER_EDGES, 'an upper edge'),
      hang_seam: allowance,
      lower_edge: choiceOrFirst(['narrow', ...LOWER_EDGES], 'a lower edge'),
      hem: allowance,
      hem_first: tickField(),
      direction: choiceOrFirst(['across', 'along', 'either'], 'across, along or either'),
      strip_length: optionalLength(unit, { min: 1, max: MOST_GIRTH_TICKS, what: 'strip length' }),
      blocks: rowsField(blockRow(choices), { max: MOST_BLOCKS, what: 'colour blocks' }),
      offset: optionalWhole({ min: 0, max: 10_000 }),
      finish_repeat: tickField(),
      ...drawn,
    })
    .superRefine((form, context) => {
      if (form.hangs.onTierId === null && form.drop === null) {
        const message = 'Give the drop at which it hangs, or choose the tier that it is sewn on.';
        context.addIssue({ code: 'custom', message, path: ['drop'] });
      }
      if (form.hangs.hangs === 'face' && form.height === null) {
        const message = 'Give the height above the lower edge of the tier that it lies on.';
        context.addIssue({ code: 'custom', message, path: ['height'] });
      }
      if (form.hangs.hangs !== 'face' && form.height !== null) {
        const message =
          'A height is only of a tier on the face of another: leave it blank, or choose a face.';
        context.addIssue({ code: 'custom', message, path: ['height'] });
      }
    });
}

export type TierForm = z.output<ReturnType<typeof tierSchema>>;

/** What a tier hangs from and, where that is another tier, which. Blank is the form. */
function hangsField(choices: readonly Choice[]) {
  return field((typed, refuse): { readonly hangs: Hangs; readonly onTierId: number | null } => {
    if (typed === '') return { hangs: 'form', onTierId: null };
    if (!choices.some(({ value }) => value === typed)) return refuse('Choose what it hangs from.');
    const [hangs, tierId] = typed.split('-');
    if (hangs === 'edge' || hangs === 'face') return { hangs, onTierId: Number(tierId) };
    return { hangs: hangs === 'foundation' ? hangs : 'form', onTierId: null };
  });
}

/** One of some words; blank is the first of them. */
export function choiceOrFirst<const C extends readonly [string, ...string[]] | readonly string[]>(
  choices: C,
  what: string,
) {
  return field((typed, refuse): C[number] => {
    const found = typed === '' ? choices[0] : choices.find((choice) => choice === typed);
    return found ?? refuse(`Choose ${what}.`);
  });
}

function blockRow(choices: TierChoices) {
  return z.strictObject({
    shade_id: chosenField(choices.shades, 'a shade'),
    strips: wholeField({ min: 1, max: 10_000 }),
    // Blank is the tier's cloth and one lot, so that a row with nothing chosen in it is blank.
    cloth_id: optionalChosen(choices.cloths, 'a cloth'),
    lots: choiceOrFirst(['one', 'meet', 'any'], 'one lot, lots that meet or any lots'),
  });
}

import { z } from 'zod';
import { checkForm } from '../../src/form.ts';
import type { Units } from '../../src/length-show.ts';
import { type Choice, chosenField, optionalChosen } from '../shelf/choices.ts';
import {
  choiceField,
  field,
  fullnessField,
  lengthField,
  optionalDay,
  optionalLength,
  optionalText,
  optionalWhole,
  rowsField,
  textField,
  tickField,
  wholeField,
} from '../web/fields.ts';
import { sizeUnit } from './typed.ts';

/** The deepest drop and the largest finished depth, 10 m, and the largest girth, 100 m, in ticks. */
const MOST_DROP_TICKS = 1_600_000;
const MOST_GIRTH_TICKS = 16_000_000;
/** The largest allowance: 1 m in ticks. */
const MOST_ALLOWANCE_TICKS = 160_000;
export const MOST_GIRTHS = 40;
export const MOST_BLOCKS = 200;

// A button that only draws the form again says so in `act`; the version tells which state the form was drawn from.
const drawn = { act: optionalText({ max: 20 }), version: optionalWhole({ min: 1, max: 1_000_000_000 }) };

/** The form of a garment; bare numbers of its girths are in the asker's unit. */
export function garmentSchema(units: Units) {
  return z.strictObject({
    name: textField({ max: 120, label: 'The name' }),
    due_on: optionalDay(),
    note: optionalText({ max: 2000, lines: true }),
    girths: girthRows(units),
    ...drawn,
  });
}

export type GarmentForm = z.output<ReturnType<typeof garmentSchema>>;

/** Girths keep the place of their row, so that a problem of the form as a whole finds its field. */
function girthRows(units: Units) {
  const row = z.strictObject({
    drop: lengthField(sizeUnit(units), { min: 0, max: MOST_DROP_TICKS, what: 'drop' }),
    girth: lengthField(sizeUnit(units), { max: MOST_GIRTH_TICKS, what: 'girth' }),
    place: field((typed) => Number(typed)),
  });
  const rows = rowsField(row, { min: 0, max: MOST_GIRTHS, what: 'girths' });
  return z.preprocess(numbered, rows).superRefine((girths, context) => {
    const form = girths.map(({ drop, girth }) => ({ dropTicks: drop.value, girthTicks: girth.value }));
    for (const problem of checkForm({ girths: form })) {
      const place = problem.row === null ? undefined : girths[problem.row]?.place;
      const path = place === undefined ? [] : [place, problem.field];
      context.addIssue({ code: 'custom', message: problem.message, path });
    }
  });
}

function numbered(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  return Array.from(raw, (row: unknown, place) => {
    if (typeof row !== 'object' || row === null) return row;
    const filled = Object.values(row).some((text) => typeof text !== 'string' || text.trim() !== '');
    return filled ? { ...row, place: String(place) } : row;
  });
}

export interface TierChoices {
  readonly cloths: readonly Choice[];
  readonly shades: readonly Choice[];
  /** the tiers that it may edge */
  readonly edged: readonly Choice[];
}

/** The form of a tier. Allowances that are left blank are nothing; a blank strip length takes the whole width. */
export function tierSchema(units: Units, choices: TierChoices) {
  const unit = sizeUnit(units);
  const allowance = optionalLength(unit, { max: MOST_ALLOWANCE_TICKS, what: 'allowance' });
  return z
    .strictObject({
      name: textField({ max: 80, label: 'The name' }),
      cloth_id: chosenField(choices.cloths, 'a cloth'),
      edges_tier_id: optionalChosen(choices.edged, 'one of the tiers'),
      drop: optionalLength(unit, { min: 0, max: MOST_DROP_TICKS, what: 'drop' }),
      depth: lengthField(unit, { max: MOST_DROP_TICKS, what: 'depth' }),
      fullness: fullnessField(),
      closing: choiceField(['ring', 'open'], 'ring or open'),
      seam: allowance,
      end: allowance,
      heading: allowance,
      hang_seam: allowance,
      hem: allowance,
      strip_length: optionalLength(unit, { min: 1, max: MOST_GIRTH_TICKS, what: 'strip length' }),
      blocks: rowsField(blockRow(choices.shades), { max: MOST_BLOCKS, what: 'colour blocks' }),
      finish_repeat: tickField(),
      ...drawn,
    })
    .superRefine((form, context) => {
      if (form.edges_tier_id !== null || form.drop !== null) return;
      const message = 'Give the drop at which it hangs, or choose the tier that it edges.';
      context.addIssue({ code: 'custom', message, path: ['drop'] });
    });
}

export type TierForm = z.output<ReturnType<typeof tierSchema>>;

function blockRow(shades: readonly Choice[]) {
  return z.strictObject({
    shade_id: chosenField(shades, 'a shade'),
    strips: wholeField({ min: 1, max: 10_000 }),
    // Blank is one lot, so that a row with nothing chosen in it is blank.
    lots: field((typed, refuse) => {
      if (typed === '' || typed === 'one') return 'one' as const;
      return typed === 'any' ? ('any' as const) : refuse('Choose one lot or any lots.');
    }),
  });
}

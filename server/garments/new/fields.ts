import { z } from 'zod';
import { LOWER_EDGES, SEAM_KINDS } from '../../../src/garment/seams-and-edges.ts';
import { readFullness } from '../../../src/quantity/fullness.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { type Choice, optionalChosen } from '../../kit/choices.ts';
import { field, lengthField, optionalLength, type Quantity, rowsField, tickField } from '../../kit/fields.ts';
import { sizeUnit } from '../../kit/units.ts';
import { garmentFields, numbered, refineGarment } from '../garment/form-fields.ts';
import { choiceOrFirst, MOST_DROP_TICKS } from '../tier/fields.ts';

/** Tiers that one form may bring into the book. */
export const MOST_NEW_TIERS = 50;
/** What a tier or a ruffle is gathered to where nothing is typed: common practice for sheers. */
const USUAL_TIER_MILLI = 2500;
export const USUAL_RUFFLE_MILLI = 2000;

/** A ruffle in the first shade of its tier, where the tier has several. */
export const FIRST_SHADE: Choice = { value: 'first', label: 'first shade' };

export interface NewChoices {
  readonly cloths: readonly Choice[];
  readonly shades: readonly Choice[];
}

/** A tier of the form that makes a garment at once; what its row left blank is as in the row above. */
export interface NewTier {
  readonly place: number;
  /** the text of a drop that was typed; null follows the tier above */
  readonly drop: Quantity | null;
  readonly depth: Quantity;
  readonly fullness: Quantity;
  readonly clothId: number;
  readonly shadeIds: readonly number[];
  /** a ruffle of no shade of its own has the colours of the tier, where the tier has them */
  readonly ruffle: { readonly depth: Quantity; readonly shadeId: number | null } | null;
}

/**
 * A garment with its form and all its tiers in one form: a tier is a row of a few fields, one ruffle may edge each,
 * and what goes for all of them is said once. Whatever else a tier has can be changed on its own page.
 */
export function newGarmentSchema(units: Units, choices: NewChoices) {
  const unit = sizeUnit(units);
  return z
    .strictObject({
      ...garmentFields(units),
      tiers: tierRows(units, choices),
      overlap: optionalLength(unit, { max: MOST_DROP_TICKS, what: 'overlap' }),
      seam_kind: choiceOrFirst(SEAM_KINDS, 'a kind of seam'),
      lower_edge: choiceOrFirst(['narrow', ...LOWER_EDGES], 'a lower edge'),
      ruffle_fullness: optionalFullness(),
      finish_repeat: tickField(),
      step: tickField(),
    })
    .superRefine(refineGarment);
}

export type NewGarmentForm = z.output<ReturnType<typeof newGarmentSchema>>;

type Row = ReturnType<ReturnType<typeof tierRow>['parse']>;

function tierRow(units: Units, { cloths, shades }: NewChoices) {
  const unit = sizeUnit(units);
  return z.strictObject({
    drop: optionalLength(unit, { min: 0, max: MOST_DROP_TICKS, what: 'drop' }),
    depth: lengthField(unit, { max: MOST_DROP_TICKS, what: 'depth' }),
    fullness: optionalFullness(),
    cloth_id: optionalChosen(cloths, 'a cloth'),
    shade_id: optionalChosen(shades, 'a shade'),
    second_shade_id: optionalChosen(shades, 'a shade'),
    ruffle_depth: optionalLength(unit, { min: 1, max: MOST_DROP_TICKS, what: 'depth' }),
    ruffle_shade_id: ruffleShade(shades),
    place: field((typed) => Number(typed)),
  });
}

function tierRows(units: Units, choices: NewChoices) {
  const rows = rowsField(tierRow(units, choices), { min: 0, max: MOST_NEW_TIERS, what: 'tiers' });
  return z.preprocess(numbered, rows).transform((typed, context) => {
    const tiers: NewTier[] = [];
    for (const row of typed) {
      const above = tiers.at(-1);
      const clothId = row.cloth_id ?? above?.clothId;
      const shadeId = row.shade_id ?? above?.shadeIds[0];
      const say = (name: string, message: string) =>
        context.issues.push({ code: 'custom', message, path: [row.place, name], input: '' });
      if (clothId === undefined) say('cloth_id', 'Choose a cloth.');
      if (shadeId === undefined) say('shade_id', 'Choose a shade.');
      if (row.ruffle_shade_id !== null && row.ruffle_depth === null)
        say('ruffle_depth', 'Give the depth of the ruffle.');
      tiers.push(resolved(row, above, clothId ?? 0, shadeId ?? 0));
    }
    return tiers;
  });
}

function resolved(row: Row, above: NewTier | undefined, clothId: number, shadeId: number): NewTier {
  const usual = { value: USUAL_TIER_MILLI, typed: '' };
  return {
    place: row.place,
    drop: row.drop,
    depth: row.depth,
    fullness: row.fullness ?? above?.fullness ?? usual,
    clothId,
    shadeIds: row.second_shade_id === null ? [shadeId] : [shadeId, row.second_shade_id],
    ruffle:
      row.ruffle_depth === null
        ? null
        : {
            depth: row.ruffle_depth,
            shadeId: row.ruffle_shade_id === 'first' ? shadeId : row.ruffle_shade_id,
          },
  };
}

/** A shade of its own, the first of the tier, or null for the tier's blocks. */
function ruffleShade(shades: readonly Choice[]) {
  return field((typed, refuse): number | 'first' | null => {
    if (typed === '') return null;
    if (typed === FIRST_SHADE.value) return 'first';
    return shades.some(({ value }) => value === typed) ? Number(typed) : refuse('Choose a shade.');
  });
}

function optionalFullness() {
  return field((typed, refuse): Quantity | null => {
    if (typed.trim() === '') return null;
    const read = readFullness(typed);
    return read.ok ? { value: read.value, typed: typed.trim() } : refuse(read.reason);
  });
}

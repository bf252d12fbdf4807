import { z } from 'zod';
import { readOwf } from '../../../src/dye/bench-figures.ts';
import { equalRatios, LEAST_STEPS, MOST_STEPS, readLadder } from '../../../src/dye/ladder.ts';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { readMass } from '../../../src/quantity/mass.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, chosenField, optionalChosen } from '../../kit/choices.ts';
import {
  optionalDay,
  optionalLength,
  optionalReading,
  optionalText,
  optionalWhole,
  textField,
  tickField,
} from '../../kit/fields.ts';
import { lengthUnit } from '../../kit/units.ts';
import { allInvalid, invalid } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { readGroundCloths } from '../batch/dyeable.ts';
import { numberedRows } from '../numbered-rows.ts';
import { dyedShadeChoices } from '../recipe/form.ts';
import { recipeChoices } from '../swatch/form.ts';
import { vesselChoices } from '../vessels/store.ts';

export function seriesForm(reader: Reader, { units }: Asker) {
  const unit = lengthUnit(units);
  return z.strictObject({
    name: textField({ max: 60, label: 'Name of the series', what: 'The name of the series' }),
    from_recipe_id: chosenField(recipeChoices(reader), 'a recipe', { label: 'Recipe' }),
    to_recipe_id: optionalChosen(recipeChoices(reader), 'a recipe', {
      label: 'Shift to the dyes of',
      blank: 'Keep their proportions',
    }),
    cloth_id: chosenField(
      readGroundCloths(reader).map(({ id, name }) => ({ value: String(id), label: name })),
      'a cloth',
      { label: 'Cloth' },
    ),
    first: optionalReading(readOwf, { label: 'First depth', unit: '%' }),
    last: optionalReading(readOwf, { label: 'Last depth', unit: '%' }),
    steps: optionalWhole({
      min: LEAST_STEPS,
      max: MOST_STEPS,
      label: 'Steps',
    }),
    depths: optionalReading(readLadder, {
      label: 'Or chosen depths, %',
      hint: 'Such as 0.1/0.2/0.4, in place of first, last and steps.',
    }),
    most: optionalReading(readOwf, {
      label: 'The label’s deepest shade',
      unit: '%',
    }),
    vessel_id: chosenField(vesselChoices(reader), 'a vessel', {
      label: 'Vessel',
      hint: 'From pale to deep.',
    }),
    garment_id: optionalChosen(garmentChoices(reader), 'a garment', {
      label: 'Lengths from the tiers of',
      blank: 'Lengths are typed',
      hint: 'Its shades in this cloth, from the waist down.',
    }),
    swatch: optionalReading((typed) => readMass(typed, 'g'), {
      label: 'Swatch of each step',
      unit: 'g',
      hint: 'Blank: no swatches.',
    }),
    due_on: optionalDay({ label: 'Wanted by' }),
    mixing: tickField({
      label: 'A step may take two lots',
      hint: 'Only where no one lot is long enough.',
    }),
    rows: numberedRows(
      {
        shade_id: optionalChosen(dyedShadeChoices(reader), 'a shade', {
          label: 'Shade',
          blank: 'A new shade, named beside',
        }),
        shade_name: optionalText({ max: 80, label: 'Name of a new shade' }),
        length: optionalLength(unit, {
          min: 1,
          max: MOST_LENGTH_TICKS,
          what: 'length',
          label: `Length wanted (${unit})`,
        }),
      },
      { min: 0, max: MOST_STEPS, what: 'steps' },
    ),
    note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text', size: 'long' }),
  });
}

export type SeriesForm = z.output<ReturnType<typeof seriesForm>>;

function garmentChoices(reader: Reader): Choice[] {
  const rows = reader.all(
    reader.db
      .selectFrom('garment')
      .select(['id', 'code', 'name'])
      .where('finished_at', 'is', null)
      .orderBy('id', 'desc'),
  );
  return rows.map(({ id, code, name }) => ({ value: String(id), label: `${code}, ${name}` }));
}

/** The depths that are asked for. @throws {Refusal} invalid, where there are none */
export function depthsOf({ depths, first, last, steps }: DepthsAsked): readonly number[] {
  if (depths) return depths;
  if (first === null && last === null && steps === null)
    throw invalid('depths', 'Give the first and the last depth and how many steps, or write the depths.');
  if (first === null || last === null || steps === null) {
    const missing = Object.entries({ first, last, steps }).filter(([, value]) => value === null);
    throw allInvalid(
      missing.map(([field]) => ({
        field,
        message: 'Equal ratios need both depths and the number of steps.',
      })),
    );
  }
  if (first === 0) throw invalid('first', 'A step has some dye: write a depth above 0.');
  if (last === 0) throw invalid('last', 'A step has some dye: write a depth above 0.');
  if (first === last) throw invalid('last', 'The depths are the same: enter two that differ.');
  const ladder = equalRatios(first, last, steps.value);
  if (new Set(ladder).size < ladder.length)
    throw invalid(
      'steps',
      'These depths lie too close for so many steps: enter fewer steps or depths further apart.',
    );
  return ladder;
}

type DepthsAsked = Pick<SeriesForm, 'depths' | 'first' | 'last' | 'steps'>;

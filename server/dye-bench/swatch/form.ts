import { z } from 'zod';
import { readLiquorRatio, readOwf } from '../../../src/dye/bench-figures.ts';
import { readMass } from '../../../src/quantity/mass.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, chosenField } from '../../kit/choices.ts';
import { choiceField, optionalReading, optionalText, readingField, textField } from '../../kit/fields.ts';
import { CHOOSE_VIEWING, labFields, readLab, viewingField } from '../../shelf/colour/fields.ts';
import { readDyes } from '../dyes/store.ts';
import { numberedRows } from '../numbered-rows.ts';
import { newestRecipes } from '../recipe/list-page.ts';

/** Swatches in one job at most: more stand in no rack. */
export const MOST_SWATCHES = 40;

/** What a swatch is dyed by. */
function swatchRows(reader: Reader) {
  return numberedRows(
    {
      recipe_id: chosenField(recipeChoices(reader), 'a recipe', { label: 'Recipe', blank: 'None' }),
      depth: optionalReading(readOwf, {
        label: 'Depth, all dyes together',
        unit: '%',
        hint: 'Blank: as in the recipe.',
      }),
    },
    { min: 1, max: MOST_SWATCHES, what: 'swatches', rows: 2, spare: 1 },
  );
}

export function swatchJobForm(reader: Reader) {
  return z.strictObject({
    lot_id: chosenField(lotsToSwatch(reader), 'a lot', {
      label: 'Cloth and lot',
      blank: 'Choose a lot',
    }),
    mass: readingField((typed) => readMass(typed, 'g'), {
      label: 'Each swatch weighs',
      unit: 'g',
      hint: '5 g or more.',
    }),
    lab_ratio: readingField(readLiquorRatio, { label: 'Liquor ratio of the swatch' }),
    bulk_ratio: readingField(readLiquorRatio, {
      label: 'Liquor ratio of the pot',
    }),
    swatches: swatchRows(reader),
    lots: numberedRows(
      {
        name: textField({
          max: 120,
          label: 'Dye',
          what: 'The name of the dye',
          suggest: readDyes(reader).map(({ name }) => name),
        }),
        lot: textField({ max: 120, label: 'Dye lot', what: 'The dye lot' }),
      },
      { min: 0, max: 20, what: 'dye lots', rows: 1, spare: 1 },
    ),
    note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text', size: 'long' }),
  });
}

export type SwatchJobForm = z.output<ReturnType<typeof swatchJobForm>>;

export function moreSwatchesForm(reader: Reader) {
  return z.strictObject({ swatches: swatchRows(reader) });
}

const VERDICTS = ['', 'approved', 'adjusted', 'given up'] as const;
const VERDICT_WORDS: Readonly<Record<(typeof VERDICTS)[number], string>> = {
  '': 'Not decided yet',
  approved: 'Approved',
  adjusted: 'To be adjusted',
  'given up': 'Given up',
};
const SEEN_BY = ['eye', 'photo', 'instrument'] as const;
const STATES = ['dry', 'wet'] as const;
const LIGHTS = [
  'daylight, north window',
  'daylight lamp, D65',
  'workroom lamps',
  'warm stage light',
  'cool stage light',
];

/** Judging a swatch. An instrument has its values, a photo says where it lies, what is to be adjusted says how. */
export function swatchResultForm(swatches: readonly Choice[]) {
  return z
    .strictObject({
      swatch_id: chosenField(swatches, 'a swatch', { label: 'Swatch' }),
      verdict: choiceField(VERDICTS, 'a verdict', {
        label: 'Verdict',
        required: false,
        options: VERDICTS.map((value) => ({ value, label: VERDICT_WORDS[value] })),
      }).transform((verdict) => (verdict === '' ? null : verdict)),
      seen_by: choiceField(SEEN_BY, 'how it was judged', {
        label: 'Judged by',
        options: SEEN_BY.map((value) => ({ value, label: `By ${value}` })),
      }),
      light: textField({
        max: 80,
        label: 'In which light',
        what: 'The light',
        suggest: LIGHTS,
        hint: 'Stage light too, for the stage.',
      }),
      state: choiceField(STATES, 'whether it was wet or dry', {
        label: 'Wet or dry',
        options: STATES.map((value) => ({ value, label: value })),
        hint: 'Most shades are deeper wet.',
      }),
      ...labFields({ required: false }),
      viewing: viewingField({ required: false }),
      photo: optionalText({
        max: 200,
        label: 'Photograph',
      }),
      note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text', size: 'long' }),
    })
    .transform(({ l, a, b, viewing, ...result }, context) => {
      const refuse = (field: string, message: string) =>
        context.issues.push({ code: 'custom', message, path: [field], input: null });
      const lab = readLab({ l, a, b }, refuse);
      if (result.seen_by === 'instrument' && [l, a, b].every((axis) => axis === null))
        refuse('l', 'Give what the instrument showed: L*, a* and b*.');
      if (result.seen_by === 'photo' && result.photo === '')
        refuse('photo', 'Say which photograph: its file name, or where it lies.');
      if (result.verdict === 'adjusted' && result.note === '')
        refuse('note', 'Say what is to change: redder, paler, a fifth more blue.');
      if (lab && !viewing) refuse('viewing', CHOOSE_VIEWING);
      return { ...result, colour: lab && viewing && { lab, viewing } };
    });
}

export type SwatchResultForm = z.output<ReturnType<typeof swatchResultForm>>;

/** The newest version of every recipe, "Sea green on nylon, version 2". */
export function recipeChoices(reader: Reader): Choice[] {
  const rows = reader.all(
    newestRecipes(reader, null, null)
      .select(['recipe.id', 'recipe.name', 'recipe.version'])
      .orderBy('recipe.name'),
  );
  return rows.map(({ id, name, version }) => ({ value: String(id), label: `${name}, version ${version}` }));
}

/** Undyed lots of which something is on hand, by their cloth, then those dyed here, which may be dyed over. */
export function lotsToSwatch(reader: Reader): Choice[] {
  const rows = reader.all(
    reader.db
      .selectFrom('lot')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select(['lot.id', 'lot.code', 'lot.mill_lot', 'cloth.name as cloth', 'shade.name as shade'])
      .where((of) => of.or([of('shade.ground', '=', 1), of('lot.origin', '=', 'dyed')]))
      .where((of) =>
        of.exists(
          of
            .selectFrom('piece')
            .select('piece.id')
            .whereRef('piece.lot_id', '=', 'lot.id')
            .where('piece.on_hand_ticks', '>', 0),
        ),
      )
      .orderBy('shade.ground', 'desc')
      .orderBy('cloth.name')
      .orderBy('lot.id'),
  );
  return rows.map((row) => ({
    value: String(row.id),
    label: `${row.cloth}, ${row.shade}, lot ${row.code}${row.mill_lot === '' ? '' : ` (mill lot ${row.mill_lot})`}`,
  }));
}

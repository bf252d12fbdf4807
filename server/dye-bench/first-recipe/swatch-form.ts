import { z } from 'zod';
import { HOW_READ, type HowRead } from '../../../src/colour/colour-reading.ts';
import { readOwf } from '../../../src/dye/bench-figures.ts';
import type { Reader } from '../../database/book.ts';
import { chosenField, clothChoices } from '../../kit/choices.ts';
import { choiceField, optionalText, readingField } from '../../kit/fields.ts';
import {
  CHOOSE_VIEWING,
  HOW_READ_WORDS,
  labFields,
  readLab,
  viewingField,
} from '../../shelf/colour/fields.ts';
import { readDyes } from '../dyes/store.ts';
import { numberedRows } from '../numbered-rows.ts';

/** So many dyes in one swatch at most. */
const MOST_DYES = 4;
const HOW_LABEL = (how: HowRead) => HOW_READ_WORDS[how].replace(/^./, (letter) => letter.toUpperCase());

/** How level a swatch came out: one that is not has no one colour. */
const LEVEL = ['level', 'unlevel'] as const;

/** A swatch that was dyed, or the undyed cloth, with its colour as it was read dry. */
export function dyedSwatchForm(reader: Reader) {
  return z
    .strictObject({
      cloth_id: chosenField(clothChoices(reader), 'a cloth', { label: 'Cloth' }),
      ground_id: chosenField(groundChoices(reader), 'the undyed ground', {
        label: 'Dyed on',
      }),
      dyes: numberedRows(
        {
          dye_id: chosenField(dyeChoices(reader), 'a dye of your list', { label: 'Dye' }),
          owf: readingField(readOwf, { label: 'On fabric', unit: '%' }),
        },
        { min: 0, max: MOST_DYES, what: 'dyes', rows: 3, spare: 0 },
      ),
      level: choiceField(LEVEL, 'how level it is', {
        label: 'Level',
        options: [
          { value: 'level', label: 'Level, one even colour' },
          { value: 'unlevel', label: 'Unlevel, or part of it resisted' },
        ],
      }),
      how: choiceField(HOW_READ, 'how it was read', {
        label: 'How it was read, dry',
        options: HOW_READ.map((value) => ({ value, label: HOW_LABEL(value) })),
      }),
      viewing: viewingField(),
      ...labFields(),
      note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text', size: 'long' }),
    })
    .transform(({ l, a, b, viewing, level, ...form }, context) => {
      const refuse = (field: string, message: string) =>
        context.issues.push({ code: 'custom', message, path: [field], input: null });
      const lab = readLab({ l, a, b }, refuse);
      if (l === null && a === null && b === null)
        refuse('l', 'Enter the colour that was read: L*, a* and b*.');
      if (!viewing) refuse('viewing', CHOOSE_VIEWING);
      if (level === 'unlevel')
        refuse('level', 'An unlevel swatch has no one colour to learn from: dye another.');
      const chosen = form.dyes.map(({ dye_id }) => dye_id);
      form.dyes.forEach(({ dye_id, place }, at) => {
        if (chosen.indexOf(dye_id) < at) refuse(`dyes.${place}.dye_id`, 'This dye stands above already.');
      });
      if (!lab || !viewing) return z.NEVER;
      return { ...form, lab, viewing };
    });
}

export type DyedSwatchForm = z.output<ReturnType<typeof dyedSwatchForm>>;

function groundChoices(reader: Reader) {
  return reader
    .all(reader.db.selectFrom('shade').select(['id', 'name']).where('ground', '=', 1).orderBy('name'))
    .map(({ id, name }) => ({ value: String(id), label: name }));
}

/** Dyes in use; those that fluoresce are not offered, as nothing is learned from them. */
function dyeChoices(reader: Reader) {
  return readDyes(reader)
    .filter(({ gone, isFluorescent }) => gone === '' && !isFluorescent)
    .map(({ id, name }) => ({ value: String(id), label: name }));
}

/** One of the swatches of a cloth that were only recorded; of any cloth where none is named. */
export function takeOutForm(reader: Reader, clothId: number | null) {
  const recorded = reader.db.selectFrom('dyed_swatch').select('id').where('undone_key', 'is', null);
  const rows = reader.all(
    (clothId === null ? recorded : recorded.where('cloth_id', '=', clothId)).orderBy('id', 'desc'),
  );
  return z.strictObject({
    swatch_id: chosenField(
      rows.map(({ id }) => ({ value: String(id), label: `Swatch ${id}` })),
      'a swatch',
      { label: 'Swatch to take out', blank: 'Choose a swatch' },
    ),
  });
}

import { z } from 'zod';
import { FASTNESS_TESTS, GRADES_TENTHS, showGrade } from '../../../src/dye/grey-scale.ts';
import { readPh } from '../../../src/dye/recipe-figures.ts';
import { readMass } from '../../../src/quantity/mass.ts';
import { readVolume } from '../../../src/quantity/volume.ts';
import { readColourDifference } from '../../../src/quantity/whole.ts';
import { optionalChoice } from '../../kit/choices.ts';
import { optionalReading, optionalText, wholeField } from '../../kit/fields.ts';
import { numberedRows } from '../numbered-rows.ts';

const BATH_ENDS = ['clear', 'nearly clear', 'coloured'] as const;
const VERDICTS = ['match', 'near', 'no match'] as const;
const HOW = [
  { value: 'instrument', label: 'measured' },
  { value: 'photo', label: 'from a photograph' },
  { value: 'eye', label: 'by eye, grey scale' },
] as const;
/** The same for what is typed at the start, in the middle and at the end of a bath. */
export const PH_POINTS = ['start', 'middle', 'end'] as const;

const listed = <W extends string>(values: readonly W[]) =>
  values.map((value) => ({ value, label: value.charAt(0).toUpperCase() + value.slice(1) }));
const GRADE_CHOICES = GRADES_TENTHS.map((grade) => ({ value: String(grade), label: showGrade(grade) }));
const BLANK = 'not said';

/** What the card of a bath tells beside the log of the pot. What is left blank stays as it was. */
export const BATCH_CARD = z
  .strictObject({
    bath: wholeField({ min: 1, max: 100 }),
    scoured: optionalReading((typed) => readMass(typed, 'g'), {
      label: 'Mass after the scour, dry',
      unit: 'g',
      size: 'short',
    }),
    topped_up: optionalReading((typed) => readVolume(typed, 'l'), {
      label: 'Water topped up',
      unit: 'L',
      size: 'short',
      hint: 'Adds to earlier top-ups.',
    }),
    ph_start: phOf('start'),
    ph_middle: phOf('middle'),
    ph_end: phOf('end'),
    bath_end: optionalChoice(listed(BATH_ENDS), 'how the bath ended', {
      label: 'Bath at the end',
      size: 'short',
      blank: BLANK,
    }),
    daylight: optionalChoice(listed(VERDICTS), 'how it looks by daylight', {
      label: 'Shade by daylight',
      size: 'short',
      blank: BLANK,
    }),
    stage_light: optionalChoice(listed(VERDICTS), 'how it looks by stage light', {
      label: 'Shade by stage light',
      size: 'short',
      blank: BLANK,
    }),
    light_note: optionalText({
      max: 500,
      label: 'Which lights, and what is off',
      hint: 'Judge dry cloth. Such as: north window, redder, duller.',
      size: 'long',
    }),
    tests: numberedRows(
      { grade: optionalChoice(GRADE_CHOICES, 'a grade', { label: 'Grade', blank: BLANK, size: 'short' }) },
      { min: 0, max: FASTNESS_TESTS.length, what: 'tests' },
    ),
    difference_how: optionalChoice(HOW, 'how it was judged', {
      label: 'Difference to bath 1',
      size: 'short',
      blank: BLANK,
    }),
    difference: optionalReading(readColourDifference, {
      label: 'ΔE00, or the grade by eye',
      size: 'short',
      hint: 'Such as 0.6; by eye 4.5 for 4-5.',
    }),
  })
  .check((context) => {
    const { difference_how: how, difference } = context.value;
    const refuse = (path: string, message: string) =>
      context.issues.push({ code: 'custom', message, path: [path], input: null });
    if (how !== '' && difference === null) refuse('difference', 'Difference to bath 1: give its figure.');
    if (how === '' && difference !== null) refuse('difference_how', 'Say how the difference was judged.');
    if (how === 'eye' && difference !== null && !GRADES_TENTHS.some((grade) => grade * 10 === difference)) {
      refuse('difference', 'By eye: give a grade from 1 to 5 in half steps, such as 4.5.');
    }
  });

export type BatchCardForm = z.output<typeof BATCH_CARD>;

function phOf(point: (typeof PH_POINTS)[number]) {
  return optionalReading(readPh, { label: `pH at the ${point}`, size: 'short' });
}

import { MAX_FORM_TICKS } from '../../../src/garment/form.ts';
import { casingStrips, cutCage, straightHoops } from '../../../src/garment/parts/hoops.ts';
import { packLengths } from '../../../src/garment/parts/trims.ts';
import type { LengthUnit } from '../../../src/quantity/length.ts';
import { readLength } from '../../../src/quantity/length.ts';
import type { Reading } from '../../../src/quantity/reading.ts';
import { optionalReading, optionalWhole, wholeField } from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import { alike, allowed, clothWidth, maybe, part, wantsCount, wantsLengths, widthOf } from './describing.ts';

/** A cage of steels. */
export const CAGE = part({
  slug: 'cage',
  title: 'Hoops',
  about: 'Steels, casings and tapes from the girths of the cage.',
  sources:
    'Steel is girth and 10 cm (4 in) of lap: naergilien.info, 2011. Hoops on a straight line in five steps: fuwa-fuwa-fashion, 2016.',
  brief: ['Steel', 'Casing', 'Tape'],
  usual: {
    metric: { lap: '10', seam: '1', tapes: '8', less: '12', steps: '5', hoops: '4', turns: '5' },
    imperial: { lap: '4', seam: '1/2', tapes: '8', less: '5', steps: '5', hoops: '4', turns: '2' },
  },
  fields: (unit) => ({
    girths: asked(
      optionalReading((typed) => readGirths(typed, unit)),
      {
        label: 'Girths of the hoops',
        hint: 'From the top down, such as 130, 188, 246, 305.',
        size: 'long',
        unit,
      },
    ),
    hem: maybe(unit, 'Hem of the dress', 'In place of the girths: hoops on a straight line.'),
    less: allowed(unit, 'Hem less lowest hoop'),
    steps: optionalWhole({ min: 2, max: 40, label: 'Steps' }),
    hoops: optionalWhole({ min: 1, max: 39, label: 'Hoops' }),
    lap: allowed(unit, 'Lap of a steel', '0 for a connector.'),
    seam: allowed(unit, 'Seam allowance of a casing'),
    casing: maybe(unit, 'Cut width of a casing', 'Of cloth, in strips across it. Blank: bought tape.'),
    width: clothWidth(unit, 'Of casings. Blank: that of their cloth.'),
    drop: maybe(unit, 'Waist to lowest hoop'),
    turns: allowed(unit, 'Turns of a tape', 'At both ends together.'),
    tapes: wholeField({ min: 0, max: 40, label: 'Vertical tapes' }),
    coil: maybe(unit, 'Coil length', 'No steel is joined.'),
  }),
  answer: (form, words) => {
    const { size } = words;
    if (!form.girths && !form.hem) throw invalid('girths', 'Give the girths, or the hem of the dress.');
    if (form.girths && form.hem) throw invalid('hem', 'Give the girths or the hem, not both.');
    const girthsTicks = form.girths ?? lineOf(form);
    const lapTicks = form.lap?.value ?? 0;
    const cage = cutCage({
      girthsTicks,
      lapTicks,
      seamTicks: form.seam?.value ?? 0,
      tapes: form.tapes.value,
      tapeTicks: (form.drop?.value ?? 0) + (form.drop ? (form.turns?.value ?? 0) : 0),
    });
    const { casing } = form;
    if (!casing && form.width) throw invalid('casing', 'This belongs to casings of cloth: fill it in too.');
    const widthTicks = casing ? widthOf(form.width, words) : 0;
    const seamTicks = form.seam?.value ?? 0;
    if (casing && widthTicks <= 2 * seamTicks)
      throw invalid('seam', 'The joins take the whole width of the cloth.');
    const strips = casing ? casingStrips(cage.casingTicks, widthTicks, seamTicks) : 0;
    const packed = form.coil
      ? packLengths(
          cage.steels.map(({ steelTicks }) => steelTicks),
          form.coil.value,
        )
      : null;
    return {
      figures: [
        {
          label: 'Steel',
          value: size(cage.steelTicks),
          how: `${countOf(cage.steels.length, 'hoop', 'hoops')}, each girth and lap`,
        },
        ...(packed
          ? [
              {
                label: 'Coils',
                value: String(packed.packs),
                how:
                  packed.tooLong.length > 0
                    ? `${countOf(packed.tooLong.length, 'steel is', 'steels are')} longer than a coil`
                    : 'the longest first, each off the first coil that has it',
              },
            ]
          : []),
        { label: 'Casing', value: size(cage.casingTicks), how: 'girths and two seams each' },
        ...(casing
          ? [
              {
                label: 'Strips for casings',
                value: String(strips),
                how: 'joined to one length, each join two seams, and cut to the casings',
              },
            ]
          : []),
        ...(cage.tapeTicks > 0
          ? [
              {
                label: 'Tape',
                value: size(cage.tapeTicks),
                how: `${countOf(form.tapes.value, 'tape', 'tapes')} of the drop and its turns`,
              },
            ]
          : []),
        {
          label: 'Ends',
          value: cage.connectors > 0 ? countOf(cage.connectors, 'connector', 'connectors') : 'lapped',
          how: 'tip or file the ends of every steel',
        },
      ],
      rows: {
        caption: 'Hoop by hoop, from the top',
        heads: ['Hoop', 'Girth', 'Steel', 'Casing'],
        cells: cage.steels.map(({ girthTicks, steelTicks, casingTicks }, at) => [
          String(at + 1),
          size(girthTicks),
          size(steelTicks),
          size(casingTicks),
        ]),
      },
      wants: [
        // A steel is not joined; a casing may be.
        wantsLengths(
          'Steel',
          cage.steels.map(({ steelTicks: ticks }) => ({ ticks, pieces: 1 })),
        ),
        ...(packed && packed.tooLong.length === 0 ? [wantsCount('Coils of steel', packed.packs)] : []),
        casing
          ? wantsCount(`Strips of ${size(casing.value)} for casings`, strips, 'cloth')
          : wantsLengths(
              'Casing',
              cage.steels.map(({ casingTicks: ticks }) => ({ ticks, pieces: null })),
            ),
        ...(cage.tapeTicks > 0
          ? [wantsLengths('Tape', alike(form.tapes.value, cage.tapeTicks / form.tapes.value))]
          : []),
        ...(cage.connectors > 0 ? [wantsCount('Connectors', cage.connectors)] : []),
      ],
      // A casing is sewn along both its edges.
      sewn: [{ job: 'attaching', ticks: 2 * cage.casingTicks }],
      cuts: casing
        ? [
            {
              noun: 'strip',
              depthTicks: casing.value,
              lengthTicks: widthTicks,
              direction: 'across',
              count: strips,
            },
          ]
        : [],
      warnings:
        packed && packed.tooLong.length > 0
          ? [
              `${countOf(packed.tooLong.length, 'steel is', 'steels are')} longer than a coil: take a longer coil, or join them.`,
            ]
          : [],
      notes: [
        'A casing much wider than its steel lets the hoop slide down, and whoever wears it trips: keep it close.',
      ],
    };
  },
});

function lineOf(form: {
  readonly hem: { readonly value: number } | null;
  readonly less: { readonly value: number } | null;
  readonly steps: { readonly value: number } | null;
  readonly hoops: { readonly value: number } | null;
}) {
  const steps = form.steps?.value ?? 5;
  const hoops = form.hoops?.value ?? steps - 1;
  if (hoops >= steps) throw invalid('hoops', 'Enter fewer hoops than steps: the last step is the waist.');
  const lessTicks = form.less?.value ?? 0;
  const hem = form.hem?.value ?? 0;
  if (lessTicks >= hem)
    throw invalid('less', 'The lowest hoop must be left with a girth: enter less than the hem.');
  return straightHoops(hem, { lessTicks, steps, hoops });
}

/** Girths one after another, parted by commas and a space, or semicolons. */
function readGirths(typed: string, unit: LengthUnit): Reading<readonly number[]> {
  const texts = typed
    .split(/;|,\s+|\n/)
    .map((text) => text.trim())
    .filter((text) => text !== '');
  const girths: number[] = [];
  for (const text of texts) {
    const reading = readLength(text, unit);
    if (!reading.ok) return { ok: false, reason: `${text}: ${reading.reason}` };
    if (reading.value < 1 || reading.value > MAX_FORM_TICKS)
      return { ok: false, reason: `${text}: a girth is more than 0 and at most 100 m.` };
    girths.push(reading.value);
  }
  if (girths.length > 40) return { ok: false, reason: 'A cage has 40 hoops at most.' };
  return { ok: true, value: girths, echo: `${girths.length}`, exact: true };
}

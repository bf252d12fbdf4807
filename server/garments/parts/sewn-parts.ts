import { MAX_FORM_TICKS } from '../../../src/garment/form.ts';
import {
  cordLength,
  cutWaistband,
  elasticLength,
  fastenersFor,
  laceLength,
  openingThrough,
  placketStrip,
} from '../../../src/garment/parts/closing.ts';
import { planGathering } from '../../../src/garment/parts/gathering-plan.ts';
import { cutCage, straightHoops } from '../../../src/garment/parts/hoops.ts';
import { packLengths, trimLength } from '../../../src/garment/parts/trims.ts';
import type { LengthUnit } from '../../../src/quantity/length.ts';
import { readLength } from '../../../src/quantity/length.ts';
import type { Reading } from '../../../src/quantity/reading.ts';
import {
  fullnessField,
  optionalLength,
  optionalPercent,
  optionalReading,
  optionalWhole,
  wholeField,
} from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import { allowed, maybe, needed, type PartFigure, part } from './describing.ts';

/** The waistband and what closes it. */
export const CLOSING = part({
  slug: 'closing',
  title: 'Band and opening',
  about: 'The waistband, the opening below it, and what holds it closed.',
  sources:
    'Plackets of 9 to 12 in, fasteners about 2 in apart, the lap strip twice the opening: The New Dressmaker, 1921, pp. 99 to 102. Lacing, cord and elastic by geometry.',
  usual: {
    metric: { seam: '1', finished: '4', laps: '5', opening: '25', spacing: '5', tail: '30' },
    imperial: { seam: '1/2', finished: '1 1/2', laps: '2', opening: '10', spacing: '2', tail: '12' },
  },
  fields: (unit) => ({
    waist: needed(unit, 'Waist'),
    ease: allowed(unit, 'Ease'),
    laps: allowed(unit, 'Overlap and underlap', 'Together.'),
    finished: needed(unit, 'Finished depth of the band'),
    seam: allowed(unit, 'Seam allowance'),
    opening: maybe(unit, 'Depth of the opening', 'Below the waist.'),
    layer: optionalLength(unit, {
      max: MAX_FORM_TICKS,
      label: 'Drop of a layer',
      hint: 'Where it is sewn on, below the waist.',
    }),
    layer_depth: maybe(unit, 'Depth of that layer'),
    spacing: maybe(unit, 'Spacing of fasteners'),
    pull_over: maybe(unit, 'Girth it is pulled over', 'Hips or shoulders, the larger.'),
    reduction: optionalPercent({ maxBp: 6000, label: 'Elastic reduction', hint: 'For an elastic waist.' }),
    pairs: optionalWhole({ min: 2, max: 100, label: 'Pairs of eyelets', hint: 'For a lacing.' }),
    gap: maybe(unit, 'Gap of the lacing', 'As wide as it must open to get in.'),
    pitch: maybe(unit, 'Spacing of eyelets'),
    tail: allowed(unit, 'Tail of a lace or cord', 'At each end.'),
  }),
  answer: (form, { size }) => {
    const band = {
      waistTicks: form.waist.value,
      easeTicks: form.ease?.value ?? 0,
      lapsTicks: form.laps?.value ?? 0,
      finishedDepthTicks: form.finished.value,
      seamTicks: form.seam?.value ?? 0,
    };
    const cut = cutWaistband(band);
    const tail = form.tail?.value ?? 0;
    const { opening, spacing, pull_over: over, reduction, pairs, gap, pitch } = form;
    if (!form.layer !== !form.layer_depth) {
      const field = form.layer ? 'layer_depth' : 'layer';
      throw invalid(field, 'This belongs to the layer: fill it in too.');
    }
    if (pairs && (!gap || !pitch))
      throw invalid(gap ? 'pitch' : 'gap', 'This belongs to the lacing: fill it in too.');
    const figures: PartFigure[] = [
      {
        label: 'Band, cut',
        value: `${size(cut.lengthTicks)} × ${size(cut.depthTicks)}`,
        how: 'waist, ease, laps and two seams; twice the depth and two seams',
      },
    ];
    if (opening) {
      figures.push({
        label: 'Lap strip of the opening',
        value: size(placketStrip(opening.value)),
        how: 'twice the opening',
      });
      if (spacing) {
        const count = fastenersFor(opening.value, spacing.value);
        figures.push({
          label: 'Hooks or snaps',
          value: String(count),
          how: `${size(opening.value)} ÷ ${size(spacing.value)}, rounded down, and one; one or two more at the band`,
        });
      }
    }
    if (opening && form.layer && form.layer_depth) {
      const through = openingThrough(opening.value, form.layer.value, form.layer_depth.value);
      const said = { ring: 'stays a ring', open: 'open its whole depth', partly: 'open above, closed below' }[
        through.how
      ];
      const how = {
        ring: 'it begins below the opening',
        open: 'two finished ends, each with its strip',
        partly: through.how === 'partly' ? `open for ${size(through.openTicks)}; its hem is a ring` : '',
      }[through.how];
      figures.push({ label: 'That layer', value: said, how });
    }
    if (reduction) {
      const elastic = elasticLength(form.waist.value, reduction.value, band.seamTicks * 2);
      figures.push({
        label: 'Elastic',
        value: size(elastic),
        how: 'waist less what it is drawn up by, and a lap',
      });
    }
    if (over)
      figures.push({
        label: 'Cord of a drawn waist',
        value: size(cordLength(over.value, tail)),
        how: 'what it passes over when open, and two tails',
      });
    if (pairs && gap && pitch) {
      const lace = laceLength(pairs.value, gap.value, pitch.value, tail);
      figures.push({
        label: 'Lace',
        value: size(lace),
        how: `gap + 2 × ${pairs.value - 1} crossings + two tails, at the widest gap`,
      });
      figures.push({ label: 'Eyelets', value: String(2 * pairs.value), how: 'two a pair' });
    }
    const ring = form.waist.value + band.easeTicks;
    const reach = ring + 2 * (opening?.value ?? 0);
    const notes =
      over && over.value > reach
        ? [
            `It does not pass: ${size(ring)} of band and an opening of ${size(opening?.value ?? 0)} open to ${size(reach)}, and ${size(over.value)} must go through. Make the opening deeper, or draw the waist up.`,
          ]
        : [];
    return { figures, notes };
  },
});

/** A cage of steels. */
export const CAGE = part({
  slug: 'cage',
  title: 'Hoops',
  about: 'Steels, casings and tapes from the girths of the cage.',
  sources:
    'Steel is girth and 10 cm (4 in) of lap: naergilien.info, 2011. Hoops on a straight line in five steps: fuwa-fuwa-fashion, 2016.',
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
      },
    ),
    hem: maybe(unit, 'Hem of the dress', 'In place of the girths: hoops on a straight line.'),
    less: allowed(unit, 'Hem less lowest hoop'),
    steps: optionalWhole({ min: 2, max: 40, label: 'Steps' }),
    hoops: optionalWhole({ min: 1, max: 39, label: 'Hoops' }),
    lap: allowed(unit, 'Lap of a steel', '0 for a connector.'),
    seam: allowed(unit, 'Seam allowance of a casing'),
    drop: maybe(unit, 'Waist to lowest hoop'),
    turns: allowed(unit, 'Turns of a tape', 'At both ends together.'),
    tapes: wholeField({ min: 0, max: 40, label: 'Vertical tapes' }),
    coil: maybe(unit, 'Coil length', 'No steel is joined.'),
  }),
  answer: (form, { size }) => {
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
  if (hoops >= steps) throw invalid('hoops', 'Fewer hoops than steps: the last step is the waist.');
  const lessTicks = form.less?.value ?? 0;
  const hem = form.hem?.value ?? 0;
  if (lessTicks >= hem) throw invalid('less', 'The lowest hoop must be left with a girth.');
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

/** Trims by the metre. */
export const TRIM = part({
  slug: 'trim',
  title: 'Trims by the metre',
  about: 'Lace, ribbon, crin, wire and cord along an edge.',
  sources:
    'Lace laid flat takes twice its width more at a corner: School Needlework. Wire takes an inch of lap: Martin, Make Your Own Hats, 1921, p. 7. No mass per metre was found: weigh 10 m.',
  usual: {
    metric: { fullness: '1', joins: '1', per_join: '2.5' },
    imperial: { fullness: '1', joins: '1', per_join: '1' },
  },
  fields: (unit) => ({
    edge: needed(unit, 'Length of the edge'),
    fullness: fullnessField({ label: 'Fullness', unit: '×', hint: '1 lies flat; gathered lace 1½ to 2.' }),
    corners: optionalWhole({ min: 0, max: 1000, label: 'Corners' }),
    per_corner: allowed(unit, 'More at each corner', 'Twice the width of a flat lace.'),
    joins: optionalWhole({ min: 0, max: 1000, label: 'Joins' }),
    per_join: allowed(unit, 'For each join or lap'),
    edges: wholeField({ min: 1, max: 1000, label: 'Edges alike', hint: 'Such as the ruffles of a tier.' }),
    put_up: maybe(unit, 'Put-up', 'The length of a roll or card, where no edge may have a join in it.'),
  }),
  answer: (form, { size }) => {
    const each = trimLength({
      edgeTicks: form.edge.value,
      fullnessMilli: form.fullness.value,
      corners: form.corners?.value ?? 0,
      perCornerTicks: form.per_corner?.value ?? 0,
      joins: form.joins?.value ?? 0,
      perJoinTicks: form.per_join?.value ?? 0,
    });
    const edges = form.edges.value;
    const packed = form.put_up
      ? packLengths(
          Array.from({ length: edges }, () => each),
          form.put_up.value,
        )
      : null;
    return {
      figures: [
        { label: 'For one edge', value: size(each), how: 'edge × fullness, corners and joins' },
        { label: 'Total', value: size(each * edges), how: countOf(edges, 'edge', 'edges') },
        ...(packed
          ? [
              {
                label: 'Put-ups',
                value: packed.tooLong.length > 0 ? 'none is long enough' : String(packed.packs),
                how: 'no edge joined from two',
              },
            ]
          : []),
      ],
      notes: ['Crin on a flaring hem has a shorter inner edge: take the kind with a drawing thread.'],
    };
  },
});

/** How a long edge is gathered. */
export const GATHERING = part({
  slug: 'gathering',
  title: 'Gathering plan',
  about: 'Rows, marks and threads of a long edge that is gathered.',
  sources:
    'Two rows, halves and quarters marked on both edges: The Workwoman’s Guide, 1838, p. 2; Watson, Textiles and Clothing, 1907, p. 111. How far one thread may be pulled is common practice: no published limit was found.',
  usual: { metric: { rows: '2', most: '3 m' }, imperial: { rows: '2', most: '3 yd' } },
  fields: (unit) => ({
    flat: needed(unit, 'Flat length'),
    finished: needed(unit, 'Gathered length'),
    rows: wholeField({ min: 1, max: 6, label: 'Rows' }),
    most: needed(unit, 'Longest pull on one thread'),
  }),
  answer: (form, { size }) => {
    if (form.flat.value < form.finished.value)
      throw invalid('flat', 'The flat length is not shorter than the gathered one.');
    const plan = planGathering(form.flat.value, form.finished.value, {
      rows: form.rows.value,
      mostTicks: form.most.value,
    });
    return {
      figures: [
        {
          label: 'Sections',
          value: String(plan.sections),
          how: 'quarters, halved again until no thread is pulled too far',
        },
        {
          label: 'Mark the flat edge every',
          value: size(plan.flatTicks),
          how: `${size(form.flat.value)} ÷ ${plan.sections}`,
        },
        {
          label: 'Mark what it is sewn to every',
          value: size(plan.finishedTicks),
          how: `${size(form.finished.value)} ÷ ${plan.sections}`,
        },
        {
          label: 'Thread',
          value: size(plan.threadTicks),
          how: `${countOf(plan.rows, 'row', 'rows')} × 2.5 for a lockstitch, and 10 cm at each end of a section`,
        },
        {
          label: 'Or cord under a zigzag',
          value: size(plan.cordTicks),
          how: 'the flat length and its tails',
        },
      ],
      notes: [
        'Two rows 3 mm (⅛ in) apart, one on each side of the seam line. Stop at every mark and start a new thread.',
      ],
    };
  },
});

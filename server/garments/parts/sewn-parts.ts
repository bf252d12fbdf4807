import { planGathering } from '../../../src/garment/parts/gathering-plan.ts';
import { packLengths, trimLength } from '../../../src/garment/parts/trims.ts';
import { fullnessField, optionalWhole, wholeField } from '../../kit/fields.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import { alike, allowed, maybe, needed, part, wantsLengths } from './describing.ts';

/** Trims by the metre. */
export const TRIM = part({
  slug: 'trim',
  title: 'Trims by the metre',
  about: 'Lace, ribbon, crin, wire and cord along an edge.',
  sources:
    'Lace laid flat takes twice its width more at a corner: School Needlework. Wire takes an inch of lap: Martin, Make Your Own Hats, 1921, p. 7. No mass per metre was found: weigh 10 m.',
  brief: ['Total'],
  usual: {
    metric: { fullness: '1', joins: '1', per_join: '2.5', edges: '1' },
    imperial: { fullness: '1', joins: '1', per_join: '1', edges: '1' },
  },
  fields: (unit) => ({
    edge: needed(unit, 'Length of the edge'),
    fullness: fullnessField({ label: 'Fullness', unit: '×', hint: '1 is flat; gathered lace 1½ to 2.' }),
    corners: optionalWhole({ min: 0, max: 1000, label: 'Corners' }),
    per_corner: allowed(unit, 'More at each corner', 'Twice the width of a flat lace.'),
    joins: optionalWhole({
      min: 0,
      max: 1000,
      label: 'Joins',
      hint: 'An edge may be pieced from as many lengths as it has joins.',
    }),
    per_join: allowed(unit, 'For each join or lap'),
    edges: wholeField({ min: 1, max: 1000, label: 'Edges alike' }),
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
      // The last join of a ring closes it; an edge that has none is one length.
      wants: [wantsLengths('Trim', alike(edges, each, Math.max(1, form.joins?.value ?? 0)))],
      sewn: [{ job: 'attaching', ticks: form.edge.value * edges }],
      warnings:
        packed && packed.tooLong.length > 0 ? ['No put-up is long enough for an edge in one piece.'] : [],
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
  brief: ['Sections', 'Thread'],
  usual: { metric: { rows: '2', most: '3 m' }, imperial: { rows: '2', most: '3 yd' } },
  fields: (unit) => ({
    flat: needed(unit, 'Flat length'),
    finished: needed(unit, 'Gathered length'),
    rows: wholeField({ min: 1, max: 6, label: 'Rows' }),
    most: needed(unit, 'Longest pull on one thread'),
  }),
  answer: (form, { size }) => {
    if (form.flat.value < form.finished.value)
      throw invalid('flat', 'Enter the gathered length or more: gathering only shortens.');
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
      wants: [wantsLengths('Gathering thread', [{ ticks: plan.threadTicks, pieces: null }])],
      notes: [
        'Two rows 3 mm (⅛ in) apart, one on each side of the seam line. Stop at every mark and start a new thread.',
      ],
    };
  },
});

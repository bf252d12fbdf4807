import {
  alongSelvedge,
  BIAS_ENDS,
  cutBias,
  squareByArea,
  squareOfWholeTurns,
} from '../../../src/garment/parts/bias.ts';
import { lengthInRepeats, lengthsInRepeats } from '../../../src/garment/parts/pattern-repeat.ts';
import { cutPleats, fullUnder, PLEAT_KINDS, sunrayRadius } from '../../../src/garment/parts/pleats.ts';
import { seamsOf } from '../../../src/garment/sewing.ts';
import { choiceField, choiceOrFirst, optionalWhole, tickField, wholeField } from '../../kit/fields.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import { CLOSINGS } from '../tier/closings.ts';
import {
  allowed,
  type CutOfPart,
  clothWidth,
  LAST_LENGTH,
  maybe,
  needed,
  part,
  wantsCount,
  wantsLength,
  widthOf,
} from './describing.ts';

const PLEAT_NAMES = { knife: 'knife', box: 'box', inverted: 'inverted', 'double-box': 'double box' } as const;

/** A pleated band or flounce. */
export const PLEATS = part({
  slug: 'pleats',
  title: 'Pleats',
  about: 'Whole pleats to each strip, so that every join hides under a fold.',
  sources:
    'Breadths are joined at an inner fold: The New Dressmaker, 1921, p. 99. Widths by geometry; three times for knife and box: Martin, Make Your Own Hats, 1921, p. 73.',
  brief: ['Pleats', 'Strips'],
  usual: {
    metric: { kind: 'knife', seam: '1', closing: 'ring' },
    imperial: { kind: 'knife', seam: '1/2', closing: 'ring' },
  },
  fields: (unit) => ({
    kind: choiceField(PLEAT_KINDS, 'the kind of pleat', {
      label: 'Pleat',
      options: PLEAT_KINDS.map((value) => ({ value, label: PLEAT_NAMES[value] })),
    }),
    finished: needed(unit, 'Finished length'),
    closing: choiceOrFirst(['ring', 'open'], 'ring or open', {
      label: 'Ring or open',
      options: CLOSINGS,
    }),
    face: needed(unit, 'Pleat width', 'What is seen of one: the spacing of knife pleats, the face of a box.'),
    gap: allowed(unit, 'Gap between boxes'),
    under: allowed(unit, 'Fold under', 'Blank: the folds meet.'),
    strip: maybe(unit, 'Strip length', 'Blank: the usable width of its cloth, strips lying across it.'),
    cut_depth: maybe(unit, 'Cut depth of a strip', 'With hem and seam. Blank: its cloth is not counted.'),
    seam: allowed(unit, 'Seam allowance'),
    show: tickField({ label: 'Joins may show: strips are filled up' }),
    sun_hem: allowed(unit, 'Sunray: pleat at the hem', 'The pleat width above is that at the waist.'),
    sun_depth: maybe(unit, 'Sunray: depth'),
  }),
  answer: (form, words) => {
    const { size } = words;
    const stripTicks = widthOf(form.strip, words, 'strip');
    const faceTicks = form.face.value;
    const { sun_hem: sunHem, sun_depth: sunDepth } = form;
    if (!sunHem !== !sunDepth)
      throw invalid(sunHem ? 'sun_depth' : 'sun_hem', 'This belongs to sunray pleats: fill it in too.');
    if (sunHem && sunHem.value <= faceTicks)
      throw invalid(
        'sun_hem',
        'A sunray pleat is wider at the hem: enter more than the width of a pleat at the top.',
      );
    const worked = cutPleats({
      kind: form.kind,
      finishedTicks: form.finished.value,
      closing: form.closing,
      faceTicks,
      gapTicks: form.gap?.value ?? 0,
      underTicks: form.under?.value ?? fullUnder(form.kind, faceTicks),
      stripTicks,
      seamTicks: form.seam?.value ?? 0,
      joinsMayShow: form.show,
    });
    if (!worked.ok) throw invalid(worked.field, worked.message);
    const { cut } = worked;
    return {
      figures: [
        {
          label: 'Pleats',
          value: String(cut.pleats),
          how: `${size(form.finished.value)} ÷ ${size(cut.shownTicks)}, rounded up`,
        },
        {
          label: 'Cloth for one pleat',
          value: size(cut.perPleatTicks),
          how: `${cut.fullness.toFixed(2)}× its width`,
        },
        ...(cut.perStrip > 0
          ? [
              {
                label: 'Pleats in a strip',
                value: String(cut.perStrip),
                how: `${size(cut.overTicks)} over goes into its seams`,
              },
            ]
          : []),
        {
          label: 'Strips',
          value: String(cut.strips),
          how: cut.perStrip > 0 ? `${cut.pleats} ÷ ${cut.perStrip}, rounded up` : 'joins anywhere',
        },
        { label: 'Pleated length', value: size(cut.gotTicks), how: 'at least what was asked' },
        ...(sunHem && sunDepth
          ? [
              {
                label: 'Sunray: radius of the waist',
                value: size(sunrayRadius(faceTicks, sunHem.value, sunDepth.value)),
                how: 'depth ÷ (pleat at the hem ÷ pleat at the waist − 1)',
              },
            ]
          : []),
      ],
      wants: [wantsCount(`Strips of ${size(stripTicks)} to pleat`, cut.strips, 'cloth')],
      sewn: [
        { job: 'plain', ticks: seamsOf(form.closing, cut.strips) * (form.cut_depth?.value ?? 0) },
        { job: 'narrow', ticks: cut.pleats * cut.perPleatTicks },
        { job: 'attaching', ticks: form.finished.value },
      ],
      cuts: form.cut_depth
        ? [
            {
              noun: 'strip',
              depthTicks: form.cut_depth.value,
              lengthTicks: stripTicks,
              direction: 'across',
              count: cut.strips,
            },
          ]
        : [],
      notes: [
        'Lay the pleats before the last seam, and leave one seam open until then. A pleater may want the hem done before or after: ask, and write the date and what came back beside the garment.',
      ],
    };
  },
});

/** Bias strips. */
export const BIAS = part({
  slug: 'bias',
  title: 'Bias strips',
  about: 'Strips at 45°, for bindings, piping and ruches.',
  sources:
    'Geometry. Printed tables round to the nearest eighth and ten of 22 rows of Baldt, ch. XXII, come out short; here √2 is rounded up.',
  brief: ['Strips', 'Cloth'],
  sizes: [LAST_LENGTH],
  usual: { metric: { join: '1' }, imperial: { join: '1/4' } },
  fields: (unit) => ({
    cut: needed(unit, 'Cut width', 'Of a binding: twice its finished width and 2 cm (¾ in).'),
    length: needed(unit, 'Length wanted'),
    width: clothWidth(unit),
    join: allowed(unit, 'Seam allowance', 'Joins run on the straight thread.'),
    pieced: tickField({ label: 'The end triangles are pieced in: every strip is whole' }),
    short: tickField({ label: 'Shorter strips are cut from the end triangles' }),
    shortest: allowed(unit, 'Shortest strip', 'Of those, when joined. Blank: any.'),
    each: optionalWhole({
      min: 1,
      max: 1000,
      label: 'Strips in one length',
      hint: 'Of cloth. Blank: all, which takes least cloth but one piece as long.',
    }),
  }),
  answer: (form, words) => {
    const { size, cloth } = words;
    const join = form.join?.value ?? 0;
    const usableWidthTicks = widthOf(form.width, words);
    if (usableWidthTicks <= 2 * join) throw invalid('join', 'The joins take the whole width of the cloth.');
    if (form.pieced && form.short)
      throw invalid('short', 'The end triangles are pieced in already: tick one of the two.');
    const ends = BIAS_ENDS[form.pieced ? 1 : form.short ? 2 : 0];
    const cut = cutBias({
      stripWidthTicks: form.cut.value,
      lengthTicks: form.length.value,
      usableWidthTicks,
      joinTicks: join,
      ends,
      shortestTicks: form.shortest?.value ?? 0,
      ...(form.each ? { stripsEach: form.each.value } : {}),
    });
    const shorter = cut.shorter.reduce((sum, { count }) => sum + count, 0);
    return {
      figures: [
        {
          label: 'Strips',
          value: shorter === 0 ? String(cut.strips) : `${cut.strips} and ${shorter} shorter`,
          how: `each adds ${size(cut.addsTicks)}: (width − 2 seams) × √2`,
        },
        { label: 'Along the selvedge', value: size(alongSelvedge(form.cut.value)), how: 'cut width × √2' },
        {
          label: 'Cloth',
          value: cloth(cut.clothTicks),
          how: [
            {
              'fall away': 'strips, and the triangles at both ends',
              pieced: 'strips alone',
              short: 'strips, and the triangles that the shorter ones are cut from',
            }[ends],
            ...cut.lengths.map(
              ({ strips, clothTicks, count }) =>
                `${count} × ${size(clothTicks)} for ${countOf(strips, 'strip', 'strips')}`,
            ),
          ].join('; '),
        },
        {
          label: 'Or a square of',
          value: size(squareOfWholeTurns(form.length.value, form.cut.value, join)),
          how: `cut round and round in whole turns, its seam counted; by area alone ${size(squareByArea(form.length.value, form.cut.value))}`,
        },
      ],
      rows:
        shorter === 0
          ? null
          : {
              caption: 'Shorter strips, cut to slant like the others',
              heads: ['Adds', 'How many'],
              cells: cut.shorter.map(({ addsTicks, count }) => [size(addsTicks), String(count)]),
            },
      wants: [wantsLength('Cloth', cut.clothTicks, 'cloth')],
      sewn: [{ job: 'attaching', ticks: form.length.value }],
      cuts: inLengths(cut.lengths, usableWidthTicks),
      notes: [
        'Bias narrows when it is stretched, and no published percentage was found: measure a strip of this cloth.',
      ],
    };
  },
});

/** Lengths of cloth that a part is cut from: full ones, and a last one of its own size. */
function inLengths(
  lengths: readonly { readonly clothTicks: number; readonly count: number }[],
  lengthTicks: number | null,
): CutOfPart[] {
  return lengths.map(({ clothTicks: depthTicks, count }, at) => ({
    ...(at === 0 ? {} : { size: LAST_LENGTH.key }),
    noun: 'length',
    depthTicks,
    lengthTicks,
    direction: 'across' as const,
    count,
  }));
}

/** Cloth with a pattern that repeats. */
export const REPEAT = part({
  slug: 'repeat',
  title: 'Pattern repeat',
  about: 'Lengths that all begin at the same place of the pattern.',
  sources:
    '⌈height ÷ repeat⌉ repeats a length: Encyclopaedia of Curtains as read at merrick-day.com. Half drop, all lengths of one phase first: worked out here.',
  brief: ['Each is cut', 'Cloth'],
  sizes: [LAST_LENGTH],
  usual: { metric: {}, imperial: {} },
  fields: (unit) => ({
    height: needed(unit, 'Length of one'),
    repeat: needed(unit, 'Pattern repeat', 'Along the cloth.'),
    count: wholeField({ min: 1, max: 1000, label: 'How many' }),
    half: tickField({ label: 'Half-drop: neighbours stand half a repeat apart' }),
    each: optionalWhole({
      min: 1,
      max: 1000,
      label: 'Lengths off one piece of cloth',
      hint: 'Blank: all, so that the pattern is placed once.',
    }),
  }),
  answer: (form, { size, cloth }) => {
    const [heightTicks, repeatTicks] = [form.height.value, form.repeat.value];
    const cut = lengthInRepeats(heightTicks, repeatTicks);
    const lengths = lengthsInRepeats(
      { heightTicks, repeatTicks, count: form.count.value, halfDrop: form.half },
      form.each?.value ?? form.count.value,
    );
    const clothTicks = lengths.reduce((sum, one) => sum + one.clothTicks * one.count, 0);
    const placed = lengths.reduce((sum, { count }) => sum + count, 0);
    return {
      figures: [
        {
          label: 'Each is cut',
          value: size(cut),
          how: `${cut / repeatTicks} × ${size(repeatTicks)}, of which ${size(cut - heightTicks)} falls away`,
        },
        {
          label: 'Cloth',
          value: cloth(clothTicks),
          how:
            placed === 1
              ? 'the last length needs nothing below it'
              : lengths.map((one) => `${one.count} × ${size(one.clothTicks)} for ${one.holds}`).join('; '),
        },
        {
          label: 'To place the pattern',
          value: size(repeatTicks * placed),
          how:
            placed === 1
              ? 'one repeat more, to choose where it begins'
              : `one repeat more for each of ${placed}`,
        },
      ],
      wants: [wantsLength('Cloth', clothTicks, 'cloth')],
      cuts: inLengths(lengths, null),
      notes: form.half
        ? [
            'Cut all lengths of one phase first, then the others: that costs half a repeat once, not at each length.',
          ]
        : [],
    };
  },
});

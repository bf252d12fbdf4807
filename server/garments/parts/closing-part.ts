import { MAX_FORM_TICKS } from '../../../src/garment/form.ts';
import {
  cordLength,
  cutWaistband,
  elasticLength,
  fastenersFor,
  laceLength,
  openingThrough,
  placketStrip,
  underlapStrip,
} from '../../../src/garment/parts/closing.ts';
import { optionalLength, optionalPercent, optionalWhole, tickField } from '../../kit/fields.ts';
import { invalid } from '../../refusal.ts';
import {
  allowed,
  type CutOfPart,
  maybe,
  needed,
  type PartFigure,
  type PartWant,
  part,
  wantsCount,
  wantsLength,
} from './describing.ts';

/** The size of a part that finishes the opening of its garment. */
export const LAP_SIZE = 'lap';

/** The waistband and what closes it. */
export const CLOSING = part({
  slug: 'closing',
  title: 'Band and opening',
  about: 'The waistband, the opening below it, and what holds it closed.',
  sources:
    'Plackets of 9 to 12 in, fasteners about 2 in apart, the lap strip twice the opening, the underlap an inch longer than it: The New Dressmaker, 1921, pp. 99 to 102. Facing and interfacing are cut with the outer piece: common practice. Lacing, cord and elastic by geometry.',
  brief: [
    'Band, cut',
    'Facing',
    'Interfacing',
    'Lap strip',
    'Underlap',
    'Elastic',
    'Cord of a drawn waist',
    'Lace',
  ],
  sizes: [
    { key: 'facing', name: 'facing', hasCloth: true },
    { key: 'interfacing', name: 'interfacing', hasCloth: true },
    { key: LAP_SIZE, name: 'lap strip', hasCloth: false },
    { key: 'underlap', name: 'underlap', hasCloth: false },
  ],
  usual: {
    metric: { seam: '1', finished: '4', laps: '5', opening: '25', spacing: '5', tail: '30' },
    imperial: { seam: '1/2', finished: '1 1/2', laps: '2', opening: '10', spacing: '2', tail: '12' },
  },
  headings: { waist: 'Band', opening: 'Opening', pull_over: 'Getting in' },
  fields: (unit) => ({
    waist: needed(unit, 'Waist'),
    ease: allowed(unit, 'Ease'),
    laps: allowed(unit, 'Overlap and underlap', 'Together.'),
    finished: needed(unit, 'Finished depth of the band'),
    seam: allowed(unit, 'Seam allowance'),
    bought: tickField({ label: 'The band is bought, such as petersham' }),
    faced: tickField({ label: 'The band is faced: outer and facing apart, not folded' }),
    interfaced: tickField({ label: 'The band is interfaced' }),
    opening: maybe(unit, 'Depth of the opening', 'Below the waist.'),
    lap_width: maybe(
      unit,
      'Cut width of the lap strip',
      'Of cloth: 9.5 cm (3¾ in) is usual. Blank: its cloth is not cut here.',
    ),
    underlap_width: maybe(unit, 'Cut width of an underlap', 'A strip 2.5 cm (1 in) longer than the opening.'),
    layer: optionalLength(unit, {
      max: MAX_FORM_TICKS,
      label: 'Drop of a layer',
      hint: 'Below the waist.',
    }),
    layer_depth: maybe(unit, 'Depth of that layer'),
    spacing: maybe(unit, 'Spacing of fasteners'),
    pull_over: maybe(unit, 'Girth it is pulled over', 'Hips or shoulders, the larger.'),
    drawn: tickField({ label: 'Drawn up with a cord' }),
    reduction: optionalPercent({ maxBp: 6000, label: 'Elastic reduction', hint: 'For an elastic waist.' }),
    pairs: optionalWhole({ min: 2, max: 100, label: 'Pairs of eyelets', hint: 'For a lacing.' }),
    gap: maybe(unit, 'Gap of the lacing', 'As wide as it must open to get in.'),
    pitch: maybe(unit, 'Spacing of eyelets'),
    tail: allowed(unit, 'Tail of a lace or cord', 'At each end.'),
  }),
  answer: (form, { size }) => {
    if (form.bought && form.faced)
      throw invalid('faced', 'A bought band has no facing: tick one of the two.');
    const opened = form.lap_width ? 'lap_width' : form.underlap_width ? 'underlap_width' : null;
    if (opened && !form.opening)
      throw invalid('opening', 'Give the depth of the opening that the strip finishes.');
    const band = {
      waistTicks: form.waist.value,
      easeTicks: form.ease?.value ?? 0,
      lapsTicks: form.laps?.value ?? 0,
      finishedDepthTicks: form.finished.value,
      seamTicks: form.seam?.value ?? 0,
      faced: form.faced,
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
        how: `waist, ease, laps and two seams; ${form.faced ? 'the depth' : 'twice the depth'} and two seams`,
      },
    ];
    const wants: PartWant[] = [
      form.bought
        ? wantsLength('Bought band', cut.lengthTicks)
        : wantsCount(`Band, cut ${size(cut.lengthTicks)} × ${size(cut.depthTicks)}`, 1, 'cloth'),
    ];
    if (opening) {
      if (!form.lap_width) wants.push(wantsLength('Lap strip', placketStrip(opening.value), 'opening'));
      if (!form.lap_width)
        figures.push({
          label: 'Lap strip of the opening',
          value: size(placketStrip(opening.value)),
          how: 'twice the opening',
        });
      if (spacing) {
        const count = fastenersFor(opening.value, spacing.value);
        wants.push(wantsCount('Hooks or snaps', count, 'opening'));
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
      wants.push(wantsLength('Elastic', elastic));
      figures.push({
        label: 'Elastic',
        value: size(elastic),
        how: 'waist less what it is drawn up by, and a lap',
      });
    }
    if (over && form.drawn) {
      wants.push(wantsLength('Cord', cordLength(over.value, tail)));
      figures.push({
        label: 'Cord of a drawn waist',
        value: size(cordLength(over.value, tail)),
        how: 'what it passes over when open, and two tails',
      });
    }
    if (over && (form.drawn || reduction)) {
      figures.push({
        label: 'Casing',
        value: size(Math.max(over.value, form.waist.value)),
        how: 'as long as what it must pull over',
      });
    }
    if (pairs && gap && pitch) {
      const lace = laceLength(pairs.value, gap.value, pitch.value, tail);
      figures.push({
        label: 'Lace',
        value: size(lace),
        how: `gap + 2 × ${pairs.value - 1} crossings + two tails, at the widest gap`,
      });
      wants.push(wantsLength('Lace', lace), wantsCount('Eyelets', 2 * pairs.value));
      figures.push({ label: 'Eyelets', value: String(2 * pairs.value), how: 'two a pair' });
    }
    const ring = form.waist.value + band.easeTicks;
    const reach = ring + 2 * (opening?.value ?? 0);
    const isDrawn = form.drawn || reduction !== null;
    const warnings =
      over && over.value > reach && !isDrawn
        ? [
            `It does not pass: ${size(ring)} of band and an opening of ${size(opening?.value ?? 0)} open to ${size(reach)}, and ${size(over.value)} must go through. Make the opening deeper, or draw the waist up.`,
          ]
        : [];
    const cuts = cutsOf(form, cut);
    for (const { size: key, depthTicks, lengthTicks } of cuts) {
      const label = CUT_LABELS[key as keyof typeof CUT_LABELS];
      if (!label) continue;
      figures.push({
        label,
        value: `${size(lengthTicks ?? 0)} × ${size(depthTicks)}`,
        how: CUT_HOW[key as keyof typeof CUT_HOW],
      });
    }
    const sewn = [{ job: 'attaching' as const, ticks: form.waist.value + band.easeTicks }];
    return { figures, wants, cuts, sewn, warnings };
  },
});

const CUT_LABELS = {
  facing: 'Facing',
  interfacing: 'Interfacing',
  lap: 'Lap strip',
  underlap: 'Underlap',
} as const;
const CUT_HOW = {
  facing: 'as the outer piece',
  interfacing: 'as the outer piece, cut with it',
  lap: 'twice the opening',
  underlap: '2.54 cm (1 in) longer than the opening',
} as const;

/** The pieces of cloth, each whichever way it goes on its cloth. */
function cutsOf(
  form: {
    readonly bought: boolean;
    readonly faced: boolean;
    readonly interfaced: boolean;
    readonly opening: { readonly value: number } | null;
    readonly lap_width: { readonly value: number } | null;
    readonly underlap_width: { readonly value: number } | null;
  },
  band: { readonly lengthTicks: number; readonly depthTicks: number },
): CutOfPart[] {
  const opening = form.opening?.value ?? 0;
  const one = (size: string | null, noun: string, of: typeof band): CutOfPart => ({
    ...(size === null ? {} : { size }),
    noun,
    ...of,
    direction: 'either',
    count: 1,
  });
  const strip = (width: { readonly value: number } | null, key: string, lengthTicks: number) =>
    width ? [one(key, 'strip', { depthTicks: width.value, lengthTicks })] : [];
  return [
    ...(form.bought ? [] : [one(null, 'band', band)]),
    ...(form.faced ? [one('facing', 'facing', band)] : []),
    ...(form.interfaced ? [one('interfacing', 'interfacing', band)] : []),
    ...strip(form.lap_width, LAP_SIZE, placketStrip(opening)),
    ...strip(form.underlap_width, 'underlap', underlapStrip(opening)),
  ];
}

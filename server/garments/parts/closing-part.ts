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
import { optionalLength, optionalPercent, optionalWhole, tickField } from '../../kit/fields.ts';
import { invalid } from '../../refusal.ts';
import {
  allowed,
  maybe,
  needed,
  type PartFigure,
  type PartWant,
  part,
  wantsCount,
  wantsLength,
} from './describing.ts';

/** The waistband and what closes it. */
export const CLOSING = part({
  slug: 'closing',
  title: 'Band and opening',
  about: 'The waistband, the opening below it, and what holds it closed.',
  sources:
    'Plackets of 9 to 12 in, fasteners about 2 in apart, the lap strip twice the opening: The New Dressmaker, 1921, pp. 99 to 102. Lacing, cord and elastic by geometry.',
  brief: ['Band, cut', 'Elastic', 'Cord of a drawn waist', 'Lace'],
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
    bought: tickField({ label: 'The band is bought, such as petersham' }),
    opening: maybe(unit, 'Depth of the opening', 'Below the waist.'),
    layer: optionalLength(unit, {
      max: MAX_FORM_TICKS,
      label: 'Drop of a layer',
      hint: 'Where it is sewn on, below the waist.',
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
    const wants: PartWant[] = [
      form.bought
        ? wantsLength('Bought band', cut.lengthTicks)
        : wantsCount(`Band, cut ${size(cut.lengthTicks)} × ${size(cut.depthTicks)}`, 1, 'cloth'),
    ];
    if (opening) {
      wants.push(wantsLength('Lap strip', placketStrip(opening.value), 'opening'));
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
    // A band lies whichever way it goes on its cloth.
    const { depthTicks, lengthTicks } = cut;
    const bandCut = { noun: 'band', depthTicks, lengthTicks, direction: 'either', count: 1 } as const;
    const sewn = [{ job: 'attaching' as const, ticks: form.waist.value + band.easeTicks }];
    return { figures, wants, cut: form.bought ? null : bandCut, sewn, warnings };
  },
});

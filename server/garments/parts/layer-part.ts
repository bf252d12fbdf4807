import { widthsOfLayer } from '../../../src/garment/parts/layer.ts';
import { seamsOf } from '../../../src/garment/sewing.ts';
import { choiceOrFirst, optionalWhole } from '../../kit/fields.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import { CLOSINGS } from '../tier/closings.ts';
import { allowed, clothWidth, maybe, needed, part, wantsCount, widthOf } from './describing.ts';

const MOST_WIDTHS = 1000;

/** Net, linings, interlinings, underskirts, facings and placket strips. */
export const LAYER = part({
  slug: 'layer',
  title: 'Net, lining or facing',
  about: 'Whole widths of net or lining, or pieces of one size for facings and plackets.',
  sources:
    'Widths are given directly, such as three to a layer of net: doczz.net 4765310. Net is lapped and stitched at a join, not seamed: livvywoods.blogspot, 2012. A placket strip is twice the opening long: The New Dressmaker, 1921, p. 100.',
  brief: ['Cut'],
  usual: { metric: { closing: 'ring' }, imperial: { closing: 'ring' } },
  fields: (unit) => ({
    cut_depth: needed(unit, 'Cut depth', 'With hem and seam. Net has no hem.'),
    widths: optionalWhole({ min: 1, max: MOST_WIDTHS, label: 'Whole widths' }),
    flat: maybe(unit, 'Flat length', 'In place of the widths: of its edge before it is gathered.'),
    width: clothWidth(unit, 'For a flat length. Blank: that of its cloth.'),
    join: allowed(unit, 'Taken by a join', 'Two seam allowances, or the lap of net.'),
    closing: choiceOrFirst(['ring', 'open'], 'ring or open', { label: 'Ring or open', options: CLOSINGS }),
    length: maybe(unit, 'Length of a piece', 'In place of both: a facing or placket strip.'),
    count: optionalWhole({ min: 1, max: MOST_WIDTHS, label: 'Pieces of that length' }),
  }),
  answer: (form, words) => {
    const { size } = words;
    const { widths, flat, length } = form;
    const given = [widths, flat, length].filter((each) => each !== null);
    if (given.length === 0)
      throw invalid('widths', 'Give whole widths, a flat length, or the length of a piece.');
    if (given.length > 1) {
      const second = widths && flat ? 'flat' : 'length';
      throw invalid(second, 'Give only one of whole widths, flat length and length of a piece.');
    }
    if (form.count && !length) throw invalid('count', 'Give the length of a piece too.');
    const depthTicks = form.cut_depth.value;
    if (length) {
      const count = form.count?.value ?? 1;
      return {
        figures: [
          {
            label: 'Cut',
            value: `${countOf(count, 'piece', 'pieces')} of ${size(depthTicks)} × ${size(length.value)}`,
            how: 'whichever way it lies on the cloth',
          },
        ],
        wants: [wantsCount(`Pieces of ${size(depthTicks)} × ${size(length.value)}`, count, 'cloth')],
        cuts: [{ noun: 'piece', depthTicks, lengthTicks: length.value, direction: 'either', count }],
      };
    }
    const joinTicks = form.join?.value ?? 0;
    const widthTicks = flat ? widthOf(form.width, words) : 0;
    if (flat && widthTicks <= joinTicks)
      throw invalid('join', 'A join takes the whole width of the cloth: enter less.');
    const count = widths
      ? widths.value
      : widthsOfLayer({
          flatTicks: flat?.value ?? 0,
          usableWidthTicks: widthTicks,
          joinTicks,
          closing: form.closing,
        });
    return {
      figures: [
        {
          label: 'Cut',
          value: `${countOf(count, 'width', 'widths')} of ${size(depthTicks)}`,
          how: flat
            ? `${size(flat.value)} ÷ (${size(widthTicks)} − ${size(joinTicks)}), rounded up`
            : 'as given, each the whole width of the cloth',
        },
        {
          label: 'Cloth',
          value: size(depthTicks * count),
          how: `${countOf(count, 'width', 'widths')} × ${size(depthTicks)}`,
        },
      ],
      wants: [wantsCount(`Widths of ${size(depthTicks)}`, count, 'cloth')],
      sewn: [{ job: 'plain', ticks: seamsOf(form.closing, count) * depthTicks }],
      cuts: [
        { noun: 'width', depthTicks, lengthTicks: flat ? widthTicks : null, direction: 'across', count },
      ],
    };
  },
});

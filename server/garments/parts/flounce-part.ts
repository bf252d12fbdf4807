import { type CutFlounce, circlesFor, cutFlounce } from '../../../src/garment/parts/flounce.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { choiceField, optionalFullness, optionalWhole, tickField } from '../../kit/fields.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import {
  allowed,
  type CutOfPart,
  clothWidth,
  LAST_LENGTH,
  needed,
  type PartDrawing,
  part,
  wantsLength,
  widthOf,
} from './describing.ts';

const SECTIONS = ['1', '2', '4', '8'] as const;

/** A flounce cut as rings or sections of rings. */
export const FLOUNCE = part({
  slug: 'flounce',
  title: 'Circular flounce',
  about: 'Rings or sections of rings: smooth where they are sewn on, flaring below without gathers.',
  sources:
    'Plane geometry; the rule for the flare is that of Baldt, Clothing for Women, 1916, fig. 56. How far a circle drops is common practice: hang it two days before levelling.',
  brief: ['Cut', 'Cloth'],
  sizes: [LAST_LENGTH],
  usual: {
    metric: { sectors: '2', join: '1', upper: '1', hem: '2' },
    imperial: { sectors: '2', join: '1/2', upper: '1/2', hem: '1' },
  },
  fields: (unit) => ({
    seam: needed(unit, 'Seam length', 'Finished, of the edge it hangs from.'),
    depth: needed(unit, 'Finished depth'),
    flare: optionalFullness({
      label: 'Flare',
      unit: '×',
      hint: 'Lower edge ÷ upper edge. Or give the circles.',
    }),
    circles: optionalFullness({ label: 'Full circles' }),
    sectors: choiceField(SECTIONS, 'how it is cut', {
      label: 'Cut as',
      options: [
        { value: '1', label: 'whole rings' },
        { value: '2', label: 'half rings' },
        { value: '4', label: 'quarter rings' },
        { value: '8', label: 'eighths' },
      ],
    }),
    join: allowed(unit, 'Seam allowance', 'Each side of a join. It makes the circle larger.'),
    upper: allowed(unit, 'Seam allowance at the upper edge'),
    hem: allowed(unit, 'Hem allowance', 'With what the circle will drop.'),
    width: clothWidth(unit),
    rows_each: optionalWhole({
      min: 1,
      max: 100,
      label: 'Rows in one length',
      hint: 'Blank: all sections in one length, which takes least cloth.',
    }),
    from_holes: tickField({ label: 'Whole rings: cut them from holes of larger rings, where they fit' }),
  }),
  answer: (form, words) => {
    const { size, cloth } = words;
    const usableWidthTicks = widthOf(form.width, words);
    if (!form.flare && !form.circles) throw invalid('flare', 'Give the flare, or the full circles.');
    if (form.flare && form.circles) throw invalid('circles', 'Give the flare or the circles, not both.');
    const [seamTicks, depthTicks] = [form.seam.value, form.depth.value];
    const flare = (form.flare?.value ?? 0) / 1000;
    if (form.flare && flare <= 1)
      throw invalid('flare', 'Enter more than 1: at 1 it would be a straight strip.');
    const wanted = form.circles ? form.circles.value / 1000 : circlesFor(flare, seamTicks, depthTicks);
    const sectors = Number(form.sectors);
    const worked = cutFlounce({
      seamTicks,
      depthTicks,
      circles: wanted,
      sectors,
      joinTicks: form.join?.value ?? 0,
      upperTicks: form.upper?.value ?? 0,
      hemTicks: form.hem?.value ?? 0,
      usableWidthTicks,
    });
    if (!worked.ok) {
      const field = { circles: 'circles', usableWidth: 'width', upper: 'upper' }[worked.field];
      throw invalid(field, worked.message);
    }
    const { cut } = worked;
    const rowsEach = Math.min(cut.rows, form.rows_each?.value ?? cut.rows);
    const laid = layOfSections(cut, sectors, rowsEach);
    const clothTicks =
      sectors === 1 ? cut.clothTicks : laid.reduce((sum, one) => sum + one.count * one.heightTicks, 0);
    const named =
      { 1: 'ring', 2: 'half ring', 4: 'quarter ring', 8: 'eighth of a ring' }[sectors] ?? 'section';
    return {
      figures: [
        {
          label: 'Cut',
          value: countOf(
            cut.count,
            named,
            named.replace('ring', 'rings').replace('eighth of a rings', 'eighths of a ring'),
          ),
          how: `${cut.columns} across, ${countOf(cut.rows, 'row', 'rows')}`,
        },
        { label: 'Radius of the seam', value: size(cut.radiusTicks), how: 'from the middle of the circle' },
        { label: 'Inner cut edge', value: size(cut.innerTicks), how: 'radius less the upper allowance' },
        { label: 'Outer cut edge', value: size(cut.outerTicks), how: 'radius, depth and hem' },
        {
          label: 'Lower edge',
          value: size(cut.hemLengthTicks),
          how: `flare ${cut.flare.toFixed(3)}×${form.flare ? `, ${flare}× wanted` : ''}`,
        },
        {
          label: 'One section lies in',
          value: `${size(cut.blockWidthTicks)} × ${size(cut.blockHeightTicks)}`,
          how: `the next one ${size(cut.pitchTicks)} further along`,
        },
        {
          label: 'Cloth',
          value: cloth(clothTicks),
          how:
            laid.length > 1 || (sectors > 1 && (laid[0]?.count ?? 0) > 1)
              ? `${laid.map((one) => `${one.count} × ${size(one.heightTicks)} for ${one.sections}`).join('; ')}, sections all one way`
              : 'sections all one way, so that a nap runs alike',
        },
      ],
      drawing: drawSections(cut, sectors, usableWidthTicks),
      sewn: [
        // Joined all the way round, hemmed, and sewn on.
        { job: 'plain', ticks: cut.count * (cut.outerTicks - cut.innerTicks) },
        { job: 'narrow', ticks: cut.hemLengthTicks },
        { job: 'attaching', ticks: seamTicks },
      ],
      cuts: laid.map(
        (one, at): CutOfPart => ({
          ...(at === 0 ? {} : { size: LAST_LENGTH.key }),
          noun: sectors === 1 ? 'ring' : 'length',
          depthTicks: one.heightTicks,
          lengthTicks: one.columns * cut.blockWidthTicks,
          direction: 'across',
          count: one.count,
          shape: {
            named,
            count: one.sections,
            innerTicks: cut.innerTicks,
            outerTicks: cut.outerTicks,
            isWhole: sectors === 1,
            mayNest: sectors === 1 && form.from_holes,
            drawing: drawSections(
              { ...cut, count: one.sections, columns: one.columns, clothTicks: one.heightTicks },
              sectors,
              one.columns * cut.blockWidthTicks,
            ),
          },
        }),
      ),
      wants: [wantsLength('Cloth', clothTicks, 'cloth')],
      notes: [
        'Cut the front edge of each section on the straight thread, and mark the middle of each on the lengthwise grain.',
        ...(sectors > 1
          ? []
          : [
              `A smaller ring goes into the hole where its outer cut edge is ${size(cut.innerTicks)} or less.`,
            ]),
      ],
    };
  },
});

/** Rectangles of one size that sections are cut out of. */
interface LaidSections {
  readonly count: number;
  readonly columns: number;
  readonly sections: number;
  readonly heightTicks: number;
}

/**
 * The rectangles that sections are cut out of: a ring has one of its own; of sections so many rows nest in a length, and the
 * last one has what is left.
 */
function layOfSections(cut: CutFlounce, sectors: number, rowsEach: number): LaidSections[] {
  if (sectors === 1)
    return [{ count: cut.count, columns: 1, sections: 1, heightTicks: cut.blockHeightTicks }];
  const each = rowsEach * cut.columns;
  const laid = (count: number, sections: number): LaidSections => ({
    count,
    columns: Math.min(cut.columns, sections),
    sections,
    heightTicks:
      sections === cut.count
        ? cut.clothTicks
        : cut.blockHeightTicks + (Math.ceil(sections / cut.columns) - 1) * cut.pitchTicks,
  });
  const full = Math.floor(cut.count / each);
  const rest = cut.count - full * each;
  return [...(full > 0 ? [laid(full, each)] : []), ...(rest > 0 ? [laid(1, rest)] : [])];
}

/** The sections as they lie on the cloth, each arc drawn to scale. */
function drawSections(cut: CutFlounce, sectors: number, widthTicks: number): PartDrawing {
  const mm = (ticks: number) => Math.round((ticks / TICKS_PER.mm) * 10) / 10;
  const half = Math.PI / sectors;
  const [inner, outer] = [mm(cut.innerTicks), mm(cut.outerTicks)];
  const paths = Array.from({ length: cut.count }, (_, at) => {
    const [row, column] = [Math.floor(at / cut.columns), at % cut.columns];
    const x = mm(cut.blockWidthTicks) * (column + 0.5);
    if (sectors === 1) {
      const y = outer + row * mm(cut.pitchTicks);
      const circle = (r: number) => `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
      return `${circle(outer)}${circle(inner)}M${x} ${y - inner}V${y - outer}`;
    }
    const y = outer + row * mm(cut.pitchTicks);
    const point = (r: number, side: 1 | -1) =>
      `${(x + side * r * Math.sin(half)).toFixed(1)} ${(y - r * Math.cos(half)).toFixed(1)}`;
    return `M${point(inner, -1)}A${inner} ${inner} 0 0 1 ${point(inner, 1)}L${point(outer, 1)}A${outer} ${outer} 0 0 0 ${point(outer, -1)}Z`;
  });
  return {
    width: mm(widthTicks),
    height: mm(cut.clothTicks),
    paths,
    said: `${cut.count} sections on the cloth, ${cut.columns} across`,
  };
}

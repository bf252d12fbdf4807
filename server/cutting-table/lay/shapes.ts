import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { ShapedRow } from '../../garments/parts/cut.ts';
import type { ShapeOfPart } from '../../garments/parts/describing.ts';
import { countOf } from '../../kit/words.ts';

/** A rectangle of a lay as it is slit. */
interface Slit {
  readonly acrossTicks: number;
  readonly alongTicks: number;
}

/** The outlines that are cut out of a rectangle, in millimetres from its upper left corner; none where it is of another size. */
export function outlinesIn(row: ShapedRow | undefined, slit: Slit): readonly string[] {
  if (!row || row.acrossTicks !== slit.acrossTicks || row.alongTicks !== slit.alongTicks) return [];
  const middle = mm(row.acrossTicks) / 2;
  const rings = row.inHoles.map(({ shape }) =>
    [shape.outerTicks, shape.innerTicks].map((radius) => circle(middle, mm(radius))).join(''),
  );
  return [...row.shape.drawing.paths, ...rings];
}

function circle(middle: number, r: number): string {
  return `M${middle - r} ${middle}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
}

const mm = (ticks: number) => Math.round((ticks / TICKS_PER.mm) * 10) / 10;

/** What is cut out of each rectangle, in sentences; none where its strips are the rectangles themselves. */
export function sayShapes(row: ShapedRow | undefined, slit: Slit, units: Units): string[] {
  if (!row || row.acrossTicks !== slit.acrossTicks || row.alongTicks !== slit.alongTicks) return [];
  const { shape, inHoles } = row;
  const many = shape.count === 1 ? `a ${shape.named}` : `up to ${shape.count} × ${shape.named}`;
  return [
    `Out of each rectangle ${many}: ${sayEdges(shape, units)}.`,
    ...inHoles.map(
      ({ name, count, shape: inner }) =>
        `Out of the holes ${countOf(count, 'ring', 'rings')} for ${name}: ${sayEdges(inner, units)}.`,
    ),
  ];
}

/** Radii go up to the next step that a hand can draw: what is cut is never too small. */
function sayEdges({ innerTicks, outerTicks }: ShapeOfPart, units: Units): string {
  return `outer edge ${showSize(outerTicks, units, 'up')}, inner edge ${showSize(innerTicks, units, 'down')} from the middle of the circle`;
}

import type { HemHeights } from '../vertical-drop.ts';
import { type PlacedBand, standOff } from './bands.ts';
import type { SheetFrame } from './sheet.ts';
import type { View } from './silhouette.ts';

/** The hem that is level once the form is worn, over a form that is drawn upright: front at the left. */
export interface LevelHem {
  readonly line: string;
  readonly front: Point;
  readonly back: Point;
  /** how far down the drawing it reaches */
  readonly lowestY: number;
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Words at its ends stand so far in from the edge and below the line. */
const WORD_IN = 20;
const WORD_DOWN = 14;

/** null from the front, where it is one height, and where the drops are not given or are the same. */
export function levelHemOf(
  { frontDropTicks, sideDropTicks, backDropTicks }: HemHeights,
  view: View,
  bands: readonly PlacedBand[],
  frame: SheetFrame,
): LevelHem | null {
  if (view === 'front' || frontDropTicks === null || sideDropTicks === null || backDropTicks === null) {
    return null;
  }
  if (frontDropTicks === backDropTicks && backDropTicks === sideDropTicks) return null;
  // A level hem above all that is drawn would be a slip of the pen.
  if (Math.min(frontDropTicks, sideDropTicks, backDropTicks) < frame.firstDrop) return null;
  const hem = bands.find(({ endTicks }) => endTicks === frame.hemDrop);
  const at = (dropTicks: number, angle: number): Point => ({
    x: frame.x(dropTicks, hem ? standOff(hem, dropTicks) : 0, angle),
    y: frame.y(dropTicks),
  });
  const [front, side, back] = [
    at(frontDropTicks, 0),
    at(sideDropTicks, Math.PI / 2),
    at(backDropTicks, Math.PI),
  ];
  return {
    line: `M${front.x} ${front.y}L${side.x} ${side.y}L${back.x} ${back.y}`,
    front: { x: front.x + WORD_IN, y: front.y + WORD_DOWN },
    back: { x: back.x - WORD_IN, y: back.y + WORD_DOWN },
    lowestY: Math.max(front.y, side.y, back.y) + WORD_DOWN,
  };
}

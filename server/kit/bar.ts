/** How a stretch of a bar is filled: each is told apart in black and white. */
export type BarFill = 'solid' | 'hatched' | 'open' | 'dotted' | 'dashed';

/** Width of the longest bar of a list in viewBox units. */
export const BAR_WIDTH = 400;

/** What partials/bar draws. */
export interface Bar {
  readonly said: string;
  readonly stretches: readonly { readonly x: number; readonly width: number; readonly fill: BarFill }[];
}

/**
 * Shapes a bar of some stretches one behind the other; amounts of nothing are left out.
 * @param most what the whole width stands for, so that the bars of a list have one scale; as much as the bar or more
 */
export function shapeBar(
  said: string,
  parts: readonly (readonly [fill: BarFill, amount: number])[],
  most: number,
): Bar {
  const place = (amount: number) => Math.round((amount / Math.max(most, 1)) * BAR_WIDTH * 100) / 100;
  let before = 0;
  const stretches = parts.flatMap(([fill, amount]) => {
    const x = place(before);
    before += amount;
    return amount > 0 ? [{ x, width: Math.round((place(before) - x) * 100) / 100, fill }] : [];
  });
  return { said, stretches };
}

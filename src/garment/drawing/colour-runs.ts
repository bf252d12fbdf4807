/** A band's colour blocks in their order, over and over: of one shade each, with the strips in a row. */
export type ColourOrder = readonly { readonly shadeId: number; readonly strips: number }[];

/** Strips of one shade, one after another, as they are sewn. */
export interface ColourRun {
  readonly shadeId: number;
  readonly strips: number;
}

/** Strips of one shade as they are seen from the side: angles round the band in radians, from the left edge (0) to the right (π). */
export interface ColourArc {
  readonly shadeId: number;
  readonly fromAngle: number;
  readonly toAngle: number;
}

/**
 * So many strips in their order, as runs of one shade. The band starts `offset` strips into the order, and the order
 * repeats. Runs of the same shade that meet are one. None where the order is empty.
 */
export function colourRuns(order: ColourOrder, strips: number, offset: number): ColourRun[] {
  const runs: ColourRun[] = [];
  const repeat = repeatOf(order);
  if (repeat === 0) return runs;
  let skip = offset % repeat;
  let left = strips;
  for (let place = 0; left > 0; place = (place + 1) % order.length) {
    const block = order[place];
    const passed = Math.min(skip, block?.strips ?? 0);
    const taken = Math.min(left, (block?.strips ?? 0) - passed);
    skip -= passed;
    left -= taken;
    if (!block || taken === 0) continue;
    const last = runs.at(-1);
    if (last?.shadeId === block.shadeId) runs[runs.length - 1] = { ...last, strips: last.strips + taken };
    else runs.push({ shadeId: block.shadeId, strips: taken });
  }
  return runs;
}

/**
 * The strips in the half of a band that faces the viewer, the first strip starting at the left edge.
 *
 * Strips take equal parts of the way round. Beyond `most` strips in sight the half is divided into `most` equal
 * parts, each in the shade of the strip at its middle.
 */
export function colourArcs(order: ColourOrder, strips: number, offset: number, most: number): ColourArc[] {
  const parts = Math.min(Math.ceil(strips / 2), most);
  const exact = strips / 2 <= most;
  const edge = (part: number) =>
    exact ? Math.min(Math.PI, (2 * Math.PI * part) / strips) : (Math.PI * part) / parts;
  const runs: ColourArc[] = [];
  for (let part = 0; part < parts; part += 1) {
    const strip = exact ? part : Math.floor(((part + 0.5) * strips) / (2 * parts));
    const shadeId = shadeAt(order, strip + offset);
    const last = runs.at(-1);
    if (last?.shadeId === shadeId) runs[runs.length - 1] = { ...last, toAngle: edge(part + 1) };
    else runs.push({ shadeId, fromAngle: edge(part), toAngle: edge(part + 1) });
  }
  return runs;
}

/** Strips after which the order begins anew; 0 where it is empty. */
export function repeatOf(order: ColourOrder): number {
  return order.reduce((sum, { strips }) => sum + strips, 0);
}

/** The shade of a strip, counted from 0 in the repeating order. */
function shadeAt(order: ColourOrder, strip: number): number {
  let left = strip % Math.max(1, repeatOf(order));
  for (const block of order) {
    if (left < block.strips) return block.shadeId;
    left -= block.strips;
  }
  return order[0]?.shadeId ?? 0;
}

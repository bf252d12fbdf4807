import type { BlockRecord } from './records.ts';

/** A run of strips of one shade as it is seen from the side: angles from the left edge (0) to the right (π). */
export interface StripRun {
  readonly shadeId: number;
  readonly fromAngle: number;
  readonly toAngle: number;
}

/**
 * The strips in the half of a band that faces the viewer, the order of colours starting at the left edge.
 *
 * Strips take equal parts of the way round. Beyond `most` strips in sight the half is divided into `most` equal
 * parts, each in the shade of the strip at its middle.
 */
export function stripRuns(
  blocks: readonly Pick<BlockRecord, 'shadeId' | 'strips'>[],
  strips: number,
  most: number,
): StripRun[] {
  const parts = Math.min(Math.ceil(strips / 2), most);
  const exact = strips / 2 <= most;
  const edge = (part: number) =>
    exact ? Math.min(Math.PI, (2 * Math.PI * part) / strips) : (Math.PI * part) / parts;
  const runs: StripRun[] = [];
  for (let part = 0; part < parts; part += 1) {
    const strip = exact ? part : Math.floor(((part + 0.5) * strips) / (2 * parts));
    const shadeId = shadeOf(blocks, strip);
    const last = runs.at(-1);
    if (last?.shadeId === shadeId) runs[runs.length - 1] = { ...last, toAngle: edge(part + 1) };
    else runs.push({ shadeId, fromAngle: edge(part), toAngle: edge(part + 1) });
  }
  return runs;
}

/** The shade of a strip, counted from 0 in the repeating order. */
function shadeOf(blocks: readonly Pick<BlockRecord, 'shadeId' | 'strips'>[], strip: number): number {
  const repeat = blocks.reduce((sum, block) => sum + block.strips, 0);
  let left = strip % Math.max(1, repeat);
  for (const block of blocks) {
    if (left < block.strips) return block.shadeId;
    left -= block.strips;
  }
  return blocks[0]?.shadeId ?? 0;
}

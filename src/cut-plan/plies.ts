import { crossCutsOf, type LaidOut, slitsOf } from './lay.ts';

/** A lay as it comes to the table: off a piece of a usable width, in ticks. */
export interface LayOfPiece extends LaidOut {
  readonly widthTicks: number;
  /** what is cut off before it; such a lay begins a stack of its own. Default 0 */
  readonly leadTicks?: number;
}

/** Equal lays that are cut through at once. */
export interface Stack {
  /** places of its lays in the order of cutting */
  readonly lays: readonly number[];
  /** strokes of the knife through all its plies: slits, cuts across columns, and the one that ends the drop */
  readonly strokes: number;
}

/**
 * Stacks lays that follow each other, are slit alike and come off cloth of one usable width, up to so many plies as
 * the cloth may be cut in. Every lay is a drop to pull; a stack is cut once.
 *
 * @throws RangeError for a limit below 1
 */
export function stackLays(lays: readonly LayOfPiece[], plyLimit: number): Stack[] {
  if (!Number.isSafeInteger(plyLimit) || plyLimit < 1)
    throw new RangeError('a cloth is cut in one ply or more');
  const stacks: { lays: number[]; key: string; strokes: number }[] = [];
  lays.forEach((lay, i) => {
    const key = slittingKey(lay);
    const last = stacks.at(-1);
    const follows = last?.key === key && last.lays.length < plyLimit && !lay.leadTicks;
    if (last && follows) last.lays.push(i);
    else stacks.push({ lays: [i], key, strokes: strokesOf(lay) });
  });
  return stacks.map(({ lays: places, strokes }) => ({ lays: places, strokes }));
}

/** Strokes of the knife for one lay or a stack of them: one ends the drop, one each slit, one each cut across a run of columns. */
export function strokesOf(lay: LayOfPiece): number {
  const across = lay.runs.reduce((sum, run) => sum + crossCutsOf(run, lay.heightTicks).length, 0);
  return 1 + slitsOf(lay.runs, lay.widthTicks).length + across;
}

/** The same for lays that are slit alike on cloth of one width. */
function slittingKey({ heightTicks, widthTicks, runs }: LayOfPiece): string {
  const slit = runs.map(
    (run) =>
      `${run.leftTicks} ${run.acrossTicks} ${run.alongTicks} ${run.columns} ${run.stack} ${run.strips}`,
  );
  return `${widthTicks} ${heightTicks}: ${slit.join(', ')}`;
}

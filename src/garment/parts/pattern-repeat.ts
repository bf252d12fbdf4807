/** Lengths off a cloth whose pattern repeats: every length begins at the same place of the pattern. Lengths in ticks. */

/** A length with its pattern whole: ⌈h ÷ R⌉ × R. Throws RangeError for no repeat. */
export function lengthInRepeats(heightTicks: number, repeatTicks: number): number {
  if (repeatTicks < 1) throw new RangeError('a pattern repeats after some length');
  return Math.ceil(heightTicks / repeatTicks) * repeatTicks;
}

export interface RepeatJob {
  readonly heightTicks: number;
  readonly repeatTicks: number;
  readonly count: number;
  /** whether neighbours stand half a repeat apart */
  readonly halfDrop: boolean;
}

/**
 * Cloth for so many lengths, the last of which needs no waste below it: (N − 1)·⌈h ÷ R⌉·R + h. With a half drop all
 * lengths of one phase are cut first and then the other, which costs half a repeat at the most. 0 for no lengths.
 */
export function clothInRepeats({ heightTicks, repeatTicks, count, halfDrop }: RepeatJob): number {
  const phases = halfDrop ? [Math.ceil(count / 2), Math.floor(count / 2)] : [count];
  let end = 0;
  phases.forEach((lengths, phase) => {
    for (let done = 0; done < lengths; done += 1)
      end = nextStart(end, phase * (repeatTicks / 2), repeatTicks) + heightTicks;
  });
  return Math.ceil(end);
}

/**
 * The same in lengths of cloth of so many each: the full ones, and a last one with fewer. The pattern is placed anew on each.
 */
export function lengthsInRepeats(
  job: RepeatJob,
  each: number,
): { readonly holds: number; readonly clothTicks: number; readonly count: number }[] {
  const holds = Math.min(each, job.count);
  const full = Math.floor(job.count / holds);
  const rest = job.count - full * holds;
  return [
    { holds, clothTicks: clothInRepeats({ ...job, count: holds }), count: full },
    ...(rest > 0 ? [{ holds: rest, clothTicks: clothInRepeats({ ...job, count: rest }), count: 1 }] : []),
  ];
}

/** The first place at or below `from` that is in phase. */
function nextStart(from: number, phase: number, repeat: number): number {
  return phase + Math.ceil((from - phase) / repeat) * repeat;
}

import { TICKS_PER } from '../quantity/length.ts';
import { type FoldedLay, foldLay, type LayOfPiece, type PlyRules, type Strokes, strokesOf } from './folds.ts';

/** What work at the table takes, in seconds. */
export interface TableRates {
  /** to pull a length off the piece and lay it out */
  readonly pullSeconds: number;
  /** to fold a length once */
  readonly foldSeconds: number;
  /** to pin what lies on each other, where there is more than one ply */
  readonly pinSeconds: number;
  /** to set the rule and the blade for a stroke */
  readonly strokeSeconds: number;
  /** how far the knife goes in a minute, in ticks */
  readonly knifeTicksMin: number;
}

/** Our rule, until the workroom has timed its own: 10 s go to the knife for a metre. */
export const USUAL_TABLE_RATES: TableRates = {
  pullSeconds: 40,
  foldSeconds: 20,
  pinSeconds: 45,
  strokeSeconds: 15,
  knifeTicksMin: 6 * TICKS_PER.m,
};

/** Equal lays that are cut through at once. */
export interface Stack extends Strokes {
  /** places of its lays in the order of cutting */
  readonly lays: readonly number[];
  /** layers of cloth under the knife: its lengths, each folded */
  readonly plies: number;
  /** how each length is folded; null where they lie flat */
  readonly folded: FoldedLay | null;
  readonly seconds: number;
}

/** A way of cutting so many equal lays at once. */
type Way = Omit<Stack, 'lays'> & { readonly lengths: number };

/**
 * Stacks lays that follow each other, are slit alike and come off cloth of one usable width, so that all of them take the
 * least time: lengths on each other, folded or flat, never more plies than the cloth may be cut in. Of ways that take as
 * long the one with fewer folds is taken, then the one with more lengths at once. Every lay is a length to pull.
 *
 * @throws RangeError for a limit below 1
 */
export function stackLays(lays: readonly LayOfPiece[], rules: PlyRules, rates: TableRates): Stack[] {
  if (!Number.isSafeInteger(rules.plyLimit) || rules.plyLimit < 1)
    throw new RangeError('a cloth is cut in one ply or more');
  return equalRuns(lays).flatMap((run) => {
    const [first] = run;
    const lay = first === undefined ? undefined : lays[first];
    if (!lay) return [];
    let from = 0;
    return quickest(waysOf(lay, rules, rates, run.length), run.length).map(({ lengths, ...way }) => {
      const places = run.slice(from, from + lengths);
      from += lengths;
      return { lays: places, ...way };
    });
  });
}

/** Places of lays that follow each other and are slit alike, by the run. What is cut off before a lay ends a run. */
export function equalRuns(lays: readonly LayOfPiece[]): number[][] {
  const runs: number[][] = [];
  lays.forEach((lay, i) => {
    const before = lays[i - 1];
    const follows = before && !lay.leadTicks && slittingKey(before) === slittingKey(lay);
    if (follows) runs.at(-1)?.push(i);
    else runs.push([i]);
  });
  return runs;
}

/** What stacks take at the table together, in seconds. */
export function secondsOf(stacks: readonly Pick<Stack, 'seconds'>[]): number {
  return stacks.reduce((sum, { seconds }) => sum + seconds, 0);
}

function waysOf(lay: LayOfPiece, rules: PlyRules, rates: TableRates, count: number): Way[] {
  const folded = Array.from({ length: rules.foldLimit }, (_, i) => foldLay(lay, i + 1, rules));
  return [null, ...folded.filter((one) => one !== null)].flatMap((one) => {
    const panels = 2 ** (one?.folds ?? 0);
    const most = Math.min(count, Math.floor(rules.plyLimit / panels));
    return Array.from({ length: most }, (_, i) => wayOf(one, one ?? strokesOf(lay), most - i, rates));
  });
}

function wayOf(folded: FoldedLay | null, cut: Strokes, lengths: number, rates: TableRates): Way {
  const folds = folded?.folds ?? 0;
  const plies = lengths * 2 ** folds;
  return {
    lengths,
    plies,
    folded,
    strokes: cut.strokes,
    strokesTicks: cut.strokesTicks,
    atAStroke: cut.atAStroke * lengths,
    seconds:
      lengths * (rates.pullSeconds + folds * rates.foldSeconds) +
      (plies > 1 ? rates.pinSeconds : 0) +
      cut.strokes * rates.strokeSeconds +
      (cut.strokesTicks * 60) / rates.knifeTicksMin,
  };
}

/** Of all ways to share equal lays out among stacks the one that takes least time, the largest stacks first. */
function quickest(ways: readonly Way[], count: number): Way[] {
  const best: { seconds: number; way: Way | null }[] = [{ seconds: 0, way: null }];
  for (let n = 1; n <= count; n += 1) {
    let least: { seconds: number; way: Way | null } = { seconds: Number.POSITIVE_INFINITY, way: null };
    for (const way of ways) {
      const rest = best[n - way.lengths];
      if (rest && rest.seconds + way.seconds < least.seconds - LEAST_DIFFERENCE)
        least = { seconds: rest.seconds + way.seconds, way };
    }
    best.push(least);
  }
  const stacks: Way[] = [];
  for (let n = count; n > 0; ) {
    const way = best[n]?.way;
    if (!way) break;
    stacks.push(way);
    n -= way.lengths;
  }
  return stacks.sort((a, b) => b.lengths - a.lengths);
}

/** Sums of seconds that differ by less are alike. */
const LEAST_DIFFERENCE = 1e-6;

/** The same for lays that are slit alike on cloth of one width, and of which as much is kept. */
function slittingKey({ heightTicks, widthTicks, runs, keepsSpare = false }: LayOfPiece): string {
  const slit = runs.map(
    (run) =>
      `${run.leftTicks} ${run.acrossTicks} ${run.alongTicks} ${run.columns} ${run.stack} ${run.strips}`,
  );
  return `${widthTicks} ${heightTicks} ${keepsSpare}: ${slit.join(', ')}`;
}

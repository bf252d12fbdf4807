import type { Ask, AskedStrips, Taking } from '../../src/fit/take.ts';
import { showLength, showSize, type Units } from '../../src/quantity/length-show.ts';
import { countOf, listed } from '../kit/words.ts';
import type { TakeAnswer } from './answer.ts';
import type { TakeQuestion } from './form.ts';

/** The codes of pieces and their lots, by piece. */
export type PieceCodes = ReadonlyMap<number, { readonly piece: string; readonly lot: string }>;

/** "3 m", "12 strips of 20 × 145 cm, of one lot". */
export function sayAsk(ask: Ask, units: Units, lots: 'one' | 'any'): string {
  if (ask.kind === 'length') return showLength(ask.lengthTicks, units, 'near');
  return `${countOf(ask.count, 'strip', 'strips')} of ${saySize(ask, units)}, of ${sayLots(lots)}`;
}

function saySize({ depthTicks, stripLengthTicks }: AskedStrips, units: Units): string {
  return `${showSize(depthTicks, units, 'near')} × ${showSize(stripLengthTicks, units, 'near')}`;
}

function sayLots(lots: 'one' | 'any'): string {
  return lots === 'one' ? 'one lot' : 'any lots';
}

/** "After that 2 m is free and 1.4 m to spare." */
export function sayAfter({ freeAfterTicks, spareAfterTicks }: Taking, units: Units): string {
  if (freeAfterTicks === 0) return 'After that nothing is free.';
  const show = (ticks: number) => showLength(ticks, units, 'down');
  const spare = spareAfterTicks === 0 ? 'nothing' : show(spareAfterTicks);
  return `After that ${show(freeAfterTicks)} is free and ${spare} to spare.`;
}

/** "2 flaws in that length, the first 1.2 m from the free end"; '' where there is none. */
export function sayFlaws({ flaws }: Taking, units: Units): string {
  const [first] = [...flaws].sort((a, b) => a.fromTicks - b.fromTicks);
  if (!first) return '';
  const at = `${showLength(first.fromTicks, units, 'near')} from the free end`;
  return `${countOf(flaws.length, 'flaw', 'flaws')} in that length, ${flaws.length === 1 ? at : `the first ${at}`}`;
}

/** The answer in one line. */
export function sayAnswer(
  answer: TakeAnswer,
  codes: PieceCodes,
  { wanted, lots }: TakeQuestion,
  units: Units,
): string {
  const { may, takings, lost, neededTicks } = answer;
  if (may === 'no') return sayNo(answer, wanted, lots, units);
  const from = sayTakings(takings, codes, units);
  if (may === 'spare') {
    const left = takings.reduce((sum, { spareAfterTicks }) => sum + spareAfterTicks, 0);
    const leaves = left === 0 ? 'nothing' : showLength(left, units, 'down');
    const [first] = takings.map(({ pieceId }) => codes.get(pieceId)?.piece);
    const where = takings.length === 1 ? first : `these ${takings.length} pieces`;
    return `Yes: ${from}. That leaves ${leaves} of ${where} to spare.`;
  }
  if (may === 'perhaps') {
    const but =
      neededTicks === 0
        ? 'a flaw then lies nearer to what garments need'
        : `garments need ${showLength(neededTicks, units, 'up')} of that`;
    return `Perhaps: ${from}, but ${but}.`;
  }
  const names = [...new Set(lost.map(({ garmentCode, garmentName }) => `${garmentCode} ${garmentName}`))];
  const strips = lost.reduce((sum, one) => sum + one.strips, 0);
  const estimate = lost.some(({ isEstimate }) => isEstimate) ? ' (quick estimate, without the planner)' : '';
  return `Yes, ${from}; but then ${listed(names)} would be short of ${sayMore(strips)}${estimate}.`;
}

export function sayMore(strips: number): string {
  return countOf(strips, 'more strip', 'more strips');
}

function sayNo(
  { longestFreeTicks, widestFreeTicks, mostStrips }: TakeAnswer,
  wanted: Ask,
  lots: 'one' | 'any',
  units: Units,
): string {
  if (longestFreeTicks === 0) return 'No: nothing is free.';
  const longest = showLength(longestFreeTicks, units, 'down');
  if (wanted.kind === 'length') return `No: the longest free length is ${longest}.`;
  if (wanted.stripLengthTicks > widestFreeTicks)
    return `No: the widest free piece is ${showSize(widestFreeTicks, units, 'down')} wide, and a strip lies across it.`;
  if (wanted.depthTicks > longestFreeTicks) return `No: the longest free length is ${longest}.`;
  return `No: what is free gives ${mostStrips === 0 ? 'none' : mostStrips} of these strips, of ${sayLots(lots)}.`;
}

/** "3 m of B12, lot L4, with 1 flaw in it", the pieces one after the other. */
export function sayTakings(takings: readonly Taking[], codes: PieceCodes, units: Units): string {
  const parts = takings.map(({ pieceId, lengthTicks }) => {
    const code = codes.get(pieceId);
    return `${showLength(lengthTicks, units, 'up')} of ${code?.piece ?? ''}, lot ${code?.lot ?? ''}`;
  });
  const flaws = takings.reduce((sum, taking) => sum + taking.flaws.length, 0);
  const flawed = flaws === 0 ? '' : `, with ${countOf(flaws, 'flaw', 'flaws')} in it`;
  return `${parts.length < 3 ? listed(parts) : parts.join('; ')}${flawed}`;
}

import { fitStrips } from '../../../src/fit/strips.ts';
import { needKey, type StripDemand } from '../../../src/garment/need.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import { countOf, listed } from '../../kit/words.ts';
import { type CutFor, type HeldFor, readCutStrips, readHeldStretches } from '../garment/done.ts';

/** What a tier wants of one cloth and shade now. */
export interface WantedNow extends StripDemand {
  readonly clothId: number;
  readonly shadeId: number;
}

/** As many strips as a tier may have. */
const MOST_HELD = 10_000;

/** A cloth and shade in words, "Nylon organza, Moss". */
export type NameOf = (clothId: number, shadeId: number) => string;

/**
 * Where a tier as it is now differs from what is cut and held for it, in sentences: more cut than wanted, cut in
 * another cloth, shade or size, held though not wanted, too much or too little held since the tier was changed.
 * `whenHeld` is what the tier wanted when cloth was last held for it. Empty where all of it still serves.
 */
export function differences(
  wanted: readonly WantedNow[],
  cut: readonly CutFor[],
  held: readonly HeldFor[],
  nameOf: NameOf,
  units: Units,
  whenHeld: readonly WantedNow[] = [],
): string[] {
  const keys = new Set(wanted.map(needKey));
  const strange = (row: CutFor | HeldFor) => !keys.has(needKey(row));
  return [
    ...wanted.flatMap((now) => tooMany(now, cut, nameOf)),
    ...wanted.flatMap((now) => otherSizes(now, cut, nameOf, units)),
    ...[...grouped(cut.filter(strange), needKey).values()].map((rows) => sayStrangeCut(rows, nameOf)),
    ...held.filter(strange).map((row) => sayStrangeHold(row, nameOf, units)),
    ...wanted.flatMap((now) => heldForNothing(now, cut, held, nameOf, units)),
    ...wanted.flatMap((now) => heldOtherwise(now, whenHeld, cut, held, nameOf, units)),
  ];
}

function tooMany(now: WantedNow, cut: readonly CutFor[], nameOf: NameOf): string[] {
  const count = stripsOf(cut.filter((row) => needKey(row) === needKey(now)));
  if (count <= now.count) return [];
  const name = nameOf(now.clothId, now.shadeId);
  return [
    `${countOf(count, 'strip', 'strips')} of ${name} cut, ${now.count} wanted now: ${count - now.count} too many.`,
  ];
}

function otherSizes(now: WantedNow, cut: readonly CutFor[], nameOf: NameOf, units: Units): string[] {
  const other = cut.filter(
    ({ size, ...row }) =>
      needKey(row) === needKey(now) &&
      size !== null &&
      (size.depthTicks !== now.depthTicks || size.lengthTicks !== now.lengthTicks),
  );
  const sizes = grouped(other, ({ size }) => showStrip(size ?? now, units));
  return [...sizes].map(
    ([size, rows]) =>
      `${countOf(stripsOf(rows), 'strip', 'strips')} of ${nameOf(now.clothId, now.shadeId)} cut when ${size} was wanted; ${showStrip(now, units)} is wanted now.`,
  );
}

function sayStrangeCut(rows: readonly CutFor[], nameOf: NameOf): string {
  const [first] = rows;
  const name = first ? nameOf(first.clothId, first.shadeId) : '';
  return `${countOf(stripsOf(rows), 'strip', 'strips')} cut in ${name}, which it does not want now.`;
}

/** "2.5 m of B12 and 1 m of B14". */
function sayLengths(rows: readonly HeldFor[], units: Units): string {
  return listed(rows.map((row) => `${showLength(row.lengthTicks, units, 'down')} of ${row.pieceCode}`));
}

function sayStrangeHold(row: HeldFor, nameOf: NameOf, units: Units): string {
  return `${sayLengths([row], units)} held in ${nameOf(row.clothId, row.shadeId)}, which it does not want now: release it.`;
}

function heldForNothing(
  now: WantedNow,
  cut: readonly CutFor[],
  held: readonly HeldFor[],
  nameOf: NameOf,
  units: Units,
): string[] {
  const mine = held.filter((row) => needKey(row) === needKey(now));
  const left = now.count - stripsOf(cut.filter((row) => needKey(row) === needKey(now)));
  if (left > 0 || mine.length === 0) return [];
  const pieces = sayLengths(mine, units);
  return [
    `All strips of ${nameOf(now.clothId, now.shadeId)} are cut, and ${pieces} is still held: release it.`,
  ];
}

/** A length that was right when it was held, and is too much or too little since the tier was changed. */
function heldOtherwise(
  now: WantedNow,
  whenHeld: readonly WantedNow[],
  cut: readonly CutFor[],
  held: readonly HeldFor[],
  nameOf: NameOf,
  units: Units,
): string[] {
  const then = whenHeld.find((row) => needKey(row) === needKey(now));
  const mine = held.filter((row) => needKey(row) === needKey(now));
  const cutStrips = stripsOf(cut.filter((row) => needKey(row) === needKey(now)));
  const left = now.count - cutStrips;
  if (!then || mine.length === 0 || left <= 0 || isSame(then, now)) return [];
  const gives = (demand: WantedNow, most: number) =>
    fitStrips([{ ...demand, count: most }], mine, 'any').madeStrips;
  const made = gives(now, MOST_HELD);
  const pieces = sayLengths(mine, units);
  const was = `${pieces} was held for ${countOf(then.count, 'strip', 'strips')} of ${nameOf(now.clothId, now.shadeId)}, ${showStrip(then, units)}`;
  const is = `${left} of ${showStrip(now, units)} are left to cut now, and it gives ${made}`;
  if (made > left) return [`${was}; ${is}: too much is held.`];
  // What was held in part was too little before.
  const leftThen = Math.max(0, then.count - cutStrips);
  return made < left && gives(then, leftThen) >= leftThen ? [`${was}; ${is}: too little is held.`] : [];
}

function isSame(a: WantedNow, b: WantedNow): boolean {
  return (
    a.count === b.count &&
    a.depthTicks === b.depthTicks &&
    a.lengthTicks === b.lengthTicks &&
    a.direction === b.direction
  );
}

/** What a change of the tier will not undo, in a sentence; '' where nothing is held or cut for it. */
export function sayTierInUse(reader: Reader, tierId: number): string {
  const strips = stripsOf(readCutStrips(reader, [tierId]));
  const pieces = readHeldStretches(reader, [tierId]).map(({ pieceCode }) => pieceCode);
  const parts = [
    ...(strips > 0 ? [`${countOf(strips, 'strip is', 'strips are')} cut for it`] : []),
    ...(pieces.length > 0 ? [`${listed(pieces)} is held for it`] : []),
  ];
  if (parts.length === 0) return '';
  return `${parts.join(' and ')}. A change is saved as a new version: “Work it out” shows what then differs; so does the garment’s page.`;
}

/**
 * A strip as it is cut: depth × length. The length is often the cloth's whole width in use, which is told rounded down:
 * so is the length, or a strip would seem longer than its cloth is wide.
 */
export function showStrip(
  strip: { readonly depthTicks: number; readonly lengthTicks: number },
  units: Units,
): string {
  return `${showSize(strip.depthTicks, units, 'up')} × ${showSize(strip.lengthTicks, units, 'down')}`;
}

function stripsOf(rows: readonly CutFor[]): number {
  return rows.reduce((sum, { count }) => sum + count, 0);
}

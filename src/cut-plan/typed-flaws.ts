import { type LengthUnit, readLength, TICKS_PER } from '../quantity/length.ts';
import type { Reading } from '../quantity/reading.ts';
import { type Flaw, MOST_TICKS } from './job.ts';

interface Bare {
  readonly length: LengthUnit;
  readonly size: LengthUnit;
}

/** A place without an end is marked a centimetre long. */
const MARK_TICKS = TICKS_PER.cm;

/**
 * Flaws of a piece, from its free end and its left edge. Typed, several with a semicolon between them: "3.2 m", "3.2 m
 * to 3.3 m", or with its place across "3.2 m to 3.3 m, 40 cm to 45 cm". From a script also a list of { from, to, left,
 * right }. Without a place across a flaw runs over the full width.
 */
export function readTypedFlaws(raw: unknown, bare: Bare): Reading<readonly Flaw[]> {
  const given = Array.isArray(raw) ? raw.map(textOfFlaw) : String(raw ?? '').split(';');
  const flaws: Flaw[] = [];
  for (const text of given) {
    if (text.trim() === '') continue;
    const read = readFlaw(text, bare);
    if (!read.ok) return read;
    flaws.push(read.value);
  }
  return { ok: true, value: flaws, echo: '', exact: true };
}

function textOfFlaw(raw: unknown): string {
  if (typeof raw !== 'object' || raw === null) return String(raw);
  const { from = '', to = '', left = '', right = '' } = raw as Record<string, string>;
  const along = to === '' ? from : `${from} to ${to}`;
  return left === '' && right === '' ? along : `${along}, ${left || 0} to ${right}`;
}

function readFlaw(text: string, bare: Bare): Reading<Flaw> {
  // A comma between the two places is followed by a space; one in a number is not.
  const [along = '', across, ...more] = text.split(/,\s+/);
  if (more.length > 0) return { ok: false, reason: `“${text.trim()}” has too many parts: ${HOW}` };
  const [from, to] = along.split(/\bto\b/);
  const start = readLength(from ?? '', bare.length);
  if (!start.ok) return { ok: false, reason: `${start.reason} ${HOW}` };
  const end = to === undefined ? null : readLength(to, bare.length);
  if (end && !end.ok) return { ok: false, reason: `${end.reason} ${HOW}` };
  const toTicks = end ? end.value : start.value + MARK_TICKS;
  if (toTicks <= start.value)
    return { ok: false, reason: 'A flaw ends after it begins: write the smaller figure first.' };
  if (across === undefined) {
    const whole = { leftTicks: 0, rightTicks: MOST_TICKS };
    return { ok: true, value: { fromTicks: start.value, toTicks, ...whole }, echo: '', exact: true };
  }
  const [left, right] = across.split(/\bto\b/).map((part) => readLength(part, bare.size));
  if (!left?.ok || !right?.ok) return { ok: false, reason: `The place across cannot be read. ${HOW}` };
  if (right.value <= left.value)
    return { ok: false, reason: 'A flaw ends after it begins: write the smaller figure first.' };
  const value = { fromTicks: start.value, toTicks, leftTicks: left.value, rightTicks: right.value };
  return { ok: true, value, echo: '', exact: true };
}

const HOW = 'Write a flaw as 3.2 m, 3.2 m to 3.3 m, or 3.2 m to 3.3 m, 40 cm to 45 cm.';

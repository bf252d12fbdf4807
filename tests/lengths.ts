import { type LengthUnit, readLength } from '../src/quantity/length.ts';

/** Ticks of a length written as a workroom writes it: `yd('3 1/2')`, `inch('9½')`, `cm(150)`. */
function ticksIn(unit: LengthUnit): (typed: string | number) => number {
  return (typed) => {
    const reading = readLength(String(typed), unit);
    if (!reading.ok) throw new Error(`${typed}: ${reading.reason}`);
    return reading.value;
  };
}

export const yd = ticksIn('yd');
export const inch = ticksIn('in');
export const m = ticksIn('m');
export const cm = ticksIn('cm');
export const mm = ticksIn('mm');

/** So many parts of a whole as a hand writes them, such as "1 3/4": as "7/4" or "16/16" some are asked back. */
export function mixed(parts: number, of: number): string {
  const [whole, rest] = [Math.floor(parts / of), parts % of];
  if (rest === 0) return String(whole);
  return whole === 0 ? `${rest}/${of}` : `${whole} ${rest}/${of}`;
}

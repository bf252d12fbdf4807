import { exactly, showDecimal } from './figure-show.ts';
import { TICKS_PER } from './length.ts';
import { showLength, showSize, type Units } from './length-show.ts';

/** Finer parts of an inch than this are written in millimetres: nobody reads 3/254 in. In ticks of 1/160 mm. */
const FINEST_INCH_TICKS = TICKS_PER.in / 32;

/**
 * A length of cloth written so that `readLength` with the reader's bare unit gives the same ticks: "2.64" for a field
 * in metres, "2 yd 4⅛ in" for one in yards. For fields that are filled in beforehand; to be read, `showLength` is
 * shorter. Throws RangeError on negative or fractional ticks.
 */
export function writeLength(lengthTicks: number, units: Units): string {
  return write(lengthTicks, units, showLength, ' m');
}

/** The same of a width or depth, for a field in centimetres or inches. */
export function writeSize(sizeTicks: number, units: Units): string {
  return write(sizeTicks, units, showSize, ' cm');
}

type Show = typeof showLength;

function write(ticks: number, units: Units, show: Show, bareUnit: string): string {
  if (!Number.isSafeInteger(ticks) || ticks < 0)
    throw new RangeError(`${ticks} is no length that can be typed`);
  if (units.system === 'imperial' && ticks % FINEST_INCH_TICKS !== 0) return inMillimetres(ticks);
  const text = show(ticks, { system: units.system, stepTicks: 1 }, 'near');
  if (units.system === 'imperial' || !text.endsWith(bareUnit)) return text;
  return /\.\d{3} cm$/.test(text) ? inMillimetres(ticks) : text.slice(0, -bareUnit.length);
}

/** In centimetres where millimetres would have three decimals: after three the dot could part thousands. */
function inMillimetres(ticks: number): string {
  const text = showDecimal(exactly(ticks) * 625n, 5);
  return /\.\d{3}$/.test(text) ? showSize(ticks, { system: 'metric', stepTicks: 1 }, 'near') : `${text} mm`;
}

import { showLength, type Units } from '../../src/quantity/length-show.ts';
import { address } from '../kit/address.ts';
import type { WayOn } from '../refusal.ts';
import type { ShortLine } from './queries.ts';

/** What a line, or a garment's part of it, is short of: the length to get, and strips by where they could come from. */
export interface LengthMissing {
  readonly neededTicks: number | null;
  readonly toOrderStrips: number;
  readonly elsewhereStrips: number;
}

/** Dye where undyed cloth is free, order what no order brings, look at lots that do not match. */
export function waysToGet(
  { cloth, shade, groundTicks }: Pick<ShortLine, 'cloth' | 'shade' | 'groundTicks'>,
  { neededTicks, toOrderStrips, elsewhereStrips }: LengthMissing,
  units: Units,
): WayOn[] {
  const asked = { cloth: cloth.id, shade: shade.id };
  // The dye bench is told what is wanted as somebody would type it.
  const wanted = neededTicks === null ? '' : showLength(neededTicks, units, 'up').replace(/^≈ /, '');
  const ways: WayOn[] = [];
  if (groundTicks > 0)
    ways.push({ text: 'Dye', href: address('/dye-bench/batches/new', { ...asked, wanted }) });
  if (toOrderStrips > 0) ways.push({ text: 'Order', href: '/orders/new?from=short' });
  if (elsewhereStrips > 0) ways.push({ text: 'Other lots', href: address('/shelf', asked) });
  return ways;
}

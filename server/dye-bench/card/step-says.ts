import type { WorkStep } from '../../../src/dye/work-step.ts';
import { showUl } from './volumes.ts';

/** What is done at a step below its title, which it does not say again; of a stock vat with the water for a bath of µL. */
export function sayStep({ kind, title, says }: WorkStep, volumeUl: number): string {
  const below = says.startsWith(`${title}. `) ? says.slice(title.length + 2) : says;
  if (kind !== 'vat') return below;
  const [least, most] = [20, 10].map((part) => showUl(Math.round(volumeUl / part)));
  return `${below} Water for it: ${least} to ${most}.`;
}

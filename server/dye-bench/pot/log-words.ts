import { BEGUN } from '../../../src/dye/bath-clock.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import { showGrams } from '../card/amounts-show.ts';
import type { LogRow } from './log-store.ts';

/** What a row of the log says, in a few words. */
export function sayLog(row: LogRow, steps: readonly WorkStep[]): string {
  switch (row.kind) {
    case 'step':
      return row.what === BEGUN ? 'begun' : `${titleOf(row.what, steps)}: done`;
    case 'temperature':
      return sayTemperature(row.figure);
    case 'pH':
      return `pH ${showDecimal(BigInt(row.figure), 2)}`;
    case 'weighed':
      return `${showGrams(row.figure)} of ${row.what}${row.dyeLot ? `, lot ${row.dyeLot}` : ''}${row.auxiliary ? ', beside the plan' : ''}`;
    case 'water':
      return `${showVolume(row.figure, 'near')} of water`;
    case 'addition':
      return `addition: ${showGrams(row.figure)} of ${row.what}`;
    case 'swatch':
      return `swatch ${row.what}`;
    case 'result':
      return row.what;
    default:
      return row.note;
  }
}

function titleOf(key: string, steps: readonly WorkStep[]): string {
  return steps.find((step) => step.key === key)?.title ?? key;
}

/** Tenths of a degree. */
export function sayTemperature(tenths: number): string {
  return `${showDecimal(BigInt(tenths), 1)} °C`;
}

import type { RampPoint } from '../../../src/dye/ramp.ts';

/** A step of the ramp as a row of a table: when it begins, how warm the bath is then, and what is done. */
export interface ShownPoint {
  readonly minute: number;
  /** "0:10", hours and minutes after setting */
  readonly at: string;
  readonly temperature: string;
  readonly says: string;
  readonly adds: string;
}

export function shownRamp(points: readonly RampPoint[]): ShownPoint[] {
  return points.map(({ minute, temperatureC, says, adds, kind }) => ({
    minute,
    at: `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`,
    temperature: `${temperatureC} °C`,
    says: kind === 'end' ? 'Take the cloth out, rinse, and clear it as the label says.' : says,
    adds: adds.join(', '),
  }));
}

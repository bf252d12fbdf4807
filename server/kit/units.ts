import type { LengthUnit } from '../../src/quantity/length.ts';
import { IMPERIAL, METRIC, type Units } from '../../src/quantity/length-show.ts';
import type { MassPerAreaUnit } from '../../src/quantity/mass.ts';

/** Girths, depths and allowances take a bare number in this unit. */
export function sizeUnit(units: Pick<Units, 'system'>): 'cm' | 'in' {
  return units.system === 'metric' ? 'cm' : 'in';
}

/** The unit that a bare number takes: a length of cloth is written in metres or yards. */
export function lengthUnit(units: Units): 'm' | 'yd' {
  return units.system === 'metric' ? 'm' : 'yd';
}

/** The unit that a bare mass per area takes. */
export function massPerAreaUnit(units: Pick<Units, 'system'>): MassPerAreaUnit {
  return units.system === 'metric' ? 'g/m²' : 'oz/yd²';
}

/** The system of the unit of an address: one that is kept in inches answers in inches, whoever opens it. */
export function unitsOf(unit: LengthUnit): Units {
  return unit === 'in' || unit === 'ft' || unit === 'yd' ? IMPERIAL : METRIC;
}

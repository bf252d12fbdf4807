import { readLength } from '../../src/quantity/length.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import { writeSize } from '../../src/quantity/written-length.ts';
import { sizeUnit } from './units.ts';

/** Texts as they were typed, and the system of lengths in which a bare number was meant. */
export interface Kept {
  readonly system: Units['system'];
  readonly texts: Readonly<Record<string, string>>;
}

/** What is stored beside the figures that were read. */
export function keepTyped(units: Units, texts: Readonly<Record<string, string>>): string {
  return JSON.stringify({ system: units.system, texts } satisfies Kept);
}

/** What was stored, for a form that shows it again; rows made without a form have no texts. */
export function readKept(json: string): Kept | null {
  const kept = JSON.parse(json) as Partial<Kept>;
  const { system, texts } = kept;
  return system && texts ? { system, texts } : null;
}

/**
 * A length for a form: as it was typed, where that reads as what is stored. A bare number gets its unit for a reader
 * of the other system, so that 95 inches never become 95 cm. Without a text the length is written out exactly.
 */
export function typedAgain(kept: Kept | null, field: string, ticks: number | null, units: Units): string {
  const typed = kept?.texts[field];
  // An allowance that was left blank is nothing.
  if (ticks === null || (ticks === 0 && typed === '')) return '';
  if (kept && typed !== undefined) {
    const meant = unitOf(kept.system);
    if (reads(typed, meant, ticks)) {
      const same = kept.system === units.system || reads(typed, sizeUnit(units), ticks);
      return same ? typed : `${typed} ${meant}`;
    }
  }
  return writeSize(ticks, units);
}

function reads(typed: string, unit: 'cm' | 'in', ticks: number): boolean {
  const reading = readLength(typed, unit);
  return reading.ok && reading.value === ticks;
}

function unitOf(system: Units['system']): 'cm' | 'in' {
  return system === 'metric' ? 'cm' : 'in';
}

/** What a form sent, as text by field name: `name`, or `pieces.0.length` for the first row of a list. */
export type Typed = Readonly<Record<string, string>>;

import { describe, expect, it } from 'vitest';
import {
  keepTyped,
  readKept,
  readTyped,
  storeTyped,
  typedAgain,
  withUnits,
} from '../../../server/kit/typed.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { length } from '../support.ts';

const METRIC = { system: 'metric' } as Units;
const IMPERIAL = { system: 'imperial' } as Units;

describe('what was typed', () => {
  it('is shown again as it was typed, with the unit that it had for a reader of the other system', () => {
    const kept = readKept(keepTyped(METRIC, { width: '95', depth: '12 in' }));
    expect(typedAgain(kept, 'width', length('95 cm'), METRIC)).toBe('95');
    expect(typedAgain(kept, 'width', length('95 cm'), IMPERIAL)).toBe('95 cm');
    expect(typedAgain(kept, 'depth', length('12 in'), METRIC)).toBe('12 in');
  });

  it('gets its unit before it is kept, unless it has one', () => {
    const fields = { lengths: /^length$/, sizes: /^width$/ };
    const typed = { length: '3', width: '58 in', note: '7', request_key: 'x', blank: '' };
    expect(withUnits(typed, IMPERIAL, fields)).toEqual({ length: '3 yd', width: '58 in', note: '7' });
  });

  it('is not read where the row holds something else', () => {
    expect(readTyped(storeTyped({ width: '95' }))).toEqual({ width: '95' });
    expect(readKept('{}')).toBeNull();
    expect(() => readTyped('{"width":95}')).toThrow();
    expect(() => readKept('{"system":"cubits","texts":{}}')).toThrow();
    expect(() => readKept('["95"]')).toThrow();
  });
});

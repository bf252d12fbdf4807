import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readLength } from '../../../src/quantity/length.ts';
import { IMPERIAL, METRIC } from '../../../src/quantity/length-show.ts';
import { writeLength, writeSize } from '../../../src/quantity/written-length.ts';
import { cm, inch, mm, yd } from '../../lengths.ts';

describe('a length written for a field', () => {
  it('has the field’s own unit left out, and no rounding', () => {
    expect(writeLength(cm(264), METRIC)).toBe('2.64');
    expect(writeLength(mm('1234.5'), METRIC)).toBe('1.2345');
    expect(writeSize(cm('98.4'), METRIC)).toBe('98.4');
  });

  it('is in yards and inches down to 1/32 in, and in millimetres below', () => {
    expect(writeLength(yd('2 1/2'), IMPERIAL)).toBe('2 yd 18 in');
    expect(writeSize(inch('9 5/32'), IMPERIAL)).toBe('9 5/32 in');
    expect(writeLength(cm(30), IMPERIAL)).toBe('300 mm');
  });

  it('never has three decimals, which a metric reader could take for thousands', () => {
    expect(writeSize(mm('123.45'), METRIC)).toBe('123.45 mm');
    expect(writeSize(cm('1.2'), METRIC)).toBe('1.2');
    expect(writeSize(20, IMPERIAL)).toBe('0.0125 cm');
    expect(writeSize(mm('12.125'.padEnd(7, '0')), IMPERIAL)).toBe('1.2125 cm');
  });

  it('reads back as the same ticks, whatever it is', () => {
    const lengths = fc.oneof(
      fc.nat({ max: 400_000_000 }),
      fc.nat({ max: 3_000_000 }).map((n) => n * 127),
    );
    fc.assert(
      fc.property(lengths, (ticks) => {
        expect(readLength(writeLength(ticks, METRIC), 'm')).toMatchObject({ ok: true, value: ticks });
        expect(readLength(writeLength(ticks, IMPERIAL), 'yd')).toMatchObject({ ok: true, value: ticks });
        expect(readLength(writeSize(ticks, METRIC), 'cm')).toMatchObject({ ok: true, value: ticks });
        expect(readLength(writeSize(ticks, IMPERIAL), 'in')).toMatchObject({ ok: true, value: ticks });
      }),
    );
  });

  it('is never negative nor a fraction of a tick', () => {
    expect(() => writeLength(-1, METRIC)).toThrow(RangeError);
    expect(() => writeSize(0.5, METRIC)).toThrow(RangeError);
  });
});

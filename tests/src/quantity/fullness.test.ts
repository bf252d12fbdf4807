import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fullLengthTicks,
  ratioOf,
  readFullness,
  sayFullness,
  withExact,
} from '../../../src/quantity/fullness.ts';
import { mixed } from '../../lengths.ts';

const read = (typed: string) => {
  const reading = readFullness(typed);
  if (!reading.ok) throw new Error(reading.reason);
  return withExact({ value: reading.value, typed });
};

describe('a fullness as it was typed', () => {
  it('is the fraction itself, whatever it is written as', () => {
    const whole = fc.integer({ min: 1, max: 19 });
    fc.assert(
      fc.property(whole, fc.integer({ min: 1, max: 999 }), fc.integer({ min: 1, max: 999 }), (n, a, b) => {
        fc.pre(a < b);
        const { num, den } = ratioOf(read(`${n} ${a}/${b} to 1`));
        expect(BigInt(num) * BigInt(b)).toBe(BigInt(den) * BigInt(n * b + a));
        // Shown and typed again it is the same.
        const again = ratioOf(read(sayFullness(read(`${n} ${a}/${b}`))));
        expect(again.num * den).toBe(again.den * num);
      }),
    );
  });

  it('is rounded up once, to a tick', () => {
    const lengths = fc.integer({ min: 1, max: 80_000_000 });
    fc.assert(
      fc.property(lengths, fc.integer({ min: 3, max: 60 }), (ofTicks, thirds) => {
        const fullness = read(mixed(thirds, 3));
        const { num, den } = ratioOf(fullness);
        const ticks = BigInt(fullLengthTicks(ofTicks, fullness));
        const wanted = BigInt(ofTicks) * BigInt(num);
        expect(num * 3).toBe(den * thirds);
        expect(ticks * BigInt(den) >= wanted && (ticks - 1n) * BigInt(den) < wanted).toBe(true);
      }),
      { examples: [[30_000, 7]] },
    );
    expect(fullLengthTicks(30_000, read('2 1/3'))).toBe(70_000);
    expect(fullLengthTicks(30_000, read('2.333'))).toBe(69_990);
  });

  it('is asked back where a space may have been lost', () => {
    expect(readFullness('7/3')).toMatchObject({ ok: true });
    const asked = '11/3 can mean 1 1/3 or 3 2/3 (11 divided by 3): write 1 1/3 or 3 2/3.';
    expect(readFullness('11/3')).toEqual({ ok: false, reason: asked });
  });

  it('needs no fraction where thousandths hold it, and has bounds', () => {
    expect(read('2½')).toEqual({ fullnessMilli: 2500, fullnessExact: null });
    expect(read('2.3333333')).toEqual({
      fullnessMilli: 2333,
      fullnessExact: { num: 23_333_333, den: 10_000_000 },
    });
    expect(readFullness('2.33333333333')).toMatchObject({ ok: false });
    expect(withExact({ value: 2333, typed: '2 1/2' })).toEqual({ fullnessMilli: 2333, fullnessExact: null });
  });
});

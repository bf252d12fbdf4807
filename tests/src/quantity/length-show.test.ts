import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readLength, TICKS_PER } from '../../../src/quantity/length.ts';
import {
  IMPERIAL,
  METRIC,
  type Rounding,
  showLength,
  showSize,
  type Units,
} from '../../../src/quantity/length-show.ts';

describe('showing a length of cloth', () => {
  it.each([
    [METRIC, '12.35 m', '12.35 m'],
    [METRIC, '150 cm', '1.5 m'],
    [METRIC, '3 m', '3 m'],
    [METRIC, '5 cm', '0.05 m'],
    [METRIC, '0 m', '0 m'],
    [METRIC, '100 m', '100 m'],
    [IMPERIAL, '12 yd 4 1/8 in', '12 yd 4⅛ in'],
    [IMPERIAL, '2 3/4 yd', '2 yd 27 in'],
    [IMPERIAL, '12 yd', '12 yd'],
    [IMPERIAL, '4 5/8 in', '4⅝ in'],
    [IMPERIAL, '1/2 in', '½ in'],
    [IMPERIAL, '1 1/3 yd', '1 yd 12 in'],
    [IMPERIAL, '0 in', '0 yd'],
  ])('keeps what lies on the step as it is: %o %s', (units, typed, shown) => {
    for (const round of ['up', 'down', 'near'] as const)
      expect(showLength(ticks(typed), units, round)).toBe(shown);
  });

  it('rounds a need up and stock down, and marks both', () => {
    // NIST SP 811 (2008), appendix B.8: 2.75 yd × 0.9144 m/yd = 2.5146 m.
    expect(showLength(ticks('2 3/4 yd'), METRIC, 'up')).toBe('≈ 2.52 m');
    expect(showLength(ticks('2 3/4 yd'), METRIC, 'down')).toBe('≈ 2.51 m');
    expect(showLength(ticks('2 3/4 yd'), METRIC, 'near')).toBe('≈ 2.51 m');
    // 12.35 m ÷ 0.0254 m/in = 486.22… in = 13 yd 18.22… in.
    expect(showLength(ticks('12.35 m'), IMPERIAL, 'up')).toBe('≈ 13 yd 18¼ in');
    expect(showLength(ticks('12.35 m'), IMPERIAL, 'down')).toBe('≈ 13 yd 18⅛ in');
  });

  it('carries inches that round up to a yard', () => {
    expect(showLength(ticks('35 15/16 in'), IMPERIAL, 'up')).toBe('≈ 1 yd');
    expect(showLength(ticks('99.9 cm'), METRIC, 'up')).toBe('≈ 1 m');
  });

  it('takes the half away from nought when it takes the nearest', () => {
    expect(showLength(ticks('12.5 cm'), METRIC, 'near')).toBe('≈ 0.13 m');
    expect(showLength(-ticks('12.5 cm'), METRIC, 'near')).toBe('≈ −0.13 m');
    expect(showLength(ticks('12.4 cm'), METRIC, 'near')).toBe('≈ 0.12 m');
  });

  it('puts a true minus before a negative length, and none before nought', () => {
    expect(showLength(-ticks('1.5 m'), METRIC, 'near')).toBe('\u22121.5 m');
    expect(showLength(-ticks('1 yd 4 1/8 in'), IMPERIAL, 'near')).toBe('\u22121 yd 4⅛ in');
    expect(showLength(-3, METRIC, 'near')).toBe('≈ 0 m');
    expect(showLength(-0, METRIC, 'near')).toBe('0 m');
  });

  it('rounds below nought towards more and less, not towards larger and smaller', () => {
    expect(showLength(-ticks('12.4 cm'), METRIC, 'up')).toBe('≈ −0.12 m');
    expect(showLength(-ticks('12.4 cm'), METRIC, 'down')).toBe('≈ −0.13 m');
  });

  it('goes by the step that the reader chose', () => {
    const toMillimetre: Units = { system: 'metric', stepTicks: TICKS_PER.mm };
    const toQuarterYard: Units = { system: 'imperial', stepTicks: TICKS_PER.yd / 4 };
    expect(showLength(ticks('12.345 m'), toMillimetre, 'up')).toBe('12.345 m');
    expect(showLength(ticks('1 yd 1 in'), toQuarterYard, 'up')).toBe('≈ 1 yd 9 in');
  });
});

describe('showing a size', () => {
  it.each([
    [METRIC, '147 mm', '14.7 cm'],
    [METRIC, '1.5 m', '150 cm'],
    [METRIC, '10 mm', '1 cm'],
    [IMPERIAL, '9 1/2 in', '9½ in'],
    [IMPERIAL, '9 3/16 in', '9 3/16 in'],
    [IMPERIAL, '1/16 in', '1/16 in'],
    [IMPERIAL, '54 in', '54 in'],
    [IMPERIAL, '1 1/2 yd', '54 in'],
    [IMPERIAL, '0', '0 in'],
  ])('counts it in the small unit alone: %o %s', (units, typed, shown) => {
    expect(showSize(ticks(typed), units, 'near')).toBe(shown);
  });

  it('marks what has been converted', () => {
    // 54 in × 2.54 cm/in = 137.16 cm (NIST SP 811, appendix B.8).
    expect(showSize(ticks('54 in'), METRIC, 'down')).toBe('≈ 137.1 cm');
    expect(showSize(ticks('54 in'), METRIC, 'up')).toBe('≈ 137.2 cm');
    expect(showSize(ticks('150 cm'), IMPERIAL, 'down')).toBe('≈ 59 in');
  });

  it('takes the reader’s own step where that is finer, and not where it is coarser', () => {
    expect(showSize(ticks('9 1/32 in'), { system: 'imperial', stepTicks: TICKS_PER.in / 32 }, 'up')).toBe(
      '9 1/32 in',
    );
    expect(showSize(ticks('147 mm'), { system: 'metric', stepTicks: TICKS_PER.m }, 'up')).toBe('14.7 cm');
  });
});

describe('showing what cannot be', () => {
  it('throws on part of a tick and on a step that is none', () => {
    expect(() => showLength(0.5, METRIC, 'up')).toThrow(RangeError);
    expect(() => showLength(Number.NaN, METRIC, 'up')).toThrow(RangeError);
    expect(() => showLength(2 ** 53, METRIC, 'up')).toThrow(RangeError);
    expect(() => showLength(1, { system: 'metric', stepTicks: 0 }, 'up')).toThrow(RangeError);
    expect(() => showSize(1, { system: 'imperial', stepTicks: -1 }, 'up')).toThrow(RangeError);
  });
});

describe('lengths of every kind', () => {
  const rounding = fc.constantFrom<Rounding>('up', 'down', 'near');
  const units = fc.oneof(
    fc
      .constantFrom(1, 5, 10, 50, 100)
      .map((mm): Units => ({ system: 'metric', stepTicks: mm * TICKS_PER.mm })),
    fc
      .constantFrom(1, 2, 4, 8, 16, 32, 144, 288, 1152)
      .map(
        (thirtySeconds): Units => ({ system: 'imperial', stepTicks: (thirtySeconds * TICKS_PER.in) / 32 }),
      ),
  );
  const held = fc.integer({ min: 0, max: 100_000 * TICKS_PER.m });

  it('are the same when what is shown is typed again, on the step', () => {
    fc.assert(
      fc.property(units, fc.nat(100_000), rounding, (chosen, steps, round) => {
        const length = steps * chosen.stepTicks;
        expect(ticks(showLength(length, chosen, round))).toBe(length);
        expect(ticks(showSize(length, chosen, round))).toBe(length);
      }),
      { numRuns: 1_000 },
    );
  });

  it('are shown less than a step off, on the side asked for, and marked if off at all', () => {
    fc.assert(
      fc.property(units, held, (chosen, length) => {
        const shown = (round: Rounding) => {
          const text = showLength(length, chosen, round);
          const read = readLength(text.replace('≈ ', ''), 'm');
          if (!read.ok) return length + chosen.stepTicks / 2; // Rounded up past the most that can be typed.
          expect(text.startsWith('≈ ')).toBe(read.value !== length);
          expect(read.exact).toBe(true);
          return read.value;
        };
        const [up, down, near] = [shown('up'), shown('down'), shown('near')];
        expect(up - length).toBeGreaterThanOrEqual(0);
        expect(up - length).toBeLessThan(chosen.stepTicks);
        expect(length - down).toBeGreaterThanOrEqual(0);
        expect(length - down).toBeLessThan(chosen.stepTicks);
        expect(Math.abs(near - length)).toBeLessThanOrEqual(chosen.stepTicks / 2);
      }),
      { numRuns: 1_000 },
    );
  });

  it('are shown the same below nought as above it, rounded the other way', () => {
    fc.assert(
      fc.property(units, held, (chosen, length) => {
        const below = (round: Rounding) => showLength(-length, chosen, round).replace('−', '');
        expect(below('up')).toBe(showLength(length, chosen, 'down'));
        expect(below('down')).toBe(showLength(length, chosen, 'up'));
        expect(below('near')).toBe(showLength(length, chosen, 'near'));
      }),
    );
  });
});

function ticks(typed: string): number {
  const read = readLength(typed, 'm');
  if (!read.ok) throw new Error(read.reason);
  return read.value;
}

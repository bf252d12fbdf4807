import { describe, expect, it } from 'vitest';
import { readHydrometer } from '../../../src/dye/specific-gravity.ts';

describe('the degrees of a hydrometer', () => {
  // By the definitions of the two scales, SG = 1 + °Tw ÷ 200 and 145 ÷ (145 − °Bé): worked out by hand.
  it.each([
    ['110 °Tw', 1550],
    ['36 °Bé', 1330],
    ['36 Be', 1330],
    ['66 °Tw', 1330],
    ['0 °Tw', 1000],
    ['66 °Bé', 1835],
  ])('%s are %i mg/mL', (typed, mgPerMl) => {
    expect(readHydrometer(typed)).toMatchObject({ ok: true, value: mgPerMl });
  });

  it.each(['', '36', '36 °C', '73 °Bé', '201 °Tw', 'Bé'])('are not read from “%s”', (typed) => {
    expect(readHydrometer(typed)).toMatchObject({ ok: false });
  });
});

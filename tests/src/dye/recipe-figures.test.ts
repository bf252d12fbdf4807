import { describe, expect, it } from 'vitest';
import { massInForm } from '../../../src/dye/auxiliaries.ts';
import {
  doseOfVolume,
  readAddition,
  readAdditionOrVolume,
  readPh,
  readRamp,
  readTemperature,
  showAddition,
  showPh,
  showRamp,
} from '../../../src/dye/recipe-figures.ts';

describe('readAddition', () => {
  it.each([
    ['5 g/L', 'litre', 5000],
    ['0,5 g/l', 'litre', 500],
    ['40g/L', 'litre', 40_000],
    ['½ g per litre', 'litre', 500],
    ['1,000 g/l', 'litre', null],
    ['2 %', 'cloth', 2000],
    ['0.125% owf', 'cloth', 125],
    ['3 owf', 'cloth', 3000],
  ] as const)('reads %s', (typed, per, amount) => {
    const reading = readAddition(typed);
    if (amount === null)
      expect(reading).toMatchObject({ ok: false, reason: expect.stringContaining('1000') });
    else expect(reading).toMatchObject({ ok: true, value: { per, amount } });
  });

  it.each([
    ['5', 'Say what the amount is for'],
    ['5 g', 'Say what the amount is for'],
    ['5 mL/L', 'in grams'],
    ['5 kg/L', 'in grams'],
    ['2000 g/L', '1000 g/L or less'],
    ['', 'Enter a number'],
    ['x'.repeat(10_000), 'too long'],
  ])('refuses %s', (typed, reason) => {
    expect(readAddition(typed)).toMatchObject({ ok: false, reason: expect.stringContaining(reason) });
  });

  it('reads back what it shows', () => {
    for (const addition of [
      { per: 'litre', amount: 1 },
      { per: 'litre', amount: 47_500 },
      { per: 'cloth', amount: 125 },
      { per: 'cloth', amount: 20_000 },
    ] as const) {
      expect(readAddition(showAddition(addition))).toMatchObject({ ok: true, value: addition, exact: true });
    }
  });
});

describe('an amount that is measured in millilitres', () => {
  // Vinegar of 5 g in 100 mL at 1.006 g/mL: 200 mL are 201.2 g, and on a kilogram 20.12 %; 20 mL are 20.12 g.
  it.each([
    ['200 mL to 1 kg of cloth', 'cloth', 20_120],
    ['200ml/kg', 'cloth', 20_120],
    ['200 mL per kg', 'cloth', 20_120],
    ['20 mL/L', 'litre', 20_120],
    ['20 ml per litre of bath', 'litre', 20_120],
    ['2½ mL/L', 'litre', 2515],
  ] as const)('is read from %s', (typed, per, amount) => {
    const reading = readAdditionOrVolume(typed);
    if (!reading.ok || !('volumeUl' in reading.value)) throw new Error(`${typed} was not read as a volume`);
    expect(doseOfVolume(reading.value, 1006)).toEqual({ per, amount });
  });

  it('of vinegar holds the acid that its label says: 10 mL/L of 5 g in 100 mL are 0.5 g/L', () => {
    // By the meaning of 5 % by volume; the density of the vinegar drops out.
    const dose = doseOfVolume({ per: 'litre', volumeUl: 10_000 }, 1006);
    expect(massInForm('acetic-acid', dose.amount, 'vinegar-5', 'glacial')).toBe(500);
  });

  // Cold pad-batch, as printed on a maker's card: silicate 70 mL/L, caustic of 36 °Bé 10 mL/L (jagson.com).
  it.each([
    ['70 mL/L at 38 °Bé', 'litre', 94_850],
    ['10 mL/L of 36 °Be', 'litre', 13_300],
    ['10 mL/L, 66 °Tw', 'litre', 13_300],
  ] as const)('of a lye by its degrees is a mass: %s', (typed, per, amount) => {
    expect(readAdditionOrVolume(typed)).toMatchObject({ ok: true, value: { per, amount } });
  });

  it('of a lye by its degrees is refused without a volume or off the scale', () => {
    expect(readAdditionOrVolume('5 g/L at 36 °Bé')).toMatchObject({ ok: false });
    expect(readAdditionOrVolume('5 mL/L at 80 °Bé')).toMatchObject({
      ok: false,
      reason: 'Write 72 °Bé or less.',
    });
  });

  it('leaves what is given by mass as it is', () => {
    expect(readAdditionOrVolume('2 % owf')).toMatchObject({
      ok: true,
      value: { per: 'cloth', amount: 2000 },
    });
    expect(readAdditionOrVolume('5')).toMatchObject({ ok: false });
  });

  it.each(['1001 mL/L', '-5 mL/L', 'some mL/L', '20 mL', ''])('is not read from %s', (typed) => {
    expect(readAdditionOrVolume(typed)).toMatchObject({ ok: false });
  });
});

describe('readTemperature', () => {
  // 98 °C = 208.4 °F, 60 °C = 140 °F: °C = (°F − 32) × 5/9 (NIST SP 811, B.8).
  it.each([
    ['60', 60, true],
    ['60 °C', 60, true],
    ['98°c', 98, true],
    ['140 °F', 60, true],
    ['208.4 F', 98, true],
    ['200 °F', 93, false],
    ['82.5', 83, false],
  ])('reads %s', (typed, value, exact) => {
    expect(readTemperature(typed)).toMatchObject({ ok: true, value, exact });
  });

  it.each(['0', '32 °F', '20 °F', '141', 'hot', '60 K', ''])('refuses %s', (typed) => {
    expect(readTemperature(typed).ok).toBe(false);
  });
});

describe('readPh', () => {
  it('reads tenths and shows them back', () => {
    expect(readPh('5.5')).toMatchObject({ ok: true, value: 55 });
    expect(readPh('pH 4')).toMatchObject({ ok: true, value: 40 });
    expect(showPh(55)).toBe('5.5');
  });

  it.each(['14.1', '-1', 'sour'])('refuses %s', (typed) => {
    expect(readPh(typed).ok).toBe(false);
  });
});

describe('a rate of heating', () => {
  it.each([
    ['1', 1000],
    ['1.5 °C/min', 1500],
    ['0.3 °C a minute', 300],
    ['10', 10_000],
  ])('is read from %s', (typed, value) => {
    expect(readRamp(typed)).toMatchObject({ ok: true, value, exact: true });
    expect(readRamp(showRamp(value))).toMatchObject({ ok: true, value });
  });

  it.each(['0', '0.05', '10.1', '-1', 'fast'])('is not read from %s', (typed) => {
    expect(readRamp(typed)).toMatchObject({ ok: false });
  });
});

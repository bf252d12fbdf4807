import { describe, expect, it } from 'vitest';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import {
  checkFixing,
  type Fixing,
  isLabelClass,
  LABEL_CLASSES,
  labelClassFacts,
  labelWarnings,
  takesByLabel,
} from '../../../src/dye/label-class.ts';

const cloth = (...fibres: readonly FibreCode[]): Content =>
  fibres.map((fibre) => ({ fibre, shareBp: 10_000 / fibres.length }));
const fixed = (how: Fixing['how'], temperatureC: number, seconds = 30): Fixing => ({
  how,
  temperatureC,
  seconds,
});

describe('a class by its label', () => {
  it('is none of the classes with figures of ours', () => {
    expect(isLabelClass('union')).toBe(true);
    expect(isLabelClass('reactive')).toBe(false);
  });

  // pburch.net, all-purpose dye: cellulose, wool, silk and nylon; not polyester or acrylic; acetate was lost in 2010.
  it.each([
    ['union', 'cotton', 'dyes', false],
    ['union', 'nylon', 'dyes', false],
    ['union', 'acrylic', 'no', false],
    ['union', 'polyester', 'dyes', true],
    ['union', 'acetate', 'dyes', true],
    ['cold-batch', 'viscose', 'dyes', false],
    ['cold-batch', 'wool', 'no', false],
    ['transfer', 'polyester', 'dyes', false],
    ['transfer', 'cotton', 'no', false],
    ['transfer', 'nylon', 'dyes', true],
    ['strip', 'acetate', 'no', false],
    ['strip', 'metallised', 'no', false],
    ['pigment', 'nylon', 'dyes', true],
  ] as const)('%s on %s: %s', (labelClass, fibre, take, special) => {
    expect(takesByLabel(fibre, labelClass)).toMatchObject({ take, special });
  });

  it('says what was found in print, and that no figure is ours', () => {
    for (const labelClass of LABEL_CLASSES) {
      const [first] = labelWarnings(labelClass, cloth('cotton'));
      expect(first?.text).toContain('no figure here is ours');
      expect(first?.source).not.toBe('');
      expect(labelClassFacts(labelClass).name).not.toBe('');
    }
  });
});

describe('fixing', () => {
  // Transfer on polyester: 200 °C, 30 s (p2ric, sectors75bd); 210 °C, 45 s (metzen-germany).
  it.each([fixed('press', 200, 30), fixed('press', 210, 45)])('takes a transfer as published', (fixing) => {
    const { problems, warnings } = checkFixing('transfer', fixing, cloth('polyester'));
    expect(problems).toEqual([]);
    expect(warnings[0]?.text).toContain('moiré');
  });

  // Pigment: 150 °C for 4 to 5 minutes (mytextilenotes; textilefashionstudy).
  it('takes a cure of pigment on cotton as published, without a word', () => {
    expect(checkFixing('pigment', fixed('dry heat', 150, 270), cloth('cotton'))).toEqual({
      problems: [],
      warnings: [],
    });
  });

  it.each([
    ['transfer', fixed('press', 200), 'nylon', /Nylon stands 180 °C/],
    ['pigment', fixed('dry heat', 160), 'acetate', /Acetate stands 150 °C/],
    ['pigment', fixed('dry heat', 40), 'metallised', /no dry heat at all/],
    ['steamed', fixed('steam', 100), 'acetate', /does not stand steam/],
  ] as const)('refuses %s at what the fibre does not stand', (labelClass, fixing, fibre, message) => {
    // The strictest fibre of a blend counts, whatever its share.
    const { problems } = checkFixing(labelClass, fixing, [
      { fibre: 'polyester', shareBp: 9500 },
      { fibre, shareBp: 500 },
    ]);
    expect(problems.map((each) => each.message).join(' ')).toMatch(message);
  });

  it('steams silk and wool, in open steam (gsdye, steaming)', () => {
    expect(checkFixing('steamed', fixed('steam', 100, 2700), cloth('silk', 'wool')).problems).toEqual([]);
  });

  it('asks for what must be fixed, and refuses what is not fixed so or out of all range', () => {
    expect(checkFixing('transfer', undefined, cloth('polyester')).problems[0]?.field).toBe('fixing');
    expect(checkFixing('pigment', undefined, cloth('cotton')).problems).toEqual([]);
    expect(checkFixing('transfer', fixed('steam', 100), cloth('polyester')).problems[0]?.field).toBe(
      'fixing',
    );
    const wild = checkFixing('pigment', fixed('dry heat', 400, 0), cloth('cotton')).problems;
    expect(wild.map(({ field }) => field)).toEqual(['fixing.temperatureC', 'fixing.seconds']);
  });

  it('warns of a transfer on little polyester (about 35 % at least: metzen-germany)', () => {
    const of = (shareBp: number): Content => [
      { fibre: 'polyester', shareBp },
      { fibre: 'cotton', shareBp: 10_000 - shareBp },
    ];
    const said = (shareBp: number) =>
      labelWarnings('transfer', of(shareBp))
        .map(({ text }) => text)
        .join(' ');
    expect(said(3400)).toContain('hardly shows');
    expect(said(3500)).toContain('comes out paler');
    expect(labelWarnings('transfer', cloth('polyester'))).toHaveLength(1);
  });
});

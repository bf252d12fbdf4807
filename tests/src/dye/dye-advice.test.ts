import { describe, expect, it } from 'vitest';
import { dyeFor, verdictOn } from '../../../src/dye/dye-advice.ts';
import { DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import { type Content, FIBRE_CODES, type FibreCode } from '../../../src/dye/fibre.ts';

const of = (...shares: [FibreCode, number][]): Content =>
  shares.map(([fibre, percent]) => ({ fibre, shareBp: percent * 100 }));
const works = (content: Content) => dyeFor(content).works.map(({ dyeClass }) => dyeClass);
const warned = (content: Content) => dyeFor(content).warnings.map(({ id }) => id);

describe('dyes for a cloth of one fibre', () => {
  it('sort every class into works or refused, each refusal with its reason', () => {
    for (const fibre of FIBRE_CODES) {
      const advice = dyeFor(of([fibre, 100]));
      expect(advice.works.length + advice.refused.length).toBe(DYE_CLASSES.length);
      for (const { verdict, dyedBp } of advice.works) expect([verdict, dyedBp]).toEqual(['dyes', 10_000]);
      for (const { verdict, dyedBp, reasons } of advice.refused) {
        expect(['stains', 'no']).toContain(verdict);
        expect(dyedBp).toBe(0);
        expect(reasons).toHaveLength(1);
      }
      expect(advice.stages).toHaveLength(advice.works.length > 0 ? 1 : 0);
    }
  });

  it('say why polyester refuses acid dye, and what works', () => {
    expect(verdictOn(of(['polyester', 100]), 'acid-levelling')).toEqual({
      dyeClass: 'acid-levelling',
      verdict: 'no',
      dyedBp: 0,
      reasons: [
        'Polyester does not take levelling acid dye; disperse dye does; at the boil without carrier only pale shades.',
      ],
    });
  });

  it.each([
    ['cotton', 'disperse', 'Cotton is only stained by disperse dye; reactive dye or direct dye does.'],
    ['wool', 'basic', 'Wool is only stained by basic dye; acid dye does.'],
    ['silk', 'disperse', 'Silk is only stained by disperse dye; acid dye or reactive dye does.'],
    [
      'glass',
      'acid-milling',
      'Glass does not take milling acid dye; no dye bath colours it: buy it in the shade, or let it stay as it is.',
    ],
    [
      'cotton',
      'basic',
      'Cotton does not take basic dye (only on a mordant); reactive dye or direct dye does.',
    ],
  ] as const)('say why %s refuses %s', (fibre, dyeClass, reason) => {
    expect(verdictOn(of([fibre, 100]), dyeClass).reasons).toEqual([reason]);
  });

  it('put the usual choice first', () => {
    expect(works(of(['nylon', 100]))[0]).toBe('acid-levelling');
    expect(works(of(['viscose', 100]))).toEqual(['reactive', 'direct', 'vat']);
    expect(works(of(['acetate', 100]))).toEqual(['disperse']);
  });

  it('need no warning', () => {
    expect(dyeFor(of(['lyocell', 100])).warnings).toEqual([]);
  });
});

describe('dyes for a blend', () => {
  it('warn that nylon takes more than polyester, and take two baths', () => {
    // Nylon took up faster and finished stronger: Fibers and Polymers 7(2), 2006, pp. 174–179.
    const blend = of(['nylon', 60], ['polyester', 40]);
    expect(dyeFor(blend).stages).toEqual(['disperse', 'acid-levelling']);
    expect(warned(blend)).toEqual(['uneven', 'stages', 'nylon-polyester']);
    expect(works(blend)[0]).toBe('disperse');
  });

  it('dye polyester before cotton, and say which share a bath dyes', () => {
    const blend = of(['polyester', 65], ['cotton', 35]);
    expect(dyeFor(blend).stages).toEqual(['disperse', 'reactive']);
    expect(warned(blend)).toEqual(['uneven', 'stages', 'cellulose-polyester']);
    expect(verdictOn(blend, 'disperse')).toMatchObject({ verdict: 'partly', dyedBp: 6500 });
    expect(verdictOn(blend, 'reactive')).toMatchObject({ verdict: 'partly', dyedBp: 3500 });
    expect(verdictOn(blend, 'basic')).toMatchObject({ verdict: 'no', dyedBp: 0 });
  });

  it('dye polyester before wool', () => {
    // Broadbent, p. 423: polyester first, at pH 5.
    const blend = of(['wool', 45], ['polyester', 55]);
    expect(dyeFor(blend).stages).toEqual(['disperse', 'acid-levelling']);
    expect(warned(blend)).toContain('wool-polyester');
  });

  it('dye silk with cotton in one bath of unequal tones', () => {
    const blend = of(['silk', 50], ['cotton', 50]);
    expect(dyeFor(blend).stages).toEqual(['reactive']);
    expect(warned(blend)).toEqual(['uneven', 'silk-cellulose']);
  });

  it('dye two kinds of cellulose alike', () => {
    const blend = of(['cotton', 50], ['viscose', 50]);
    expect(dyeFor(blend).stages).toEqual(['reactive']);
    expect(warned(blend)).toEqual(['uneven']);
  });

  it('leave elastane and metallised yarn out of the count of baths, and warn', () => {
    const blend = of(['nylon', 80], ['elastane', 15], ['metallised', 5]);
    expect(dyeFor(blend).stages).toEqual(['acid-levelling']);
    expect(warned(blend)).toEqual(['uneven', 'elastane', 'metallised']);
    expect(verdictOn(blend, 'acid-levelling')).toMatchObject({ verdict: 'partly', dyedBp: 8000 });
  });

  it('follow the largest share, whatever the order given', () => {
    expect(works(of(['polyester', 10], ['wool', 90]))[0]).toBe('acid-levelling');
    expect(works(of(['wool', 10], ['polyester', 90]))[0]).toBe('disperse');
  });

  it('name each source', () => {
    const { warnings } = dyeFor(
      of(['nylon', 20], ['polyester', 20], ['cotton', 20], ['wool', 20], ['elastane', 20]),
    );
    expect(warnings.length).toBeGreaterThanOrEqual(6);
    for (const { text, source } of warnings) expect([text, source]).not.toContain('');
  });
});

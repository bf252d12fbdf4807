import { describe, expect, it } from 'vitest';
import {
  type Content,
  checkContent,
  contentTogether,
  FIBRE_CODES,
  FIBRES,
  type FibreCode,
  fibreNamed,
  fibreOf,
  showContent,
} from '../../../src/dye/fibre.ts';

const of = (...shares: [FibreCode, number][]): Content =>
  shares.map(([fibre, percent]) => ({ fibre, shareBp: Math.round(percent * 100) }));

describe('the fibres', () => {
  it('are listed once each, under every code', () => {
    expect(FIBRES.map(({ code }) => code)).toEqual([...FIBRE_CODES]);
  });

  it('share no name, other name or abbreviation', () => {
    const names = FIBRES.flatMap(({ code, name, abbreviations, alsoCalled }) =>
      [...new Set([code, name]), ...abbreviations, ...alsoCalled].map((each) => each.toLowerCase()),
    );
    expect(new Set(names).size).toBe(names.length);
  });

  // Abbreviations as on European labels, from memory; rayon, polyamide and spandex: US 16 CFR 303.7, from memory.
  it.each([
    ['CV', 'viscose'],
    ['rayon', 'viscose'],
    [' Polyamide ', 'nylon'],
    ['PES', 'polyester'],
    ['spandex', 'elastane'],
    ['polypropylene', 'olefin'],
    ['Flax', 'linen'],
    ['SE', 'silk'],
  ])('answer to %j', (name, code) => {
    expect(fibreNamed(name)).toBe(code);
  });

  it('do not answer to other words', () => {
    expect(fibreNamed('organza')).toBeUndefined();
    expect(() => fibreOf('organza' as FibreCode)).toThrow(RangeError);
  });
});

describe('a fibre content', () => {
  it('holds when the shares make 100 %', () => {
    expect(checkContent(of(['nylon', 100]))).toEqual([]);
    expect(checkContent(of(['silk', 33.34], ['cotton', 33.33], ['wool', 33.33]))).toEqual([]);
  });

  it.each([
    [of(['cotton', 60], ['polyester', 41]), '101 %'],
    [of(['cotton', 60], ['polyester', 39.99]), '99.99 %'],
  ])('is refused when it makes %o', (content, sum) => {
    expect(checkContent(content)).toEqual([
      { field: 'content', message: `The fibres add up to ${sum}: they must make 100 % exactly.` },
    ]);
  });

  it('is refused when empty', () => {
    expect(checkContent([])).toEqual([{ field: 'content', message: 'Give at least one fibre.' }]);
  });

  it('names each fibre only once', () => {
    const problems = checkContent(of(['silk', 50], ['silk', 50]));
    expect(problems.map(({ field }) => field)).toEqual(['content.1.fibre']);
    expect(problems[0]?.message).toContain('Silk is named twice');
  });

  it('tells every bad row at once', () => {
    const content: Content = [
      { fibre: 'straw' as FibreCode, shareBp: 5000 },
      { fibre: 'wool', shareBp: 0 },
      { fibre: 'silk', shareBp: -100 },
      { fibre: 'nylon', shareBp: 10.5 },
    ];
    expect(checkContent(content).map(({ field }) => field)).toEqual([
      'content.0.fibre',
      'content.1.shareBp',
      'content.2.shareBp',
      'content.3.shareBp',
      'content',
    ]);
  });

  it('of several cloths goes by their masses', () => {
    // By hand: 100 g of nylon and 300 g of 60/40 hold 220 g of nylon and 180 g of polyester in 400 g.
    const cloths = [
      { content: of(['nylon', 100]), massMg: 100_000 },
      { content: of(['polyester', 60], ['nylon', 40]), massMg: 300_000 },
    ];
    expect(contentTogether(cloths)).toEqual(of(['nylon', 55], ['polyester', 45]));
    expect(contentTogether([{ content: of(['silk', 100]), massMg: 0 }])).toEqual([]);
  });

  it('is shown as on a label, the largest share first', () => {
    expect(showContent(of(['polyester', 27.5], ['nylon', 72.5]))).toBe('72.5 % nylon, 27.5 % polyester');
    expect(showContent(of(['cationic-polyester', 100]))).toBe('100 % cationic-dyeable polyester');
  });
});

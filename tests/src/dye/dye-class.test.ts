import { describe, expect, it } from 'vitest';
import { affinity, classesFor, DYE_CLASSES, type DyeClass } from '../../../src/dye/dye-class.ts';
import { CELLULOSE } from '../../../src/dye/dye-facts.ts';
import { FIBRE_CODES, type FibreCode } from '../../../src/dye/fibre.ts';

const takes = (fibre: FibreCode, dyeClass: DyeClass) => affinity(fibre, dyeClass).take;

describe('a dye on a fibre', () => {
  it('is known for every pair', () => {
    const pairs = FIBRE_CODES.flatMap((fibre) => DYE_CLASSES.map((dyeClass) => affinity(fibre, dyeClass)));
    expect(pairs).toHaveLength(18 * 8);
    for (const { take, mark } of pairs) {
      expect(['dyes', 'stains', 'no']).toContain(take);
      expect(mark.source).not.toBe('');
    }
  });

  // Broadbent, Basic Principles of Textile Coloration, SDC 2001: acid dyes are those of wool, silk and nylon.
  it.each(['acid-levelling', 'acid-milling', 'acid-metal-complex'] as const)(
    '%s dyes silk, wool and nylon and nothing else',
    (dyeClass) => {
      const dyed = FIBRE_CODES.filter((fibre) => takes(fibre, dyeClass) === 'dyes');
      expect(dyed).toEqual(['silk', 'wool', 'nylon']);
    },
  );

  it('dyes polyester only if it is a disperse dye', () => {
    // Polyester has no dye sites for ionic dyes: Broadbent, chapter on disperse dyes.
    expect(DYE_CLASSES.filter((dyeClass) => takes('polyester', dyeClass) !== 'no')).toEqual(['disperse']);
    expect(takes('cationic-polyester', 'basic')).toBe('dyes');
  });

  it('does not dye cotton with basic dye but on a mordant', () => {
    // Beech, The Dyeing of Cotton Fabrics, about 1901.
    expect(affinity('cotton', 'basic')).toMatchObject({ take: 'no', note: 'only on a mordant' });
  });

  it('does not dye nylon with basic dye but in anionic variants', () => {
    // Broadbent, p. 286.
    expect(affinity('nylon', 'basic').take).toBe('no');
    expect(affinity('nylon', 'basic').mark.source).toContain('p. 286');
  });

  it('colours neither olefin nor glass', () => {
    for (const fibre of ['olefin', 'glass'] as const) {
      expect(DYE_CLASSES.filter((dyeClass) => takes(fibre, dyeClass) !== 'no')).toEqual([]);
    }
  });

  // The grid of common practice, read by class: which fibres it dyes, which it stains.
  it.each([
    ['reactive', [...CELLULOSE, 'silk', 'wool'], ['nylon']],
    ['direct', [...CELLULOSE, 'silk'], ['wool', 'nylon']],
    // A vat needs caustic soda: on silk, wool and nylon by the label alone.
    ['vat', CELLULOSE, []],
    ['acid-levelling', ['silk', 'wool', 'nylon'], ['elastane']],
    [
      'disperse',
      ['nylon', 'polyester', 'cationic-polyester', 'acetate', 'triacetate', 'acrylic'],
      [...CELLULOSE, 'silk', 'wool', 'elastane', 'metallised'],
    ],
    ['basic', ['silk', 'cationic-polyester', 'acrylic'], ['wool', 'acetate', 'triacetate']],
  ] as const)('%s dyes and stains these fibres and no others', (dyeClass, dyed, stained) => {
    expect(FIBRE_CODES.filter((fibre) => takes(fibre, dyeClass) === 'dyes')).toEqual(dyed);
    expect(FIBRE_CODES.filter((fibre) => takes(fibre, dyeClass) === 'stains')).toEqual(stained);
  });

  it('only stains where colour shows but does not stay', () => {
    expect(takes('cotton', 'disperse')).toBe('stains');
    expect(takes('wool', 'direct')).toBe('stains');
    expect(takes('nylon', 'reactive')).toBe('stains');
    expect(takes('elastane', 'disperse')).toBe('stains');
  });
});

describe('the classes for a fibre', () => {
  it('begin with the usual choice and end with those that need special means', () => {
    expect(classesFor('cotton')).toEqual(['reactive', 'direct', 'vat']);
    expect(classesFor('nylon')).toEqual(['acid-levelling', 'acid-milling', 'acid-metal-complex', 'disperse']);
    expect(classesFor('wool').at(-1)).toBe('reactive');
    expect(classesFor('silk')[0]).toBe('acid-levelling');
    expect(classesFor('acrylic')).toEqual(['basic', 'disperse']);
  });

  it('are none for what takes no dye', () => {
    const none = FIBRE_CODES.filter((fibre) => classesFor(fibre).length === 0);
    expect(none).toEqual(['elastane', 'olefin', 'glass', 'metallised']);
  });
});

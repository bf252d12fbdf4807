import { describe, expect, it } from 'vitest';
import { BLEND_RULES, blendRulesFor, blendStages } from '../../../src/dye/blend-order.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import { type Content, FIBRE_CODES, type FibreCode } from '../../../src/dye/fibre.ts';

const of = (...fibres: FibreCode[]): Content =>
  fibres.map((fibre, at) => ({ fibre, shareBp: at === 0 ? 10_000 - 1000 * (fibres.length - 1) : 1000 }));

// Expected orders are those of the pages named, not of the program.
const ORDERS: readonly (readonly [FibreCode[], DyeClass[], source: string])[] = [
  // organicdye.com, nylon with cellulose by reactive dye: cellulose first, then nylon.
  [['nylon', 'cotton'], ['reactive', 'acid-levelling'], 'organicdye.com'],
  [['viscose', 'nylon'], ['reactive', 'acid-levelling'], 'organicdye.com'],
  // organicdye.com and Broadbent, pp. 419–421: disperse first.
  [['polyester', 'cotton'], ['disperse', 'reactive'], 'pp. 419–421'],
  [['lyocell', 'polyester'], ['disperse', 'reactive'], 'pp. 419–421'],
  // Broadbent, p. 413; project0781.com: a neutral bath of acid and direct dye, no alkali.
  [['wool', 'cotton'], ['acid-milling', 'direct'], 'p. 413'],
  // organicdye.com, wool with nylon: acid dye for both.
  [['wool', 'nylon'], ['acid-levelling'], 'wool with nylon'],
  // Broadbent, p. 423: polyester first.
  [['wool', 'polyester'], ['disperse', 'acid-levelling'], 'p. 423'],
  // Common practice: one reactive bath of two tones.
  [['silk', 'cotton'], ['reactive'], 'common practice'],
  // Common practice: disperse and direct dye in one neutral bath.
  [['acetate', 'viscose'], ['disperse', 'direct'], 'common practice'],
  // Fibers and Polymers 7(2), 2006: the nylon loads first; acid dye fills it.
  [['nylon', 'polyester'], ['disperse', 'acid-levelling'], 'Fibers and Polymers'],
  // organicdye.com, polyester with acrylic: basic dye once the dispersion has settled.
  [['polyester', 'acrylic'], ['disperse', 'basic'], 'polyester with acrylic'],
];

describe('the order of dyeings on a blend', () => {
  it.each(ORDERS)('%j is %j (%s)', (fibres, stages, source) => {
    expect(blendStages(of(...fibres))).toEqual(stages);
    expect(blendStages(of(...[...fibres].reverse()))).toEqual(stages);
    const [rule] = blendRulesFor(of(...fibres));
    expect(rule?.mark.source).toContain(source);
    expect(rule?.why).not.toBe('');
  });

  it('of three fibres keeps the order of each two, with every reason', () => {
    expect(blendStages(of('nylon', 'polyester', 'cotton'))).toEqual([
      'disperse',
      'reactive',
      'acid-levelling',
    ]);
    expect(blendRulesFor(of('nylon', 'polyester', 'cotton')).map(({ id }) => id)).toEqual([
      'nylon-cellulose',
      'cellulose-polyester',
      'nylon-polyester',
    ]);
    // Wool stands no alkali, whatever the others are.
    expect(blendStages(of('cotton', 'wool', 'polyester'))).toEqual(['disperse', 'acid-milling', 'direct']);
    expect(blendStages(of('silk', 'cotton', 'wool'))).toEqual(['acid-milling', 'direct']);
    expect(blendStages(of('silk', 'cotton', 'nylon'))).toEqual(['reactive', 'acid-levelling']);
  });

  it('never has alkali after acid dye, nor reactive dye with wool, acetate or triacetate', () => {
    for (const one of FIBRE_CODES) {
      for (const other of FIBRE_CODES.filter((fibre) => fibre !== one)) {
        for (const third of FIBRE_CODES.filter((fibre) => fibre !== one && fibre !== other)) {
          const fibres = [one, other, third];
          const stages = blendStages(of(...fibres));
          const reactive = stages.indexOf('reactive');
          const acid = stages.findIndex((stage) => stage.startsWith('acid'));
          if (reactive >= 0 && acid >= 0) expect(reactive).toBeLessThan(acid);
          const delicate = fibres.some((fibre) => ['wool', 'acetate', 'triacetate'].includes(fibre));
          if (delicate) expect(stages).not.toContain('reactive');
        }
      }
    }
  });

  it('leaves out what no bath is made for, and needs none for one fibre', () => {
    expect(blendStages(of('nylon', 'elastane'))).toEqual(['acid-levelling']);
    expect(blendStages(of('glass', 'olefin'))).toEqual([]);
    expect(blendRulesFor(of('cotton', 'linen'))).toEqual([]);
  });

  it('names its source for every pair, once', () => {
    expect(new Set(BLEND_RULES.map(({ id }) => id)).size).toBe(BLEND_RULES.length);
    for (const { says, mark } of BLEND_RULES) expect([says, mark.source]).not.toContain('');
  });
});

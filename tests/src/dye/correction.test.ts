import { describe, expect, it } from 'vitest';
import { correctionsFor, REACTIVE_YIELD, type ToCorrect, TROUBLES } from '../../../src/dye/correction.ts';
import { DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import type { FibreCode } from '../../../src/dye/fibre.ts';
import { stripHeat, stripMethod } from '../../../src/dye/strip.ts';

const asked = (changed: Partial<Omit<ToCorrect, 'content'>> & { fibre?: FibreCode } = {}): ToCorrect => {
  const { fibre = 'cotton', ...rest } = changed;
  return {
    dyeClass: 'reactive',
    content: [{ fibre, shareBp: 10_000 }],
    trouble: 'too-dark',
    stands: false,
    alkaliIn: false,
    after: 'none',
    additionsMade: 0,
    depthOwfMilli: 2000,
    ...rest,
  };
};
const ids = (given: Parameters<typeof asked>[0]) => correctionsFor(asked(given)).ways.map(({ id }) => id);
const refused = (given: Parameters<typeof asked>[0]) => correctionsFor(asked(given)).refused.join(' ');

describe('what may be done about a shade', () => {
  // The expected answers are written from the table of corrections: textilelearner, January 2012; Broadbent, pp. 244 and 394.
  it.each([
    ['acid-levelling', 'nylon', 'unlevel', true, ['boil-on', 'glauber-boil', 'overdye']],
    ['acid-levelling', 'nylon', 'too-dark', false, ['glauber-boil']],
    ['acid-milling', 'nylon', 'unlevel', true, ['level-up', 'ammonia', 'overdye']],
    ['acid-metal-complex', 'wool', 'too-dark', false, ['ammonia', 'thiourea-dioxide']],
    [
      'direct',
      'cotton',
      'unlevel',
      true,
      ['level-salt-free', 'detergent-boil', 'thiourea-dioxide', 'hydros', 'overdye'],
    ],
    ['direct', 'viscose', 'too-dark', false, ['detergent-boil', 'thiourea-dioxide', 'hydros']],
    ['reactive', 'cotton', 'unlevel', false, ['acid-half', 'hydros', 'thiourea-dioxide', 'overdye']],
    ['reactive', 'cotton', 'too-dark', false, ['acid-half', 'hydros', 'thiourea-dioxide', 'hypochlorite']],
    ['reactive', 'cotton', 'too-light', true, ['addition', 'overdye']],
    ['disperse', 'polyester', 'unlevel', true, ['level-longer', 'overdye']],
    ['disperse', 'polyester', 'too-dark', false, []],
    ['basic', 'acrylic', 'unlevel', true, ['level-retarder', 'overdye']],
    ['vat', 'cotton', 'too-dark', true, ['vat-drop', 'vat-blank', 'thiourea-dioxide']],
    ['vat', 'cotton', 'too-light', true, ['overdye']],
  ] as const)('%s on %s, %s', (dyeClass, fibre, trouble, stands, expected) => {
    expect(ids({ dyeClass, fibre, trouble, stands })).toEqual(expected);
  });

  // No source that was read gives a dose of leveller or retarder for levelling what is on the cloth.
  it.each([
    ['acid-milling', 'nylon', 'unlevel', 'levelling-agent'],
    ['acid-metal-complex', 'wool', 'unlevel', 'levelling-agent'],
    ['disperse', 'polyester', 'unlevel', 'levelling-agent'],
    ['basic', 'acrylic', 'unlevel', 'retarder'],
    ['vat', 'cotton', 'too-dark', 'levelling-agent'],
    ['acid-levelling', 'nylon', 'unlevel', null],
    ['direct', 'cotton', 'unlevel', null],
  ] as const)('of %s on %s, %s, asks for the dose of a label: %s', (dyeClass, fibre, trouble, asks) => {
    const [first] = correctionsFor(asked({ dyeClass, fibre, trouble, stands: true })).ways;
    expect(first?.asks).toBe(asks);
  });

  it('never makes a shade paler by adding dye, nor levels what is bonded', () => {
    expect(refused({ trouble: 'too-dark' })).toContain('no dye makes a shade paler');
    expect(refused({ trouble: 'unlevel' })).toContain('bonded to the fibre');
  });

  // faqs.tips, hydrolysis of reactive dye: 20 to 40 % of it is lost.
  it('tells what an addition yields when the soda is in, and sends it into a fresh bath', () => {
    const late = { trouble: 'too-light', stands: true, alkaliIn: true } as const;
    expect(ids(late)).toEqual(['overdye']);
    expect(refused(late)).toContain(REACTIVE_YIELD);
    expect(REACTIVE_YIELD).toContain('60 to 80 %');
    expect(ids({ ...late, alkaliIn: false })).toContain('addition');
  });

  it('adds two times at most, and for one hue', () => {
    const light = { dyeClass: 'direct', trouble: 'too-light', stands: true, additionsMade: 2 } as const;
    expect(ids(light)).toEqual(['overdye']);
    expect(refused(light)).toMatch(/2 additions were made/);
    expect(refused({ trouble: 'wrong-hue' })).toContain('two hues');
  });

  it('takes a syntan or a fixer off first', () => {
    const first = (after: ToCorrect['after'], dyeClass: ToCorrect['dyeClass']) =>
      correctionsFor(asked({ after, dyeClass, fibre: 'nylon' })).first.map(({ id }) => id);
    expect(first('syntan', 'acid-milling')).toEqual(['syntan-off']);
    expect(first('cationic', 'direct')).toEqual(['fixer-off']);
    expect(first('none', 'direct')).toEqual([]);
  });

  it('leaves room for 4 to 6 % of dye in all', () => {
    const [over] = correctionsFor(asked({ trouble: 'too-light', depthOwfMilli: 3000 })).ways;
    expect(over?.minds.join(' ')).toContain('up to 1 % more for 4 % in all, 3 % at the very most');
    expect(ids({ trouble: 'too-light', depthOwfMilli: 6000 })).toEqual([]);
  });

  it('offers every class something or says why not, and only strips that are given for the fibre', () => {
    for (const dyeClass of DYE_CLASSES) {
      for (const trouble of TROUBLES) {
        for (const fibre of ['cotton', 'silk', 'nylon', 'acetate', 'acrylic'] as const) {
          const { ways, refused: whyNot } = correctionsFor(asked({ dyeClass, trouble, fibre, stands: true }));
          if (ways.length + whyNot.length === 0) {
            // Too dark, and no stripping bath is given for the fibre: the page says so.
            expect(trouble).toBe('too-dark');
          }
          for (const { strip } of ways)
            if (strip)
              expect(stripHeat(stripMethod(strip), [fibre]), `${dyeClass} ${strip} ${fibre}`).not.toBeNull();
        }
      }
    }
  });
});

import { describe, expect, it } from 'vitest';
import { AUXILIARY_KINDS, type AuxiliaryKind } from '../../../src/dye/auxiliaries.ts';
import { cautionsFor, type Hazards } from '../../../src/dye/cautions.ts';
import { DYE_CLASSES, type DyeClass } from '../../../src/dye/dye-class.ts';

function recipe(dyeClass: DyeClass, temperatureC: number, ...kinds: AuxiliaryKind[]): Hazards {
  const auxiliaries = kinds.map((kind) => ({
    kind,
    name: kind,
    form: 'as-sold',
    per: 'litre' as const,
    mgPerLitre: 1000,
  }));
  return { dyeClass, temperatureC, auxiliaries };
}
const ids = (hazards: Hazards) => cautionsFor(hazards).map(({ id }) => id);

describe('cautions', () => {
  it('are never empty, end with the label and waste water, and name who says so', () => {
    for (const dyeClass of DYE_CLASSES) {
      for (const temperatureC of [5, 60, 100]) {
        for (const kinds of [[], [...AUXILIARY_KINDS]]) {
          const cautions = cautionsFor(recipe(dyeClass, temperatureC, ...kinds));
          expect(cautions.map(({ id }) => id).slice(-2)).toEqual(['label', 'waste-water']);
          expect(new Set(cautions.map(({ id }) => id)).size).toBe(cautions.length);
          for (const { text, authority } of cautions) {
            expect(text.length).toBeGreaterThan(20);
            expect(authority).not.toBe('');
          }
        }
      }
    }
  });

  it('say that label and safety data sheet outrank the page', () => {
    const [label, water] = cautionsFor(recipe('acid-levelling', 98)).slice(-2);
    expect(label?.text).toContain('outrank this page');
    expect(water?.text).toContain('local rules for waste water');
  });

  it('begin with the dust, before the first gram', () => {
    // HSE, Dyes and dyeing: keep exposure to any dye as low as can be.
    expect(ids(recipe('basic', 20))[0]).toBe('dust');
  });

  it('of a cold bath leave out heat', () => {
    expect(ids(recipe('reactive', 25, 'salt'))).toEqual([
      'dust',
      'reactive',
      'respirator',
      'skin',
      'air',
      'vessels',
      'children',
      'weight',
      'splash',
      'label',
      'waste-water',
    ]);
  });

  it('of a hot bath add scalds, mains and flames, and near the boil steam', () => {
    expect(ids(recipe('disperse', 60))).toEqual(expect.arrayContaining(['scald', 'mains', 'flame']));
    expect(ids(recipe('disperse', 60))).not.toContain('steam');
    expect(ids(recipe('disperse', 98))).toContain('steam');
  });

  it.each([
    ['acetic-acid', 'acid'],
    ['sulphuric-acid', 'acid'],
    ['soda-ash', 'alkali'],
    ['caustic-soda', 'caustic'],
    ['hydrosulphite', 'hydrosulphite'],
    ['carrier', 'carrier'],
  ] as const)('of %s tell of %s, and only then', (kind, id) => {
    expect(ids(recipe('disperse', 98, 'dispersant', kind))).toContain(id);
    expect(ids(recipe('disperse', 98, 'dispersant'))).not.toContain(id);
  });

  it('of another chemical are those of its group', () => {
    const lye = { kind: 'other', name: 'lye', form: 'caustic', per: 'litre', mgPerLitre: 1000 } as const;
    const of = (form: string) => ids({ ...recipe('disperse', 98), auxiliaries: [{ ...lye, form }] });
    expect(of('caustic')).toEqual(expect.arrayContaining(['alkali', 'caustic']));
    expect(of('hydros')).toContain('hydrosulphite');
    expect(of('none')).not.toContain('alkali');
  });

  it('of a vat tell of caustic soda and hydrosulphite even where the recipe leaves them out', () => {
    expect(ids(recipe('vat', 60))).toEqual(expect.arrayContaining(['alkali', 'caustic', 'hydrosulphite']));
    expect(ids(recipe('vat', 60))).not.toContain('carrier');
  });

  it('tell of asthma for reactive dye and of benzidine for direct dye alone', () => {
    // HSE TIS5; NIOSH 81-106.
    for (const dyeClass of DYE_CLASSES) {
      expect(ids(recipe(dyeClass, 60)).includes('reactive')).toBe(dyeClass === 'reactive');
      expect(ids(recipe(dyeClass, 60)).includes('old-direct-dye')).toBe(dyeClass === 'direct');
    }
  });
});

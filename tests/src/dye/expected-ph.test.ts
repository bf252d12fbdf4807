import { describe, expect, it } from 'vitest';
import type { Bath, BathLine } from '../../../src/dye/bath.ts';
import { bathPh } from '../../../src/dye/bath-ph.ts';
import { type Dosed, dosedIn, doseFor, expectedPh, wantedPh } from '../../../src/dye/expected-ph.ts';
import { phOfStep } from '../../../src/dye/step-ph.ts';
import type { Water } from '../../../src/dye/water.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import { COMMON_PRACTICE } from '../../../src/quantity/provenance.ts';

const water = (alkalinity: number, pHTenths: number | null = null): Water => ({
  alkalinityTenths: alkalinity * 10,
  hardnessTenths: null,
  pHTenths,
});
const dosed = (kind: Dosed['kind'], gPerLitre: number, form = 'as-sold'): Dosed => ({
  kind,
  form,
  name: kind,
  mgPerLitre: gPerLitre * 1000,
});
const acetic = (g: number) => dosed('acetic-acid', g, 'glacial');
const soda = (g: number) => dosed('soda-ash', g, 'anhydrous');
const wants = (from: number, to: number) => ({ from, to, mark: COMMON_PRACTICE });

// The figures are those of a charge balance from published constants, worked apart from the program; see bath-ph.test.ts.
describe('the pH to expect', () => {
  it('counts a form as the pure substance that it holds', () => {
    // 10 mL/L of vinegar with 5 g in 100 mL is 0.5 g/L of acid; 1 mL/L of 56 % acid is 0.595 g/L.
    expect(expectedPh([dosed('acetic-acid', 10.06, 'vinegar-5')], water(100)).pH).toBeCloseTo(4.24, 1);
    expect(expectedPh([dosed('acetic-acid', 1.0625, '56')], water(200)).pH).toBeCloseTo(4.54, 1);
    const crystals = expectedPh([dosed('soda-ash', 2.6997, 'decahydrate')], water(0)).pH;
    expect(crystals).toBeCloseTo(10.99, 1);
  });

  it('is not told where the alkalinity of the water uses the acid up', () => {
    // 0.05 g/L of acetic acid is 0.83 mmol/L, and 100 mg/L of alkalinity 2.00.
    expect(expectedPh([acetic(0.05)], water(100))).toMatchObject({
      pH: null,
      notes: ['used-up', 'carbon-dioxide'],
    });
    expect(expectedPh([acetic(0.05)], water(0))).toMatchObject({ notes: [] });
  });

  it('tells where carbon dioxide that leaves would take it', () => {
    // 0.25 g/L in 200 mg/L: 5.44 as long as all stays in.
    const { pH, boiledPh, notes } = expectedPh([acetic(0.25)], water(200));
    expect(pH).toBeCloseTo(5.44, 1);
    expect(boiledPh).toBeGreaterThan(pH ?? 0);
    expect(notes).toEqual(['carbon-dioxide']);
    expect(expectedPh([acetic(1)], water(100))).toMatchObject({ boiledPh: null, notes: [] });
  });

  it('of plain water is that of the tap, and turns alkaline in a hot bath', () => {
    const { pH, boiledPh } = expectedPh([], water(150, 78));
    expect(pH).toBeCloseTo(7.8, 1);
    expect(boiledPh).toBeGreaterThan(9);
  });

  it('says of an ammonium salt where it begins, and that it slides', () => {
    expect(expectedPh([dosed('ammonium-sulphate', 1)], water(100))).toMatchObject({
      notes: ['carbon-dioxide', 'ammonium'],
    });
    expect(expectedPh([dosed('ammonium-sulphate', 1)], water(0)).pH).toBeCloseTo(5.59, 1);
  });

  it('says that much salt is beyond the model', () => {
    const bath = [dosed('salt', 50), soda(10)];
    expect(expectedPh(bath, water(0)).notes).toEqual(['salt']);
    expect(expectedPh([dosed('salt', 5), soda(10)], water(0)).notes).toEqual([]);
  });

  it('is lower in the hot bath where it is alkaline, and the same where it is acid', () => {
    const { pH, hotPh } = expectedPh([soda(10)], water(0), 60);
    expect(pH).toBeCloseTo(11.37, 1);
    expect(hotPh).toBeCloseTo(10.77, 1);
    expect(expectedPh([acetic(1)], water(0), 98).hotPh).toBeNull();
  });

  it('gives two figures where the water is not known, and only that of soft water where hard uses the acid up', () => {
    const known = expectedPh([acetic(1)], null);
    expect(known.pH).toBeNull();
    expect(known.between?.[0]).toBeCloseTo(3.27, 1);
    expect(known.between?.[1]).toBeCloseTo(4.46, 1);
    expect(known.notes).toEqual(['water']);
    expect(expectedPh([acetic(0.1)], null).between?.[1]).toBeNull();
  });

  it('is not told where something counts whose strength nobody knows', () => {
    const odd: Dosed = { kind: 'other', form: 'dilute-acid', name: 'wine acid', mgPerLitre: 500 };
    expect(expectedPh([odd, acetic(1)], water(100))).toMatchObject({
      pH: null,
      boiledPh: null,
      notes: ['not-counted'],
      notCounted: ['wine acid'],
    });
    expect(expectedPh([odd], null).between).toBeNull();
    expect(expectedPh([{ ...odd, form: 'none', name: 'softener' }], water(0)).pH).toBeCloseTo(7, 1);
    expect(expectedPh([dosed('hydrosulphite', 2), dosed('caustic-soda', 1)], water(0)).notes).toEqual([
      'hydros',
    ]);
  });
});

describe('the dose that brings a bath to a pH', () => {
  const dose = (from: number, to: number, given: readonly Dosed[], of: Water) =>
    doseFor(wants(from, to), given, of, expectedPh(given, of));

  it('agrees with a closed form for acetic acid: 0.342 g/L to 4.5 in 100 mg/L, 0.442 to 4.0 in 50', () => {
    expect((dose(4.5, 4.5, [acetic(1)], water(100))?.mgPerLitre ?? 0) / 1000).toBeCloseTo(0.342, 1);
    expect((dose(4, 4, [acetic(1)], water(50))?.mgPerLitre ?? 0) / 1000).toBeCloseTo(0.442, 1);
  });

  it('reaches the middle of what is wanted, in the form of the recipe', () => {
    const given = [dosed('acetic-acid', 40, 'vinegar-5'), dosed('levelling-agent', 1)];
    const found = dose(4, 6, given, water(150));
    expect(found).toMatchObject({ kind: 'acetic-acid', form: 'vinegar-5', pH: 5, none: false });
    const pure = ((found?.mgPerLitre ?? 0) * 50) / 1006;
    expect(bathPh({ aceticAcid: pure, alkalinity: 150 })).toBeCloseTo(5, 2);
  });

  it('counts what else is in: with acetate it takes more acid', () => {
    const bare = dose(4.5, 5, [acetic(1)], water(100))?.mgPerLitre ?? 0;
    const buffered = dose(4.5, 5, [acetic(1), dosed('sodium-acetate', 1)], water(100))?.mgPerLitre ?? 0;
    expect(buffered).toBeGreaterThan(bare * 2);
  });

  it('takes vinegar or soda ash where the recipe has neither acid nor alkali', () => {
    expect(dose(4, 5.5, [dosed('dispersant', 1)], water(100))).toMatchObject({ form: 'vinegar-5' });
    expect(dose(10, 11, [dosed('salt', 5)], water(100))).toMatchObject({ kind: 'soda-ash', none: false });
    expect(dose(7, 7.5, [], water(100))).toBeUndefined();
  });

  it('leaves out what is not needed', () => {
    expect(dose(4, 6, [acetic(1), dosed('citric-acid', 2)], water(0))).toMatchObject({
      kind: 'acetic-acid',
      none: true,
      mgPerLitre: 0,
    });
  });

  it('is none where no dose can be worked out: a slide, something unknown, a pH that the alkali does not reach', () => {
    expect(dose(6, 6.5, [dosed('ammonium-sulphate', 1)], water(100))).toBeUndefined();
    const odd: Dosed = { kind: 'other', form: 'soda', name: 'silicate', mgPerLitre: 500 };
    expect(dose(10, 11, [odd], water(100))).toBeUndefined();
    expect(dose(13, 14, [soda(5)], water(0))).toBeUndefined();
  });
});

describe('the pH that is wanted', () => {
  it('is that of the recipe, else of its class on the fibre with most of the cloth', () => {
    const nylon = [
      { fibre: 'elastane', shareBp: 800 },
      { fibre: 'nylon', shareBp: 9200 },
    ] as const;
    const recipe = { dyeClass: 'acid-levelling', method: 'weak acid', marks: {} } as const;
    expect(wantedPh({ ...recipe, pHFrom: 4.5, pHTo: 5 }, nylon)).toMatchObject({
      from: 4.5,
      to: 5,
      mark: { basis: 'own' },
    });
    // Nylon in weak acid, pH 4 to 6: tradetextile.com, archive page 38365.
    expect(wantedPh(recipe, nylon)).toMatchObject({ from: 4, to: 6, mark: { basis: 'published' } });
    expect(wantedPh(recipe, [])).toBeNull();
  });
});

describe('the pH of each step', () => {
  const line = (kind: Dosed['kind'], form: string, gPerLitre: number): BathLine => ({
    part: 'auxiliary',
    name: kind,
    kind,
    form,
    asked: '',
    massMg: gPerLitre * 10_000,
  });
  const bath: Bath = {
    massMg: 500_000,
    volumeUl: 10_000_000,
    freshWaterUl: 10_000_000,
    lines: [line('salt', 'as-sold', 6), line('soda-ash', 'anhydrous', 5)],
  };
  const step = (key: string, kind: WorkStep['kind'], adds: WorkStep['adds'] = []): WorkStep => ({
    key,
    kind,
    title: key,
    says: '',
    minutes: 10,
    fromC: 40,
    toC: 40,
    adds,
    doses: [],
    extra: [],
    mark: COMMON_PRACTICE,
  });
  const third = (part: number) => ({ name: 'salt', part, of: 3 });
  const half = (part: number) => ({ name: 'soda-ash', part, of: 2 });
  const steps: readonly WorkStep[] = [
    {
      ...step('scour', 'prepare'),
      toC: 70,
      doses: [{ kind: 'soda-ash', name: 'soda', mgPerLitre: 2000 }],
    },
    step('set', 'set'),
    step('salt-1', 'add', [third(1)]),
    step('salt-2', 'add', [third(2), third(3)]),
    step('soda-1', 'add', [half(1)]),
    step('soda-2', 'add', [half(2)]),
    step('hold', 'hold'),
    step('rinse', 'rinse'),
  ];
  const at = (key: string) => phOfStep(steps, key, { bath, wants: wants(10, 11), water: water(100) });

  it('wants nothing before the alkali is in, and then what the recipe says', () => {
    for (const key of ['scour', 'set', 'salt-1', 'salt-2', 'soda-1', 'rinse', 'nowhere']) {
      expect(at(key).wants).toBeNull();
    }
    expect(at('soda-2')).toMatchObject({ wants: { from: 10, to: 11 }, moves: true });
    expect(at('hold')).toMatchObject({ wants: { from: 10, to: 11 }, moves: false });
  });

  it('expects what has gone in so far: water, half of the soda, all of it', () => {
    expect(at('set').expected?.pH).toBeCloseTo(7.5, 1);
    expect(at('hold').expected?.pH).toBeGreaterThan(at('soda-1').expected?.pH ?? 14);
    const all = expectedPh(dosedIn(bath), water(100)).pH;
    expect(at('hold').expected?.pH).toBe(all);
    // Soda ash 5 g/L in 100 mg/L is 11.06 without salt.
    expect(Math.abs((all ?? 0) - 11.06)).toBeLessThan(0.1);
  });

  it('expects of a bath beside it what that takes: soda ash 2 g/L, 10.82', () => {
    expect(at('scour').expected?.pH).toBeCloseTo(10.82, 1);
    expect(at('rinse').expected).toBeNull();
  });

  it('wants it from the first step where nothing moves the pH', () => {
    const neutral = { ...bath, lines: [] };
    expect(phOfStep(steps, 'set', { bath: neutral, wants: wants(6, 7), water: null }).wants).toEqual(
      wants(6, 7),
    );
  });
});

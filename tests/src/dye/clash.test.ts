import { describe, expect, it } from 'vitest';
import {
  AUXILIARIES,
  AUXILIARY_KINDS,
  type AuxiliaryForm,
  groupsOf,
  hazardsOf,
} from '../../../src/dye/auxiliaries.ts';
import { chemicalsOf, vesselAsChemical } from '../../../src/dye/bath-chemicals.ts';
import { type Chemical, GROUP_CHOICES, groupToldBy } from '../../../src/dye/chemical-group.ts';
import {
  clashesBetween,
  clashesIn,
  isRefused,
  leftAfterRinses,
  sayBetween,
  sayClash,
} from '../../../src/dye/clash.ts';
import { CLASHES } from '../../../src/dye/clash-table.ts';

const CHEMICALS = {
  glacial: { name: 'glacial acetic acid', groups: groupsOf('acetic-acid', 'glacial') ?? [] },
  formic: { name: 'formic acid', groups: groupsOf('formic-acid') ?? [] },
  sulphuric: { name: 'sulphuric acid', groups: groupsOf('sulphuric-acid') ?? [] },
  vinegar: { name: 'vinegar', groups: groupsOf('acetic-acid', 'vinegar-5') ?? [] },
  citric: { name: 'citric acid', groups: groupsOf('citric-acid') ?? [] },
  ammonium: { name: 'ammonium sulphate', groups: groupsOf('ammonium-sulphate') ?? [] },
  urea: { name: 'urea', groups: groupsOf('other', 'amine') ?? [] },
  fixer: { name: 'fixing agent', groups: groupsOf('fixer') ?? [] },
  leveller: { name: 'levelling agent', groups: groupsOf('levelling-agent') ?? [] },
  caustic: { name: 'caustic soda', groups: groupsOf('caustic-soda') ?? [] },
  soda: { name: 'soda ash', groups: groupsOf('soda-ash', 'decahydrate') ?? [] },
  hydros: { name: 'hydrosulphite', groups: groupsOf('hydrosulphite') ?? [] },
  thiourea: { name: 'thiourea dioxide', groups: groupsOf('other', 'thiourea-dioxide') ?? [] },
  bisulphite: { name: 'bisulphite', groups: groupsOf('other', 'bisulphite') ?? [] },
  bleach: { name: 'chlorine bleach', groups: groupsOf('other', 'hypochlorite') ?? [] },
  peroxide: { name: 'peroxide', groups: groupsOf('other', 'peroxide') ?? [] },
  permanganate: { name: 'permanganate', groups: groupsOf('other', 'permanganate') ?? [] },
  chlorite: { name: 'chlorite', groups: groupsOf('other', 'chlorite') ?? [] },
  dichromate: { name: 'dichromate', groups: groupsOf('other', 'dichromate') ?? [] },
  carrier: { name: 'carrier', groups: groupsOf('carrier') ?? [] },
  sulphide: { name: 'sulphide', groups: groupsOf('other', 'sulphide') ?? [] },
  salt: { name: 'salt', groups: groupsOf('salt') ?? [] },
  reactive: { name: 'reactive dye', groups: ['anionic', 'reactive-dye'] },
  aluminium: vesselAsChemical('aluminium'),
  copper: vesselAsChemical('copper'),
  steel: vesselAsChemical('stainless steel'),
  plastic: vesselAsChemical('plastic'),
} satisfies Record<string, Chemical>;

type Name = keyof typeof CHEMICALS;
const NAMES = Object.keys(CHEMICALS) as Name[];
const ACIDS: readonly Name[] = ['glacial', 'formic', 'sulphuric', 'vinegar', 'citric'];
const STRONG: readonly Name[] = ['glacial', 'formic', 'sulphuric'];
const WEAK: readonly Name[] = ['vinegar', 'citric'];
const REST = (name: Name): readonly Name[] => NAMES.filter((each) => each !== name);

/** Every pair that a source speaks of, as it says what to do; all others may meet. */
const TRUTH: readonly (readonly [one: Name, others: readonly Name[], action: string, source: string])[] = [
  ['hydros', ACIDS, 'refuse', 'ICSC 1717'],
  ['hydros', ['bleach'], 'refuse', 'Chlorine Institute chart'],
  ['hydros', ['peroxide'], 'baths in order', 'HSE, Dyes and dyeing: vat oxidation, rinse first'],
  ['thiourea', ACIDS, 'refuse', 'UK P&I Club 337, 437'],
  ['thiourea', ['bleach', 'peroxide', 'carrier'], 'refuse', 'UK P&I Club 337, 437: oxidiser, organics'],
  ['bisulphite', ACIDS, 'refuse', 'CDC MMWR, 18 March 1982'],
  ['bleach', ACIDS, 'refuse', 'ICSC 0482; Chlorine Institute chart'],
  ['bleach', ['ammonium', 'fixer'], 'refuse', 'Chlorine Institute chart'],
  ['bleach', ['urea'], 'refuse', 'from memory'],
  ['bleach', ['peroxide'], 'refuse', 'Chlorine Institute chart'],
  ['bleach', ['carrier'], 'refuse', 'Chlorine Institute chart'],
  ['bleach', ['aluminium', 'copper', 'steel'], 'warn', 'Chlorine Institute chart'],
  ['bleach', ['bisulphite'], 'baths in order', 'Chlorine Institute chart; ICSC 0482: antichlor'],
  ['peroxide', ['caustic'], 'order', 'chemicaldictionary.org 3325'],
  ['peroxide', ['aluminium', 'copper'], 'refuse', 'chemicaldictionary.org 3325; controlling bleaching'],
  ['peroxide', ['steel'], 'warn', 'controlling bleaching: fittings'],
  ['peroxide', ['glacial'], 'refuse', 'from memory: as concentrates'],
  ['permanganate', [...ACIDS, 'carrier'], 'never', 'permanganate safety'],
  ['permanganate', ['hydros', 'thiourea', 'bisulphite'], 'never', 'permanganate safety: reducers'],
  ['chlorite', REST('chlorite'), 'never', 'New Jersey Department of Health 1689: no workroom method'],
  ['dichromate', REST('dichromate'), 'never', 'from memory: carcinogen'],
  ['caustic', STRONG, 'refuse', 'base reactivity group'],
  ['caustic', WEAK, 'baths in order', 'base reactivity group: dilute neutralising'],
  ['caustic', ['aluminium', 'ammonium'], 'refuse', 'base reactivity group'],
  ['soda', ['aluminium'], 'refuse', 'from memory'],
  ['soda', ['ammonium'], 'refuse', 'base reactivity group'],
  ['soda', ACIDS, 'warn', 'worked out: foam'],
  ['formic', ['sulphuric'], 'never', 'from memory: carbon monoxide'],
  ['sulphide', ACIDS, 'never', 'from memory: hydrogen sulphide'],
  ['leveller', ['fixer'], 'baths in order', 'Shore, Blends Dyeing, section 4.3'],
  ['reactive', ['fixer'], 'baths in order', 'Shore, Blends Dyeing, section 4.3'],
  ['reactive', ['caustic', 'soda'], 'order', 'fibres2fabrics, March 2011'],
];

const PAIRS = NAMES.flatMap((one, at) => NAMES.slice(at + 1).map((other) => [one, other] as const));

function expected(one: Name, other: Name): string {
  const rows = TRUTH.filter(
    ([a, others]) => (a === one && others.includes(other)) || (a === other && others.includes(one)),
  );
  const actions = rows.map(([, , action]) => action);
  return actions.includes('never') ? 'never' : (actions[0] ?? 'may meet');
}

describe('chemicals in one bath', () => {
  it.each(PAIRS)('%s with %s', (one, other) => {
    const found = clashesIn([CHEMICALS[one], CHEMICALS[other]]).filter(
      (each) => each.other !== null || each.clash.action === 'never',
    );
    expect(found[0]?.clash.action ?? 'may meet').toBe(expected(one, other));
  });

  it('are looked up all, the worst first, the vessel too', () => {
    const { hydros, vinegar, soda, aluminium } = CHEMICALS;
    const found = clashesIn([soda, vinegar, hydros, aluminium]);
    expect(found.map(({ clash }) => clash.id)).toEqual([
      'hydros-acid',
      'alkali-aluminium',
      'hydros-damp',
      'soda-acid',
    ]);
    expect(found.filter(isRefused)).toHaveLength(2);
    expect(found[0] && sayClash(found[0])).toBe(
      'Hydrosulphite with vinegar gives sulphur dioxide, a gas that harms the lungs. Use one of them alone, or drain and rinse three times between the two baths. Store hydrosulphite away from acids.',
    );
  });

  it.each([
    ['hydros', 'order', 'International Chemical Safety Card 1717'],
    ['thiourea', 'warn', 'UK P&I Club'],
    ['bleach', 'warn', 'MIT 21M.735'],
    ['caustic', 'order', 'New South Wales'],
    ['glacial', 'order', 'CAMEO'],
    ['formic', 'order', 'CAMEO'],
    ['vinegar', undefined, ''],
  ] as const)('%s alone', (name, action, source) => {
    const [found] = clashesIn([CHEMICALS[name]]);
    expect(found?.clash.action).toBe(action);
    expect(found?.clash.mark.source ?? '').toContain(source);
  });

  it('have a source and say what to do instead, each rule of a name of its own', () => {
    expect(new Set(CLASHES.map(({ id }) => id)).size).toBe(CLASHES.length);
    for (const { harm, instead, mark } of CLASHES) {
      expect(harm).not.toBe('');
      expect(instead).toMatch(/\.$/);
      expect(mark.source).not.toBe('');
    }
  });
});

describe('baths after each other and drains', () => {
  it.each(PAIRS)('%s, then %s', (one, other) => {
    const action = expected(one, other);
    // What is in no bath of a workroom is refused there, before any bath after it.
    if (one === 'chlorite' || one === 'dichromate' || other === 'chlorite' || other === 'dichromate') return;
    const apart = ['refuse', 'never', 'baths in order'].includes(action);
    for (const [a, b] of [
      [one, other],
      [other, one],
    ] as const) {
      const found = clashesBetween([CHEMICALS[a]], [CHEMICALS[b]]);
      expect(found.some(isRefused)).toBe(apart);
      expect(found.length > 0).toBe(apart || action === 'warn');
    }
  });

  it('ask for a drain, three rinses and the test that shows what is left', () => {
    const { hydros, vinegar, peroxide, soda } = CHEMICALS;
    expect(sayBetween(clashesBetween([vinegar], [hydros]))).toMatch(
      /^Drain, and rinse 3 times .*pH paper.*0\.08 % is left.*sulphur dioxide/,
    );
    expect(sayBetween(clashesBetween([hydros], [peroxide]))).toContain('starch-iodide');
    expect(sayBetween(clashesBetween([soda], [vinegar]))).toBe(
      'Rinse the soda out first; acid slowly and in parts. Otherwise soda ash with vinegar gives carbon dioxide, so that the bath foams over, and leaves neither acid nor alkali.',
    );
    expect(sayBetween(clashesBetween([vinegar], [vinegar]))).toBe('');
  });

  it('are rinsed to 9.1, 0.83 and 0.075 % by 20 L on 2 L', () => {
    expect(leftAfterRinses(2, 20, 1)).toBeCloseTo(0.091, 3);
    expect(leftAfterRinses(2, 20, 2)).toBeCloseTo(0.0083, 4);
    expect(leftAfterRinses(2, 20, 3)).toBeCloseTo(0.00075, 5);
    expect(() => leftAfterRinses(0, 0, 1)).toThrow(RangeError);
  });
});

describe('the groups', () => {
  it('are said of every auxiliary in every form but the other one that nobody said it of', () => {
    const unsaid = AUXILIARIES.flatMap(({ kind, forms }) =>
      forms.filter(({ groups }) => groups === null).map(({ code }) => `${kind}/${code}`),
    );
    expect(AUXILIARIES.map(({ kind }) => kind)).toEqual(AUXILIARY_KINDS);
    expect(unsaid).toEqual(['other/as-sold']);
    // Fails the types where a form may leave its groups out.
    const mayLeaveOut: Omit<AuxiliaryForm, 'groups'> extends AuxiliaryForm ? true : false = false;
    expect(mayLeaveOut).toBe(false);
  });

  it('are asked of another chemical, and bring its cautions with them', () => {
    for (const { code, groups } of GROUP_CHOICES) expect(groupsOf('other', code)).toEqual(groups);
    expect(hazardsOf('other', 'caustic')).toEqual(['alkali', 'caustic']);
    expect(hazardsOf('other', 'none')).toEqual([]);
  });

  it.each([
    ['Sodium percarbonate', 'peroxide'],
    ['White vinegar', 'dilute-acid'],
    ['Household bleach', 'hypochlorite'],
    ['Hydros', 'hydros'],
    ['Washing soda', 'soda'],
    ['Lye', 'caustic'],
    ['Ammonia', 'ammonium'],
    ['Sodium metabisulphite', 'bisulphite'],
    ['Methylated spirit', 'solvent'],
    ['Defoamer', undefined],
  ])('are told by a name: %s', (name, code) => {
    expect(groupToldBy(name)?.code).toBe(code);
  });

  it('of a vat count its caustic soda and hydrosulphite though no recipe lists them', () => {
    const vinegar = {
      kind: 'acetic-acid',
      name: 'vinegar',
      form: 'vinegar-5',
      per: 'litre',
      mgPerLitre: 1,
    } as const;
    const found = clashesIn(
      chemicalsOf({ dyeClass: 'vat', auxiliaries: [vinegar], liquorRatioMilli: 20_000 }),
    );
    expect(found.filter(isRefused).map(({ clash }) => clash.id)).toEqual([
      'hydros-acid',
      'caustic-dilute-acid',
    ]);
  });

  it('of a dose are those of the pure substance', () => {
    const [crystals, owf] = chemicalsOf({
      dyeClass: 'direct',
      auxiliaries: [
        { kind: 'soda-ash', name: 'soda', form: 'decahydrate', per: 'litre', mgPerLitre: 2699.7 },
        { kind: 'soda-ash', name: 'soda', form: 'anhydrous', per: 'cloth', owfMilli: 2000 },
      ],
      liquorRatioMilli: 20_000,
    });
    expect(crystals?.mgPerLitre).toBeCloseTo(1000, 0);
    // 2 % of a kilogram is 20 g in 20 L.
    expect(owf?.mgPerLitre).toBe(1000);
  });
});

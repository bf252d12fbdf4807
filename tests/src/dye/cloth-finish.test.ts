import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CLOTH_STATES,
  type ClothState,
  clothState,
  FINISHES,
  finishesFor,
  NYLON_TYPES,
  stateTogether,
  stateToldBy,
  wordsOfState,
} from '../../../src/dye/cloth-finish.ts';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';

const all = (fibre: FibreCode): Content => [{ fibre, shareBp: 10_000 }];
function scour(fibre: FibreCode, state: ClothState) {
  const made = starterRecipe(all(fibre), fibre === 'cotton' ? 'reactive' : 'acid-levelling', [
    { name: 'Fern', owfMilli: 1000 },
  ]);
  const [first] = made ? orderOfWork(made, all(fibre), state) : [];
  if (!first) throw new Error('no scour');
  return first;
}

describe('the words of a supplier', () => {
  it.each<[string, ClothState]>([
    ['Stiffened, flame retardant', { finishes: ['flame-retardant'] }],
    ['FR, PFD', { finishes: ['flame-retardant'], state: 'prepared' }],
    ['water repellent', { finishes: ['water-repellent'] }],
    ['permanent parchment finish', { finishes: ['parchment'] }],
    ['starched', { finishes: ['starched'] }],
    ['unstarched cotton', {}],
    ['greige', { state: 'greige' }],
    ['heat set, nylon 6.6', { state: 'heat-set', nylon: '66' }],
    ['PA 66', { nylon: '66' }],
    ['nylon 6', { nylon: '6' }],
    ['PA6', { nylon: '6' }],
    ['crisp', {}],
    ['nylon 612 mesh', {}],
    ['', {}],
  ])('%j tell %j', (words, told) => {
    expect(stateToldBy(words)).toEqual(told);
  });

  it('add to what was chosen, and never go before it', () => {
    expect(
      clothState({ state: 'prepared', nylon: '6', finishes: ['starched'] }, 'greige, FR, nylon 66'),
    ).toEqual({
      state: 'prepared',
      nylon: '6',
      finishes: ['starched', 'flame-retardant'],
    });
  });

  it('come back from a list as they went out', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('', ...CLOTH_STATES),
        fc.constantFrom('', ...NYLON_TYPES),
        fc.subarray([...FINISHES]),
        fc.constantFrom('', 'crisp', 'flame retardant', 'soft, greige'),
        (state, nylon, finishes, words) => {
          const chosen: ClothState = { state, nylon, finishes };
          const read = clothState({}, wordsOfState(chosen, words));
          const wanted = clothState(chosen, words);
          // A state that was chosen against the words cannot be told by the words alone.
          if (state !== '' && stateToldBy(words).state !== undefined) return;
          expect({ ...read, finishes: [...(read.finishes ?? [])].sort() }).toEqual({
            ...wanted,
            finishes: [...(wanted.finishes ?? [])].sort(),
          });
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe('a finish', () => {
  // MIT 21M.735, note on flame retarding: ammonium salts are washed out. Anew: common practice.
  it.each<[string, FibreCode, ClothState, RegExp]>([
    [
      'flame-retardant',
      'cotton',
      { finishes: ['flame-retardant'] },
      /flame proofing is lost.*done anew by whoever answers for it/,
    ],
    [
      'water-repellent',
      'cotton',
      { finishes: ['water-repellent'] },
      /keeps dye out.*drop of water sinks in within 5 seconds/,
    ],
    ['parchment', 'cotton', { finishes: ['parchment'] }, /stays through scour and dye bath/],
    ['starched', 'cotton', { finishes: ['starched'] }, /wash out in the scour, and with them the stiffness/],
    ['greige', 'cotton', { state: 'greige' }, /scour it twice, and weigh it dry again/],
    ['silk organza', 'silk', { construction: 'organza' }, /15 to 25 % of its mass, and it goes limp/],
  ])('%s is told before the scour with what is lost', (_, fibre, state, says) => {
    expect(scour(fibre, state).says).toMatch(/Before you begin: /);
    expect(scour(fibre, state).says).toMatch(says);
  });

  it('that is none is not told of', () => {
    expect(scour('cotton', {}).says).not.toContain('Before you begin');
    expect(finishesFor({}, all('cotton'))).toEqual([]);
  });

  it('of prepared cloth leaves wetting out, without soda, and of silk organza no heat', () => {
    expect(scour('cotton', { state: 'prepared' })).toMatchObject({ toC: 40, minutes: 15 });
    expect(scour('cotton', { state: 'prepared' }).doses.map(({ kind }) => kind)).toEqual(['detergent']);
    expect(scour('silk', { construction: 'silk organza' }).toC).toBeLessThanOrEqual(30);
    expect(scour('cotton', { state: 'greige' }).toC).toBe(90);
  });

  it('of nylon asks whether it is 6 or 66, and tells what that does', () => {
    const told = (nylon: '' | '6' | '66') =>
      finishesFor({ nylon }, all('nylon')).find(({ id }) => id === 'nylon-type')?.text;
    expect(told('')).toMatch(/Ask whether the nylon is 6 or 66/);
    expect(told('6')).toMatch(/faster and deeper/);
    expect(told('66')).toMatch(/more slowly/);
    expect(finishesFor({ nylon: '' }, all('cotton'))).toEqual([]);
  });

  it('of any cloth in the bath counts, and greige before all', () => {
    expect(
      stateTogether([
        { state: 'prepared', finishes: ['starched'], nylon: '6', construction: 'net' },
        { state: 'greige', finishes: ['flame-retardant'], nylon: '6', construction: 'tulle' },
      ]),
    ).toEqual({
      state: 'greige',
      finishes: ['flame-retardant', 'starched'],
      nylon: '6',
      construction: 'net, tulle',
    });
    expect(stateTogether([{ state: 'prepared' }, {}]).state).toBe('');
    expect(stateTogether([{ nylon: '6' }, { nylon: '66' }]).nylon).toBe('');
    expect(stateTogether([])).toMatchObject({ state: '', finishes: [] });
  });
});

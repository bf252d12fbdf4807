import { describe, expect, it } from 'vitest';
import { suppliesWanted } from '../../../src/supply/wanted.ts';

const steel = { name: 'Steel', measure: 'length' } as const;
const eyelets = { name: 'Eyelets', measure: 'count' } as const;
const whole = (ticks: number) => ({ ticks, pieces: 1 });
const want = (what: string, ticks: number | null, count: number | null, garment = 'G1') => ({
  what,
  ticks,
  lengths: ticks === null ? [] : [{ ticks, pieces: 1 }],
  count,
  garment,
});

describe('what garments want of the supplies', () => {
  it('is added up by name and measure', () => {
    const things = [
      want('eyelets ', null, 24),
      want('Steel', 900, null),
      want('Steel', 300, null, 'G2'),
      want('Steel', null, 2),
      want('Tape', 50, null),
    ];
    expect(suppliesWanted(things, [eyelets, steel], () => 0)).toEqual([
      { supply: eyelets, amount: 24, lengths: [], garments: ['G1'] },
      { supply: steel, amount: 1_200, lengths: [whole(900), whole(300)], garments: ['G1', 'G2'] },
    ]);
  });

  it('is less what was used or is held for that garment, and nothing once it has all', () => {
    const things = [want('Steel', 900, null), want('Steel', 300, null, 'G2')];
    const provided = (_: unknown, garment: string) => (garment === 'G1' ? 950 : 100);
    expect(suppliesWanted(things, [steel], provided)).toEqual([
      { supply: steel, amount: 200, lengths: [whole(200)], garments: ['G2'] },
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { suppliesWanted } from '../../../src/supply/wanted.ts';

const steel = { name: 'Steel', measure: 'length', onHand: 1_000 } as const;
const eyelets = { name: 'Eyelets', measure: 'count', onHand: 30 } as const;
const want = (what: string, ticks: number | null, count: number | null, garment = 'G1') => ({
  what,
  ticks,
  count,
  garment,
});

describe('what garments want of the supplies', () => {
  it('is added up by name and measure, what is short first', () => {
    const things = [
      want('eyelets ', null, 24),
      want('Steel', 900, null),
      want('Steel', 300, null, 'G2'),
      want('Steel', null, 2),
      want('Tape', 50, null),
    ];
    expect(suppliesWanted(things, [eyelets, steel], () => 0)).toEqual([
      { supply: steel, amount: 1_200, shortBy: 200, garments: ['G1', 'G2'] },
      { supply: eyelets, amount: 24, shortBy: 0, garments: ['G1'] },
    ]);
  });

  it('is less what was used for that garment, and nothing once all was used', () => {
    const things = [want('Steel', 900, null), want('Steel', 300, null, 'G2')];
    const used = (_: unknown, garment: string) => (garment === 'G1' ? 950 : 100);
    expect(suppliesWanted(things, [steel], used)).toEqual([
      { supply: steel, amount: 200, shortBy: 0, garments: ['G2'] },
    ]);
  });
});

import { expect, it } from 'vitest';
import { supplyCalls } from '../../../src/supply/short.ts';

const supply = (id: number, free: number) => ({ id, free });
const [soda, hooks, thread] = [supply(1, 100), supply(2, 30), supply(3, 5)];

it('batches and garments are added up once against what is free, and what is on order is got already', () => {
  const needs = [
    { supply: soda, amount: 80, batches: ['D1'] },
    { supply: thread, amount: 4, batches: ['D2'] },
  ];
  const wanted = [
    { supply: soda, amount: 40, garments: ['G1'] },
    { supply: hooks, amount: 90, garments: ['G1', 'G2'] },
  ];
  const calls = supplyCalls(needs, wanted, ({ id }) => (id === 1 ? 50 : 25));
  // 80 and 40 of 100 free are 20 short, which the 50 on order bring; 90 of 30 are 60 short, 35 of them not on order.
  expect(calls.map(({ supply: { id }, shortBy, toGet }) => [id, shortBy, toGet])).toEqual([
    [2, 60, 35],
    [1, 20, 0],
    [3, 0, 0],
  ]);
  expect(calls[1]).toMatchObject({ forBatches: 80, batches: ['D1'], forGarments: 40, garments: ['G1'] });
});

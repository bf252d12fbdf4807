import { expect, it } from 'vitest';
import { supplyCalls } from '../../../src/supply/short.ts';

const supply = (id: number, free: number) => ({ id, free, freeLengths: null });
const [garments, lengths] = [['G1'], []];
const [soda, hooks, thread] = [supply(1, 100), supply(2, 30), supply(3, 5)];

it('batches and garments are added up once against what is free, and what is on order is got already', () => {
  const needs = [
    { supply: soda, amount: 80, batches: ['D1'] },
    { supply: thread, amount: 4, batches: ['D2'] },
  ];
  const wanted = [
    { supply: soda, amount: 40, garments, lengths },
    { supply: hooks, amount: 90, garments: ['G1', 'G2'], lengths },
  ];
  const calls = supplyCalls(needs, wanted, ({ id }) => ({ amount: id === 1 ? 50 : 25, lengths: [] }));
  // 80 and 40 of 100 free are 20 short, which the 50 on order bring; 90 of 30 are 60 short, 35 of them not on order.
  expect(calls.map(({ supply: { id }, shortBy, toGet }) => [id, shortBy, toGet])).toEqual([
    [2, 60, 35],
    [1, 20, 0],
    [3, 0, 0],
  ]);
  expect(calls[1]).toMatchObject({ forBatches: 80, batches: ['D1'], forGarments: 40, garments: ['G1'] });
});

it('what is kept by single lengths is short where no length is long enough, and got by what is on order', () => {
  const elastic = { id: 4, free: 60, freeLengths: [31, 29] };
  const whole = (ticks: number) => ({ ticks, pieces: 1 });
  const wanted = [{ supply: elastic, amount: 70, garments, lengths: [whole(42), whole(28)] }];
  const call = (lengths: number[]) =>
    supplyCalls([], wanted, () => ({ amount: lengths.reduce((sum, each) => sum + each, 0), lengths }))[0];
  // 28 comes off 29; 42 is in neither, though 60 are free.
  expect(call([])).toMatchObject({ shortBy: 42, toGet: 42, lengthsToGet: [whole(42)] });
  expect(call([40, 40])).toMatchObject({ onOrder: 80, toGet: 42 });
  expect(call([50])).toMatchObject({ shortBy: 42, toGet: 0, lengthsToGet: [] });
});

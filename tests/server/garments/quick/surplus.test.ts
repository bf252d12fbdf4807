import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lengthToPrepareTicks } from '../../../../src/dye/bath.ts';
import { perPleat, surplus } from '../../../../src/garment/surplus.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

const ask = (query: string) => house.data(`/garments/quick/surplus?unit=in&${query}`);
const answers = async (query: string) =>
  (await ask(query).expect(200)).body.answers.map(({ answer }: { answer: string }) => answer);

describe('the published sums', () => {
  it('come to the answers that are shown', async () => {
    // Conover, A Complete Course in Dressmaking, vol. 5, 1922: half-width 44; waist 14, hip 20, hem 27½.
    expect(await answers('flat=44&finished=14')).toEqual(['30 in']);
    expect(await answers('flat=44&finished=20')).toEqual(['24 in']);
    expect(await answers('flat=44&finished=27+1/2')).toEqual(['16.5 in']);
    // The same: (24 − 2⅛) ÷ 7 pleats = 3⅛.
    expect(await answers('flat=44&finished=20&kept=2+1/8&pleats=7')).toEqual(['24 in', '3.125 in']);
    // 3 ÷ (1 − 5 %) = 3.158, and not 3.15, which adds 5 % instead.
    expect(await answers('need=3&shrinkage=5')).toEqual(['3.158 in']);
  });

  it('are shown with their sums, and a page without a question has none', async () => {
    const page = await house.page('/garments/quick/surplus?unit=in&flat=44&finished=14').expect(200);
    expect(page.text).toContain('44 in − 14 in');
    expect((await ask('').expect(200)).body.answers).toEqual([]);
  });
});

describe('a question that makes no sense', () => {
  it.each([
    ['flat=14&finished=44', 'flat', 'the finished length or more'],
    ['flat=44', 'finished', 'fill it in too'],
    ['flat=44&finished=40&kept=5&pleats=2', 'kept', 'more than is spare'],
    ['pleats=7', 'flat', 'give it too'],
    ['need=3&shrinkage=80', 'shrinkage', '50 %'],
    ['flat=abc&finished=1', 'flat', 'abc'],
  ])('%s is told at its field', async (query, field, message) => {
    const { body } = await ask(query).expect(422);
    expect(body.error.problems).toContainEqual({ field, message: expect.stringContaining(message) });
  });

  it('throws in the sums themselves', () => {
    expect(() => surplus(1, 2)).toThrow(RangeError);
    expect(() => perPleat(5, 6, 1)).toThrow(RangeError);
    expect(() => perPleat(5, 0, 0)).toThrow(RangeError);
    expect(() => lengthToPrepareTicks(1, 10_000)).toThrow(RangeError);
  });
});

import { describe, expect, it } from 'vitest';
import { type Band, checkBand, checkDepth, cutDepth } from '../../../src/garment/band.ts';
import { countStrips } from '../../../src/garment/strips.ts';
import { inch, m, mm } from '../../lengths.ts';

const good: Band = {
  baseTicks: inch(95),
  fullnessMilli: 3000,
  closing: 'ring',
  seamTicks: inch('1/2'),
  endTicks: 0,
  blocks: [
    { clothId: 1, shadeId: 1, lots: 'one', strips: 1, stripLengthTicks: inch(58), direction: 'across' },
  ],
  finishRepeat: false,
};

function withStrips(strips: number, stripLengthTicks: number): Pick<Band, 'blocks'> {
  return { blocks: [{ clothId: 1, shadeId: 1, lots: 'one', strips, stripLengthTicks, direction: 'across' }] };
}

describe('checking a band', () => {
  it('finds nothing wrong with a good one', () => {
    expect(checkBand(good)).toEqual([]);
  });

  it.each([
    ['base', { baseTicks: 0 }],
    ['base', { baseTicks: -1 }],
    ['base', { baseTicks: 0.5 }],
    ['base', { baseTicks: m(10_000) + 1 }],
    ['fullness', { fullnessMilli: 999 }],
    ['fullness', { fullnessMilli: 20_001 }],
    ['fullness', { fullnessMilli: Number.NaN }],
    ['fullness', { baseTicks: m(9_000), fullnessMilli: 1200 }],
    ['seam', { seamTicks: -1 }],
    ['end', { endTicks: m(101) }],
    ['blocks', { blocks: [] }],
    ['blocks', withStrips(0, inch(58))],
    ['blocks', withStrips(1.5, inch(58))],
    ['length', withStrips(1, inch(1))],
    ['length', withStrips(1, m(101))],
  ] as const)('refuses a wrong %s: %j', (field, wrong) => {
    const band = { ...good, ...wrong };
    expect(checkBand(band).map((problem) => problem.field)).toEqual([field]);
    expect(countStrips(band)).toMatchObject({ ok: false, problems: [{ field }] });
  });

  it('takes a strip that is a tick longer than its two seam allowances', () => {
    expect(checkBand({ ...good, ...withStrips(1, inch(1) + 1) })).toEqual([]);
  });

  it('tells all problems together', () => {
    const band = { ...good, baseTicks: 0, fullnessMilli: 0, seamTicks: -1, blocks: [] };
    expect(checkBand(band).map(({ field }) => field)).toEqual(['base', 'fullness', 'seam', 'blocks']);
  });

  it('refuses a count of more than 10 000 strips', () => {
    const short = { ...good, seamTicks: 0, ...withStrips(1, mm(1)) };
    expect(countStrips({ ...short, baseTicks: m(10), fullnessMilli: 1000 })).toMatchObject({ ok: true });
    expect(countStrips({ ...short, baseTicks: m(10) + 1, fullnessMilli: 1000 })).toMatchObject({
      ok: false,
      problems: [{ field: 'length', message: expect.stringContaining('10 000 strips') }],
    });
  });
});

describe('the depth to cut', () => {
  const parts = { depthTicks: inch(9), headingTicks: 0, hangSeamTicks: inch('1/2'), hemTicks: inch('1/2') };

  it('is the finished depth and its allowances', () => {
    // squaredancesewing.com: an inch is added to a tier's depth, for two seams of ½ in.
    expect(cutDepth(parts)).toBe(inch(10));
    // Conover, Complete Course in Dressmaking (1922), vol. 2: a narrow hem takes 1/16 + 1/8 in.
    expect(cutDepth({ ...parts, hemTicks: inch('1/16') + inch('1/8') })).toBe(inch('9 11/16'));
  });

  it('is refused without a finished depth or with wrong allowances', () => {
    expect(checkDepth(parts)).toEqual([]);
    const wrong = { depthTicks: 0, headingTicks: -1, hangSeamTicks: m(101), hemTicks: Number.NaN };
    expect(checkDepth(wrong).map(({ field }) => field)).toEqual(['depth', 'heading', 'hang seam', 'hem']);
  });
});

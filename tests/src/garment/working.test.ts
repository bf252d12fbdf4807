import { describe, expect, it } from 'vitest';
import type { Band } from '../../../src/garment/band.ts';
import { countStrips } from '../../../src/garment/strips.ts';
import type { WorkingStep } from '../../../src/garment/working.ts';
import { inch, m } from '../../lengths.ts';

const colours = [1, 2, 3, 4].map((shadeId) => ({
  clothId: 1,
  shadeId,
  lots: 'one' as const,
  strips: 1,
  stripLengthTicks: inch(58),
  direction: 'across' as const,
}));

const ring: Band = {
  baseTicks: inch(108),
  fullnessMilli: 3000,
  closing: 'ring',
  seamTicks: inch('1/2'),
  endTicks: 0,
  blocks: colours,
  finishRepeat: true,
};

function steps(band: Band): readonly WorkingStep[] {
  const counted = countStrips(band);
  if (!counted.ok) throw new Error('the band can be counted');
  return counted.count.steps;
}

describe('the working of a count', () => {
  it('goes as a pencil would: 324 in, ÷ 57 in, six strips, eight to finish four colours', () => {
    expect(steps(ring)).toEqual([
      { kind: 'wanted', ofTicks: inch(108), fullnessMilli: 3000, wantedTicks: inch(324) },
      { kind: 'strip', stripLengthTicks: inch(58), seamTicks: inch('1/2'), givesTicks: inch(57) },
      { kind: 'count', toJoinTicks: inch(324), givesTicks: inch(57), strips: 6 },
      { kind: 'finish', leastStrips: 6, repeatStrips: 4, strips: 8 },
      { kind: 'got', flatTicks: inch(456), baseTicks: inch(108), fullnessMilli: 4222 },
    ]);
  });

  it('has no line for a repeat that comes out whole by itself', () => {
    const kinds = steps({ ...ring, blocks: colours.slice(0, 2) }).map(({ kind }) => kind);
    expect(kinds).toEqual(['wanted', 'strip', 'count', 'got']);
  });

  it('adds the two ends of an open band and takes off the seam it does not have', () => {
    expect(steps({ ...ring, closing: 'open', endTicks: inch(2) })).toContainEqual({
      kind: 'ends',
      wantedTicks: inch(324),
      endTicks: inch(2),
      seamTicks: inch('1/2'),
      toJoinTicks: inch(327),
    });
  });

  it('walks the order where strips are unlike', () => {
    const blocks = [m('1.5'), m('1.1')].map((stripLengthTicks, i) => ({
      clothId: i,
      shadeId: i,
      lots: 'one' as const,
      strips: 1,
      stripLengthTicks,
      direction: 'across' as const,
    }));
    const lines = steps({ ...ring, baseTicks: m(3), fullnessMilli: 2000, seamTicks: 0, blocks });
    expect(lines).toContainEqual({
      kind: 'strip',
      stripLengthTicks: m('1.1'),
      seamTicks: 0,
      givesTicks: m('1.1'),
    });
    expect(lines).toContainEqual({
      kind: 'walk',
      toJoinTicks: m(6),
      repeatStrips: 2,
      repeatTicks: m('2.6'),
      strips: 5,
    });
  });
});

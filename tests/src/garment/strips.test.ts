import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Band, ColourBlock } from '../../../src/garment/band.ts';
import { countStrips, type StripCount } from '../../../src/garment/strips.ts';
import { cm, inch, m } from '../../lengths.ts';

function blockOf(shadeId: number, stripLengthTicks: number, strips = 1): ColourBlock {
  return { clothId: 1, shadeId, lots: 'one', strips, stripLengthTicks, direction: 'across' };
}

function ring(baseTicks: number, fullnessMilli: number, stripLengthTicks: number, seamTicks: number): Band {
  const blocks = [blockOf(1, stripLengthTicks)];
  return { baseTicks, fullnessMilli, closing: 'ring', seamTicks, endTicks: 0, blocks, finishRepeat: true };
}

function count(band: Band): StripCount {
  const counted = countStrips(band);
  if (!counted.ok) throw new Error(counted.problems.map(({ message }) => message).join(' '));
  return counted.count;
}

/** Sews N strips in the order of the blocks, edge by edge, and measures the band ×1000. */
function sewn(band: Band, strips: number): bigint {
  const order = band.blocks.flatMap((block) => Array<number>(block.strips).fill(block.stripLengthTicks));
  let ticks = 0n;
  for (let i = 0; i < strips; i += 1) {
    ticks += BigInt(order[((band.offsetStrips ?? 0) + i) % order.length] ?? 0);
    // Every strip but the first is joined to the one before; a ring is closed by one seam more.
    if (i > 0 || band.closing === 'ring') ticks -= 2n * BigInt(band.seamTicks);
  }
  if (band.closing === 'open') ticks -= 2n * BigInt(band.endTicks);
  return ticks * 1000n;
}

function wanted(band: Band): bigint {
  return BigInt(band.baseTicks) * BigInt(band.fullnessMilli);
}

const bands: fc.Arbitrary<Band> = fc
  .record({
    baseTicks: fc.integer({ min: 1, max: 2_000_000 }),
    fullnessMilli: fc.integer({ min: 1000, max: 6000 }),
    closing: fc.constantFrom('ring' as const, 'open' as const),
    seamTicks: fc.integer({ min: 0, max: 5_000 }),
    endTicks: fc.integer({ min: 0, max: 9_000 }),
    offsetStrips: fc.nat(20),
    finishRepeat: fc.boolean(),
    blocks: fc.array(
      fc.record({
        clothId: fc.integer({ min: 1, max: 2 }),
        shadeId: fc.integer({ min: 1, max: 3 }),
        lots: fc.constantFrom('one' as const, 'meet' as const, 'any' as const),
        strips: fc.integer({ min: 1, max: 4 }),
        stripLengthTicks: fc.integer({ min: 20_000, max: 300_000 }),
        direction: fc.constantFrom('across' as const, 'along' as const),
      }),
      { minLength: 1, maxLength: 4 },
    ),
  })
  .filter((band) => band.blocks.every((block) => block.stripLengthTicks > 2 * band.seamTicks));

describe('counting strips of a ring', () => {
  // Baldt, Clothing for Women (1916): total ÷ width of cloth; seams counted one by one. 108 × 3 / 57 = 5.684.
  it('takes six strips of 58 in for 108 in at fullness 3', () => {
    expect(count(ring(inch(108), 3000, inch(58), inch('1/2'))).strips).toBe(6);
  });

  it('takes five for 95 in, where adding a closing allowance first would take six', () => {
    const naive = Math.ceil((95 * 3 + 1) / (58 - 1));
    expect(naive).toBe(6);
    const five = count(ring(inch(95), 3000, inch(58), inch('1/2')));
    expect(five.strips).toBe(5);
    expect(five.flatTicks).toBe(inch(285));
    expect(five.fullnessMilli).toBe(3000);
  });

  it('is not led astray by decimals', () => {
    expect(Math.ceil((0.1 + 0.2) / 0.1)).toBe(4);
    expect(count(ring(cm('0.3'), 1000, cm('0.1'), 0)).strips).toBe(3);
  });

  it('gives the same strips for the same ring in inches and in centimetres', () => {
    expect(count(ring(cm('241.3'), 3000, cm('147.32'), cm('1.27')))).toEqual(
      count(ring(inch(95), 3000, inch(58), inch('1/2'))),
    );
  });
});

describe('counting strips of an open band', () => {
  function open(
    baseTicks: number,
    fullnessMilli: number,
    stripTicks: number,
    seam: number,
    end: number,
  ): Band {
    return { ...ring(baseTicks, fullnessMilli, stripTicks, seam), closing: 'open', endTicks: end };
  }

  it('adds the ends: a ruffle of 220 in at 2.5 with 2 in at each end is 554 in before it is sewn', () => {
    // homeguides.sfgate.com, article 97685: 220 × 2.5 + 4 = 554.
    const ruffle = count(open(inch(220), 2500, inch(54), 0, inch(2)));
    expect(ruffle.toJoinTicks).toBe(inch(554));
    expect(ruffle.strips).toBe(11);
  });

  it('needs one seam less than it has strips', () => {
    // Five strips of 58 in with four seams of 1 in give 286 in: 285 in and half an inch at each end.
    const band = open(inch(95), 3000, inch(58), inch('1/2'), inch('1/2'));
    expect(count(band).strips).toBe(5);
    expect(count(band).flatTicks).toBe(inch(285));
    expect(count({ ...band, endTicks: inch('1/2') + 1 }).strips).toBe(6);
  });

  it('takes one strip where a seam alone would be long enough', () => {
    expect(count(open(cm(1), 1000, cm(20), cm(5), 0))).toMatchObject({ strips: 1, flatTicks: cm(20) });
  });
});

describe('colour blocks', () => {
  const four = [1, 2, 3, 4].map((shadeId) => blockOf(shadeId, inch(58)));

  it('finish the repeat: six strips in four colours become eight, at fullness 4.22', () => {
    // Arithmetic: 8 × 57 / 108 = 4.222…
    const band = { ...ring(inch(108), 3000, inch(58), inch('1/2')), blocks: four };
    const eight = count(band);
    expect(eight).toMatchObject({ strips: 8, leastStrips: 6, fullnessMilli: 4222 });
    expect(eight.perShade.map((shade) => shade.count)).toEqual([2, 2, 2, 2]);
  });

  it('stop where the band is long enough if the repeat is not to be finished', () => {
    const band = { ...ring(inch(108), 3000, inch(58), inch('1/2')), blocks: four, finishRepeat: false };
    const six = count(band);
    expect(six).toMatchObject({ strips: 6, leastStrips: 6, fullnessMilli: 3166 });
    expect(six.perShade.map((shade) => shade.count)).toEqual([2, 2, 1, 1]);
  });

  it('leave out a shade that the order never reaches', () => {
    const band = { ...ring(inch(30), 2000, inch(58), 0), blocks: four, finishRepeat: false };
    expect(count(band).perShade.map(({ shadeId }) => shadeId)).toEqual([1, 2]);
  });

  it('of one shade are counted together, and want one lot if one of them does', () => {
    const blocks = [blockOf(1, m(1), 2), blockOf(2, m(1)), { ...blockOf(1, m(1), 3), lots: 'any' as const }];
    const { perShade } = count({ ...ring(m(6), 1000, m(1), 0), blocks });
    expect(perShade).toEqual([
      { clothId: 1, shadeId: 1, lots: 'one', stripLengthTicks: m(1), direction: 'across', count: 5 },
      { clothId: 1, shadeId: 2, lots: 'one', stripLengthTicks: m(1), direction: 'across', count: 1 },
    ]);
  });

  it('start later by an offset, which changes whose strips there are and never how many', () => {
    const band = { ...ring(inch(108), 3000, inch(58), inch('1/2')), blocks: four, finishRepeat: false };
    // Six strips from the second colour on: 2, 3, 4, 1, 2, 3.
    const later = count({ ...band, offsetStrips: 1 });
    expect(later.strips).toBe(6);
    expect(later.perShade.map(({ shadeId, count: strips }) => [shadeId, strips])).toEqual([
      [1, 1],
      [2, 2],
      [3, 2],
      [4, 1],
    ]);
    expect(count({ ...band, offsetStrips: 4 })).toEqual(count(band));
    // An offset into the middle of a block: A A A B from the third strip on is A B A A A B.
    const blocks = [blockOf(1, inch(58), 3), blockOf(2, inch(58))];
    const inside = count({ ...band, blocks, offsetStrips: 2 });
    expect(inside.perShade.map((shade) => shade.count)).toEqual([4, 2]);
  });

  it('of cloths of different widths are walked in their order', () => {
    // 1.5 m and 1.1 m in turn: 1.5, 2.6, 4.1, 5.2, 6.7 m; 6 m are reached with the fifth strip.
    const blocks = [blockOf(1, m('1.5')), { ...blockOf(2, m('1.1')), clothId: 2 }];
    const band = { ...ring(m(3), 2000, m(1), 0), blocks, finishRepeat: false };
    expect(count(band)).toMatchObject({ strips: 5, flatTicks: m('6.7') });
    expect(count({ ...band, finishRepeat: true })).toMatchObject({ strips: 6, flatTicks: m('7.8') });
  });
});

describe('any count', () => {
  it('has strips enough, and one strip fewer would be too few', () => {
    fc.assert(
      fc.property(bands, (band) => {
        const { leastStrips, strips } = count(band);
        expect(sewn(band, strips) >= wanted(band)).toBe(true);
        expect(sewn(band, leastStrips) >= wanted(band)).toBe(true);
        if (leastStrips > 1) expect(sewn(band, leastStrips - 1) < wanted(band)).toBe(true);
      }),
    );
  });

  it('says what the sewn band measures and how full it is', () => {
    fc.assert(
      fc.property(bands, (band) => {
        const { strips, flatTicks, fullnessMilli } = count(band);
        expect(BigInt(flatTicks) * 1000n).toBe(sewn(band, strips));
        expect(fullnessMilli).toBeGreaterThanOrEqual(band.fullnessMilli);
        const exact = (BigInt(flatTicks) * 1000n) / BigInt(band.baseTicks);
        expect(BigInt(fullnessMilli)).toBe(exact);
      }),
    );
  });

  it('finishes a repeat with less than one repeat more', () => {
    fc.assert(
      fc.property(bands, (band) => {
        const { strips, leastStrips, repeatStrips } = count(band);
        const finished = band.finishRepeat ? strips % repeatStrips : strips - leastStrips;
        expect(finished).toBe(0);
        expect(strips - leastStrips).toBeLessThan(repeatStrips);
        expect(strips).toBeGreaterThanOrEqual(leastStrips);
      }),
    );
  });

  it('adds up over its shades, each as often as the order names it', () => {
    fc.assert(
      fc.property(bands, (band) => {
        const { strips, perShade } = count(band);
        const order = band.blocks.flatMap((block) => Array<ColourBlock>(block.strips).fill(block));
        const from = band.offsetStrips ?? 0;
        const laid = Array.from({ length: strips }, (_, i) => order[(from + i) % order.length]);
        for (const shade of perShade) {
          const same = laid.filter(
            (block) =>
              block?.clothId === shade.clothId &&
              block.shadeId === shade.shadeId &&
              block.stripLengthTicks === shade.stripLengthTicks,
          );
          expect(shade.count).toBe(same.length);
        }
        expect(perShade.reduce((sum, shade) => sum + shade.count, 0)).toBe(strips);
      }),
    );
  });

  it('never falls as fullness or girth rise', () => {
    fc.assert(
      fc.property(bands, fc.nat(3000), fc.nat(500_000), (band, fuller, wider) => {
        const more = {
          ...band,
          fullnessMilli: band.fullnessMilli + fuller,
          baseTicks: band.baseTicks + wider,
        };
        expect(count(more).leastStrips).toBeGreaterThanOrEqual(count(band).leastStrips);
        expect(count(more).strips).toBeGreaterThanOrEqual(count(band).strips);
      }),
    );
  });

  it('does not change when all lengths are scaled alike', () => {
    fc.assert(
      fc.property(bands, fc.integer({ min: 2, max: 40 }), (band, scale) => {
        const larger = {
          ...band,
          baseTicks: band.baseTicks * scale,
          seamTicks: band.seamTicks * scale,
          endTicks: band.endTicks * scale,
          blocks: band.blocks.map((block) => ({
            ...block,
            stripLengthTicks: block.stripLengthTicks * scale,
          })),
        };
        expect(count(larger).strips).toBe(count(band).strips);
        expect(count(larger).fullnessMilli).toBe(count(band).fullnessMilli);
      }),
    );
  });
});

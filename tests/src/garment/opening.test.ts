import { describe, expect, it } from 'vitest';
import type { Band } from '../../../src/garment/band.ts';
import { mouthOf, notPassing, openingsOf } from '../../../src/garment/opening.ts';
import { sewingOf } from '../../../src/garment/sewing.ts';
import { countStrips } from '../../../src/garment/strips.ts';
import { type Tier, workTiers } from '../../../src/garment/tiers.ts';
import { cm } from '../../lengths.ts';

const ORGANZA = 7;
const widths = new Map([[ORGANZA, cm(150)]]);
const girths = [
  { dropTicks: 0, girthTicks: cm(70) },
  { dropTicks: cm(100), girthTicks: cm(300) },
];

function tier(tierId: number, dropCm: number, depthCm: number, parts: Partial<Tier> = {}): Tier {
  return {
    tierId,
    name: `Tier ${tierId}`,
    hangs: { on: 'form', dropTicks: cm(dropCm) },
    ratioTierId: null,
    direction: 'across',
    offsetStrips: 0,
    closing: 'ring',
    fullnessMilli: 2000,
    depthTicks: cm(depthCm),
    headingTicks: 0,
    hangSeamTicks: cm(1),
    hemTicks: cm(1),
    seamTicks: cm(1),
    endTicks: cm(3),
    stripLengthTicks: null,
    blocks: [{ clothId: ORGANZA, shadeId: 1, lots: 'one', strips: 1 }],
    finishRepeat: false,
    ...parts,
  };
}

/**
 * The fewest strips whose edges are both long enough, found by sewing one after another: every edge of a strip lies in a
 * seam but for the two at the opening, which are turned in above and, of a ring below, sewn.
 */
function sewnOneByOne(closing: 'open' | 'partly', endCm: number) {
  const [wantedCm, stripCm, seamCm] = [400, 102, 1];
  for (let strips = 1; ; strips += 1) {
    const edges = 2 * strips;
    const upper = strips * stripCm - (edges - 2) * seamCm - 2 * endCm;
    const lower = closing === 'open' ? upper : strips * stripCm - edges * seamCm;
    if (upper >= wantedCm && lower >= wantedCm) return { strips, upper, lower };
  }
}

describe('an opening of 25 cm', () => {
  // Rule: a tier at drop h, depth d, below an opening P: h ≥ P a ring, h + d ≤ P open, else open for P − h. Geometry.
  it.each([
    [0, 10, 'open', 10],
    [15, 10, 'open', 10],
    [15, 11, 'partly', 10],
    [0, 90, 'partly', 25],
    [25, 10, 'ring', 0],
    [40, 50, 'ring', 0],
  ])('makes of a tier at %i cm, %i deep: %s', (drop, depth, closing, openCm) => {
    const opened = openingsOf(cm(25), [tier(1, drop, depth)]).get(1);
    expect(opened).toMatchObject({ closing, openTicks: cm(openCm), unsewn: false });
  });

  it('goes through ruffles by where they begin, and leaves alone what is said to stay closed or is open itself', () => {
    const edge = tier(2, 0, 10, { hangs: { on: 'edge', tierId: 1 } });
    const face = tier(3, 0, 5, { hangs: { on: 'face', tierId: 1, heightTicks: cm(4) } });
    const found = openingsOf(cm(25), [tier(1, 5, 15), edge, face]);
    expect([...found.values()].map(({ closing, openTicks }) => [closing, openTicks])).toEqual([
      ['open', cm(15)],
      ['partly', cm(5)],
      ['open', cm(5)],
    ]);
    const closed = openingsOf(cm(25), [
      tier(1, 0, 90, { openingWay: 'closed' }),
      tier(2, 0, 90, { closing: 'open' }),
    ]);
    expect(closed.get(1)?.closing).toBe('ring');
    expect(closed.get(2)).toMatchObject({ closing: 'open', openTicks: cm(90) });
  });

  it('turns nothing in where a seam is only left unsewn', () => {
    const net = openingsOf(cm(25), [tier(1, 0, 90, { openingWay: 'unsewn' })]).get(1);
    expect(net).toEqual({ closing: 'partly', openTicks: cm(25), endTicks: 0, unsewn: true });
  });

  it('is none at 0', () => {
    expect(openingsOf(0, [tier(1, 0, 90)]).get(1)?.closing).toBe('ring');
  });
});

describe('strips of a tier that opens', () => {
  const count = (parts: Partial<Band>) => {
    const counted = countStrips({
      baseTicks: cm(200),
      fullnessMilli: 2000,
      closing: 'partly',
      seamTicks: cm(1),
      endTicks: cm(3),
      blocks: [
        { clothId: 1, shadeId: 1, lots: 'one', strips: 1, stripLengthTicks: cm(102), direction: 'across' },
      ],
      finishRepeat: false,
      ...parts,
    });
    if (!counted.ok) throw new Error('it can be counted');
    return counted.count;
  };

  // 4 strips of 102 cm join to 400 cm as a ring, exactly what is wanted; two ends of 3 cm for a seam of 1 cm cost a fifth.
  it.each([
    ['ring', 3, 4],
    ['open', 3, 5],
    ['open', 0, 4],
    ['partly', 3, 5],
    ['partly', 1, 4],
    ['partly', 0, 4],
  ] as const)('%s, %i cm turned in: %i, as sewn one by one', (closing, endCm, strips) => {
    const got = count({ closing, endTicks: cm(endCm) });
    expect(got.strips).toBe(strips);
    if (closing === 'ring') return;
    const sewn = sewnOneByOne(closing, endCm);
    expect(got.strips).toBe(sewn.strips);
    expect(got.flatTicks).toBe(cm(sewn.upper));
    expect(got.lowerTicks).toBe(cm(sewn.lower));
  });

  it('says the ends in its working where they count', () => {
    expect(count({}).steps.map(({ kind }) => kind)).toContain('ends');
    expect(count({ endTicks: 0 }).steps.map(({ kind }) => kind)).not.toContain('ends');
  });

  it('hang a ruffle from the whole ring below, and a band on the open face from the length above', () => {
    const tiers = [
      tier(1, 10, 40),
      tier(2, 0, 10, { hangs: { on: 'edge', tierId: 1 } }),
      tier(3, 0, 5, { hangs: { on: 'face', tierId: 1, heightTicks: cm(30) } }),
      tier(4, 0, 5, { hangs: { on: 'face', tierId: 1, heightTicks: cm(20) } }),
    ];
    const { tiers: worked } = workTiers({ girths, openingTicks: cm(25) }, tiers, widths);
    const [upper, ruffle, above, below] = worked;
    expect(upper).toMatchObject({ closing: 'partly', openTicks: cm(15) });
    expect(ruffle?.baseTicks).toBe(upper?.count.lowerTicks);
    expect(below?.baseTicks).toBe(upper?.count.lowerTicks);
    expect(above?.baseTicks).toBe(upper?.count.flatTicks);
    expect(above?.baseTicks).toBe((below?.baseTicks ?? 0) - 2 * cm(3) + 2 * cm(1));
  });
});

describe('sewing of a ring that is open above', () => {
  const sewn = (parts = {}) =>
    sewingOf({
      closing: 'partly',
      openCutTicks: cm(26),
      baseTicks: cm(100),
      flatTicks: cm(196),
      lowerTicks: cm(200),
      cutDepthTicks: cm(92),
      strips: [{ lengthTicks: cm(102), count: 2 }],
      seamKind: 'plain',
      upperEdge: 'seam',
      lowerEdge: 'narrow',
      hemFirst: false,
      endsTurned: true,
      ...parts,
    });

  it('has as many seams as strips, one of them shorter by what is open, which is hemmed on both sides', () => {
    expect(sewn()).toMatchObject({
      seams: 2,
      seamTicks: cm(2 * 92 - 26),
      hemTicks: cm(200 + 2 * 26),
      gatherTicks: cm(196),
    });
  });

  it('hems nothing where the seam is left unsewn', () => {
    expect(sewn({ endsTurned: false }).hemTicks).toBe(cm(200));
  });
});

describe('what can be got into', () => {
  const ring = { tierId: 1, baseTicks: cm(70), closing: 'ring', openTicks: 0 } as const;
  // The ring itself, and with an opening both its sides: 70 + 2 × 15 = 100 (geometry).
  it('lets through a ring and twice its opening', () => {
    const partly = { ...ring, closing: 'partly', openTicks: cm(15) } as const;
    expect(mouthOf(ring)).toBe(cm(70));
    expect(mouthOf(partly)).toBe(cm(100));
    expect(mouthOf({ ...ring, closing: 'open', openTicks: cm(90) })).toBeNull();
    expect(notPassing([ring, partly], cm(100)).map(({ closing }) => closing)).toEqual(['ring']);
    expect(notPassing([partly], cm(101))).toHaveLength(1);
    expect(notPassing([ring], cm(70))).toEqual([]);
  });
});

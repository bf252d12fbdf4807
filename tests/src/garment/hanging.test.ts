import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { girthAt } from '../../../src/garment/form.ts';
import type { Form } from '../../../src/garment/girth.ts';
import { type Hung, hangingOrder } from '../../../src/garment/hanging.ts';
import {
  fullnessWanted,
  type Tier,
  type Worked,
  type WorkedTier,
  workTiers,
} from '../../../src/garment/tiers.ts';
import { cm, inch, m } from '../../lengths.ts';

const form: Form = {
  girths: [
    { dropTicks: 0, girthTicks: inch(28) },
    { dropTicks: inch(40), girthTicks: inch(120) },
  ],
  foundationEaseTicks: inch(2),
};

const ORGANZA = 7;
const TULLE = 8;
const widths = new Map([
  [ORGANZA, inch(58)],
  [TULLE, inch(54)],
]);

function tier(tierId: number, parts: Partial<Tier> = {}): Tier {
  return {
    tierId,
    name: `Tier ${tierId}`,
    hangs: { on: 'form', dropTicks: inch(20) },
    ratioTierId: null,
    direction: 'across',
    offsetStrips: 0,
    closing: 'ring',
    fullnessMilli: 3000,
    depthTicks: inch(9),
    headingTicks: 0,
    hangSeamTicks: inch('1/2'),
    hemTicks: inch('1/2'),
    seamTicks: inch('1/2'),
    endTicks: 0,
    stripLengthTicks: null,
    blocks: [{ clothId: ORGANZA, shadeId: 1, lots: 'one', strips: 1 }],
    finishRepeat: true,
    ...parts,
  };
}

function work(...tiers: Tier[]): Worked {
  return workTiers(form, tiers, widths);
}

function last(worked: Worked): WorkedTier {
  const found = worked.tiers.at(-1);
  if (!worked.ok || !found) throw new Error(JSON.stringify(worked));
  return found;
}

function problems(worked: Worked): readonly string[] {
  return worked.ok ? [] : worked.problems.map(({ tierId, field }) => `${tierId} ${field}`);
}

describe('a tier on the foundation layer', () => {
  it('is gathered onto the girth there and the ease of the layer', () => {
    const hung = tier(1, { hangs: { on: 'foundation', dropTicks: inch(20) } });
    // 74 in of the cone and 2 in of ease; 76 × 3 = 228 in are exactly four strips of 57 in.
    const found = last(work(hung));
    expect(found).toMatchObject({ baseTicks: inch(76), count: { strips: 4, fullnessMilli: 3000 } });
    expect(last(work(tier(1)))).toMatchObject({ baseTicks: inch(74) });
  });
});

describe('a tier on the face of another', () => {
  const face = (height: number): Partial<Tier> => ({
    hangs: { on: 'face', tierId: 1, heightTicks: inch(height) },
    fullnessMilli: 2000,
  });

  it('is gathered onto its flat length, at whatever height: cloth is as long there as at its edge', () => {
    // 74 × 3 = 222 in are four strips of 57 in: 228 in; twice that is eight.
    for (const height of [1, 4, 8]) {
      expect(last(work(tier(1), tier(2, face(height))))).toMatchObject({
        baseTicks: inch(228),
        count: { strips: 8 },
      });
    }
  });

  it('is refused above its upper edge and below its lower', () => {
    expect(problems(work(tier(1), tier(2, face(9))))).toEqual(['2 height']);
    expect(problems(work(tier(1), tier(2, face(0))))).toEqual(['2 height']);
  });
});

describe('a fullness that is a ratio', () => {
  it('is of the flat length of the other tier, whatever this one is gathered onto', () => {
    const ratio = tier(2, {
      ratioTierId: 1,
      fullnessMilli: 2000,
      hangs: { on: 'form', dropTicks: inch(30) },
    });
    const found = last(work(tier(1), ratio));
    // 228 × 2 = 456 in wanted: exactly eight strips of 57 in, onto a girth of 97 in; 456 ÷ 97 = 4.701.
    expect(found).toMatchObject({ baseTicks: inch(97), ofTicks: inch(228), count: { strips: 8 } });
    expect(found.count.fullnessMilli).toBe(4701);
    expect(fullnessWanted(ratio, found)).toBe(4701);
  });

  // docslides.com, 2014 class: the tiers of a square-dance petticoat are 46, 59, 76, 98, 125, 161, 206 and 264 in
  // long; from 46 to 264 in seven steps is 1.2834 a step (arithmetic).
  it('follows the published square-dance tiers within an inch, each 1.28 of the one above', () => {
    const published = [46, 59, 76, 98, 125, 161, 206, 264];
    const waist = { girths: [0, 1].map((dropTicks) => ({ dropTicks, girthTicks: inch(46) })) };
    const fine = {
      seamTicks: 0,
      stripLengthTicks: inch('1/32'),
      hangs: { on: 'form', dropTicks: 0 },
    } as const;
    const tiers = published.map((_, i) =>
      tier(i + 1, { ...fine, fullnessMilli: i === 0 ? 1000 : 1284, ratioTierId: i === 0 ? null : i }),
    );
    const { tiers: worked } = workTiers(waist, tiers, widths);
    expect(worked).toHaveLength(8);
    worked.forEach(({ count }, i) => {
      expect(Math.abs(count.flatTicks - inch(published[i] ?? 0))).toBeLessThanOrEqual(inch(1));
    });
  });

  // 1907 petticoat, tudorlinks.com: the wide flounce 1⅓ of the skirt, the lower flounce 1½ of the wide one.
  it('follows the published flounces of 1⅓ and 1½ of the flounce above', () => {
    const skirt = { girths: [0, 1].map((dropTicks) => ({ dropTicks, girthTicks: inch(108) })) };
    const strips = { hangs: { on: 'form', dropTicks: 0 }, seamTicks: 0, stripLengthTicks: inch(12) } as const;
    const tiers = [
      tier(1, { ...strips, fullnessMilli: 1000 }),
      tier(2, { ...strips, fullnessMilli: 1333, ratioTierId: 1 }),
      tier(3, { ...strips, fullnessMilli: 1500, ratioTierId: 2 }),
    ];
    const flats = workTiers(skirt, tiers, widths).tiers.map(({ count }) => count.flatTicks);
    expect(flats).toEqual([inch(108), inch(144), inch(216)]);
  });

  it('is refused where it comes to less than what the tier is gathered onto', () => {
    const small = tier(1, {
      hangs: { on: 'form', dropTicks: 0 },
      fullnessMilli: 1000,
      stripLengthTicks: inch(8),
    });
    const wide = tier(2, { ratioTierId: 1, fullnessMilli: 1000, hangs: { on: 'form', dropTicks: inch(40) } });
    expect(problems(work(small, wide))).toEqual(['2 fullness']);
  });

  it('is left out without a problem of its own where the other tier is refused', () => {
    expect(problems(work(tier(1, { fullnessMilli: 1 }), tier(2, { ratioTierId: 1 })))).toEqual([
      '1 fullness',
    ]);
    expect(problems(work(tier(2, { ratioTierId: 9 })))).toEqual(['2 ratio']);
  });
});

describe('strips on the cloth', () => {
  it('along it are as long as was given, and bounded by their depth', () => {
    const along = tier(1, { direction: 'along', stripLengthTicks: inch(120) });
    // 222 in of strips that give 119 in each.
    expect(last(work(along)).count).toMatchObject({ strips: 2 });
    expect(last(work(along)).count.perShade[0]).toMatchObject({
      direction: 'along',
      stripLengthTicks: inch(120),
    });
    expect(problems(work(tier(1, { direction: 'along' })))).toEqual(['1 length']);
    expect(problems(work(tier(1, { ...along, depthTicks: inch(58) })))).toEqual(['1 depth']);
  });

  it('either way may be longer than the width or deeper, and not both', () => {
    const either = { direction: 'either' } as const;
    expect(last(work(tier(1, either))).count.perShade[0]?.stripLengthTicks).toBe(inch(58));
    expect(work(tier(1, { ...either, stripLengthTicks: inch(90) })).ok).toBe(true);
    expect(work(tier(1, { ...either, depthTicks: inch(90) })).ok).toBe(true);
    const both = { ...either, stripLengthTicks: inch(90), depthTicks: inch(90) };
    expect(problems(work(tier(1, both)))).toEqual(['1 length']);
  });

  it('take the width of each block’s own cloth', () => {
    const blocks = [ORGANZA, TULLE].map((clothId) => ({
      clothId,
      shadeId: 1,
      lots: 'one' as const,
      strips: 1,
    }));
    const { perShade } = last(work(tier(1, { blocks }))).count;
    expect(
      perShade.map(({ clothId, stripLengthTicks, count }) => [clothId, stripLengthTicks, count]),
    ).toEqual([
      [ORGANZA, inch(58), 3],
      [TULLE, inch(54), 3],
    ]);
  });
});

describe('the order of hanging', () => {
  it('names a loop that goes by way of a ratio and of a face', () => {
    const worked = work(
      tier(1, { ratioTierId: 3 }),
      tier(2, { hangs: { on: 'edge', tierId: 1 } }),
      tier(3, { hangs: { on: 'face', tierId: 2, heightTicks: inch(2) } }),
    );
    expect(worked).toMatchObject({
      problems: [
        {
          tierId: 1,
          field: 'ratio',
          message:
            'Tier 1 takes its length from Tier 3, which lies on Tier 2, which edges Tier 1: one tier of a loop must hang from the form and be as full as what it is sewn on.',
        },
      ],
      tiers: [],
    });
  });

  it('puts each tier after those that it follows from, and drops only loops and what follows from them', () => {
    const links = fc.record({ on: fc.nat(9), ratio: fc.nat(12) });
    fc.assert(
      fc.property(fc.array(links, { minLength: 1, maxLength: 8 }), (given) => {
        const tiers: Hung[] = given.map(({ on, ratio }, tierId) => ({
          tierId,
          name: `Tier ${tierId}`,
          hangs: on < given.length ? { on: 'edge', tierId: on } : { on: 'form', dropTicks: 0 },
          ratioTierId: ratio < given.length ? ratio : null,
        }));
        const { order, problems: said } = hangingOrder(tiers);
        const follows = ({ hangs, ratioTierId }: Hung) =>
          [hangs.on === 'edge' ? hangs.tierId : null, ratioTierId].filter((id) => id !== null);
        order.forEach((tier, place) => {
          const before = order.slice(0, place).map(({ tierId }) => tierId);
          for (const id of follows(tier)) expect(before).toContain(id);
        });
        expect(said.length > 0).toBe(order.length < tiers.length);
        // Whatever is left out follows from something that is left out too.
        const placed = new Set(order.map(({ tierId }) => tierId));
        for (const tier of tiers.filter(({ tierId }) => !placed.has(tierId))) {
          expect(follows(tier).some((id) => !placed.has(id))).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('of forty tiers in one chain is worked out', () => {
    const chain = Array.from({ length: 40 }, (_, i) =>
      tier(i + 1, { fullnessMilli: 1000, ...(i > 0 ? { hangs: { on: 'edge', tierId: i } as const } : {}) }),
    );
    const worked = work(...chain);
    expect(worked.ok && worked.tiers).toHaveLength(40);
  });
});

describe('a garment entered in inches and in centimetres', () => {
  it('takes identical strips, on hoops and with ratios too', () => {
    // 1 in is 2.54 cm (international yard, 1959): both systems read to the same ticks.
    const skirt = (size: (inches: string) => number): Worked => {
      const hoop = { widthTicks: size('44'), depthTicks: size('36 1/2') };
      const girths = [
        { dropTicks: 0, girthTicks: size('28') },
        { dropTicks: size('40'), girthTicks: size('130'), hoop },
      ];
      const tiers = [
        tier(1, { hangs: { on: 'form', dropTicks: size('12 1/4') }, seamTicks: size('3/8') }),
        tier(2, { hangs: { on: 'form', dropTicks: size('25') }, ratioTierId: 1, fullnessMilli: 1500 }),
      ];
      return workTiers({ girths }, tiers, new Map([[ORGANZA, size('58')]]));
    };
    const inches = skirt((text) => inch(text));
    const centimetres = skirt((text) => cm(String(inch(text) / 1600)));
    expect(centimetres).toEqual(inches);
    expect(inches.tiers.length).toBe(2);
    expect(girthAt(form, m('0.508'))).toEqual(girthAt(form, inch(20)));
  });
});

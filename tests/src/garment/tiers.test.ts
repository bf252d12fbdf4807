import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Tier,
  type Worked,
  type WorkedTier,
  workLoneBand,
  workTiers,
} from '../../../src/garment/tiers.ts';
import { inch, m } from '../../lengths.ts';

const form = {
  girths: [
    { dropTicks: 0, girthTicks: inch(28) },
    { dropTicks: inch(40), girthTicks: inch(120) },
  ],
};

const ORGANZA = 7;
const widths = new Map([[ORGANZA, inch(58)]]);

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

function edging(tierId: number, edged: number, parts: Partial<Tier> = {}): Tier {
  return tier(tierId, { hangs: { on: 'edge', tierId: edged }, ...parts });
}

function only(worked: Worked): WorkedTier {
  const [first] = worked.tiers;
  if (first === undefined) throw new Error('a tier is worked out');
  return first;
}

function problems(worked: Worked): readonly string[] {
  return worked.ok ? [] : worked.problems.map(({ tierId, field }) => `${tierId} ${field}`);
}

describe('a tier that hangs from the form', () => {
  it('is gathered onto the girth at its drop', () => {
    // Round cone: 74 in at half of the slant. 74 × 3 = 222 in, ÷ 57 in = 3.89.
    const found = only(workTiers(form, [tier(1)], widths));
    expect(found).toMatchObject({ tierId: 1, name: 'Tier 1', baseTicks: inch(74), cutDepthTicks: inch(10) });
    expect(found.count.strips).toBe(4);
    expect(found.count.perShade).toEqual([
      {
        clothId: ORGANZA,
        shadeId: 1,
        lots: 'one',
        stripLengthTicks: inch(58),
        direction: 'across',
        count: 4,
      },
    ]);
  });

  it('takes the strip length that was given instead of the usable width', () => {
    const found = only(workTiers(form, [tier(1, { stripLengthTicks: inch(38) })], widths));
    expect(found.count.strips).toBe(6);
    expect(workTiers(form, [tier(1, { stripLengthTicks: inch(58) })], widths).ok).toBe(true);
  });

  it('is refused off the form, on unknown cloth, and with strips longer than the usable width', () => {
    const tiers = [
      tier(1, { hangs: { on: 'form', dropTicks: inch(41) } }),
      tier(2, { blocks: [{ clothId: 8, shadeId: 1, lots: 'one', strips: 1 }] }),
      tier(3, { stripLengthTicks: inch(58) + 1 }),
      tier(4, { fullnessMilli: 999, depthTicks: 0 }),
      tier(5),
    ];
    const worked = workTiers(form, tiers, widths);
    expect(problems(worked)).toEqual(['1 drop', '2 cloth', '3 length', '4 depth', '4 fullness']);
    expect(worked.tiers.map(({ tierId }) => tierId)).toEqual([5]);
  });
});

describe('a tier that edges another', () => {
  it('is gathered onto its flat sewn length', () => {
    const worked = workTiers(form, [tier(1), edging(2, 1, { fullnessMilli: 2000 })], widths);
    const [upper, ruffle] = worked.tiers;
    expect(upper?.count.flatTicks).toBe(4 * inch(57));
    expect(ruffle?.baseTicks).toBe(4 * inch(57));
    expect(ruffle?.count.strips).toBe(8);
  });

  it('of an open band is gathered onto what is left between its ends', () => {
    const open = tier(1, { closing: 'open', endTicks: inch(1) });
    const [band, ruffle] = workTiers(form, [open, edging(2, 1)], widths).tiers;
    // Four strips of 58 in, three seams of 1 in, an inch at each end: 232 − 3 − 2.
    expect(band?.count.flatTicks).toBe(inch(227));
    expect(ruffle?.baseTicks).toBe(inch(227));
  });

  it('follows the published square-dance tiers within an inch', () => {
    // docslides.com, 2014 class: 46, 59, 76, 98, 125, 161, 206, 264 in, each about 1.28 times the one above
    // (264 / 46 over seven steps is 1.2835 a step).
    const published = [46, 59, 76, 98, 125, 161, 206, 264];
    const waist = { girths: [0, 1].map((dropTicks) => ({ dropTicks, girthTicks: inch(46) })) };
    // Strips of 1/32 in without seams keep the rounding to whole strips out of the comparison.
    const fine = { fullnessMilli: 1284, seamTicks: 0, stripLengthTicks: inch('1/32') };
    const top = tier(0, { ...fine, fullnessMilli: 1000, hangs: { on: 'form', dropTicks: 0 } });
    const tiers = [top, ...published.slice(1).map((_, i) => edging(i + 1, i, fine))];
    const { tiers: worked } = workTiers(waist, tiers, widths);
    expect(worked).toHaveLength(8);
    worked.forEach(({ count }, i) => {
      expect(Math.abs(count.flatTicks - inch(published[i] ?? 0))).toBeLessThanOrEqual(inch(1));
    });
  });

  it('follows published flounces of 1⅓ and 1½ of the flounce above', () => {
    // 1907 petticoat, tudorlinks.com: the wide flounce 1⅓ of the skirt, the lower flounce 1½ of the wide one.
    const skirt = { girths: [0, 1].map((dropTicks) => ({ dropTicks, girthTicks: inch(108) })) };
    const hung = { hangs: { on: 'form', dropTicks: 0 }, fullnessMilli: 1333, seamTicks: 0 } as const;
    const strips = { stripLengthTicks: inch(12) };
    const tiers = [
      tier(1, { ...hung, ...strips }),
      edging(2, 1, { ...strips, fullnessMilli: 1500, seamTicks: 0 }),
    ];
    expect(workTiers(skirt, tiers, widths).tiers.map(({ count }) => count.flatTicks)).toEqual([
      inch(144),
      inch(216),
    ]);
  });

  it('may stand before the tier it edges, and the answers keep the order given', () => {
    const tiers = [edging(3, 2), edging(2, 1), tier(1)];
    const worked = workTiers(form, tiers, widths);
    expect(worked.ok).toBe(true);
    expect(worked.tiers.map(({ tierId }) => tierId)).toEqual([3, 2, 1]);
    const sorted = workTiers(form, [...tiers].reverse(), widths);
    expect([...sorted.tiers].reverse()).toEqual(worked.tiers);
  });

  it('is refused where the tier it edges does not exist', () => {
    expect(problems(workTiers(form, [edging(1, 9)], widths))).toEqual(['1 hangs']);
  });

  it('is left out, without a problem of its own, where the tier it edges is refused', () => {
    const worked = workTiers(form, [tier(1, { fullnessMilli: 0 }), edging(2, 1)], widths);
    expect(problems(worked)).toEqual(['1 fullness']);
    expect(worked.tiers).toEqual([]);
  });

  it('is refused when the chain grows past 10 km, not counted wrong', () => {
    const chain = Array.from({ length: 40 }, (_, i) => edging(i + 1, i, { fullnessMilli: 20_000 }));
    const worked = workTiers(form, [tier(0), ...chain], widths);
    expect(problems(worked)).toHaveLength(1);
    for (const { count } of worked.tiers) expect(Number.isSafeInteger(count.flatTicks)).toBe(true);
  });
});

describe('tiers in a loop', () => {
  it('are refused once, the loop named', () => {
    const worked = workTiers(form, [edging(1, 3), edging(2, 1), edging(3, 2), tier(4)], widths);
    expect(worked).toMatchObject({
      ok: false,
      problems: [
        {
          tierId: 1,
          field: 'hangs',
          message:
            'Tier 1 edges Tier 3, which edges Tier 2, which edges Tier 1: one tier of a loop must hang from the form.',
        },
      ],
    });
    expect(worked.tiers.map(({ tierId }) => tierId)).toEqual([4]);
  });

  it('are found for a tier that edges itself and beside others', () => {
    const tiers = [edging(1, 1), edging(2, 3), edging(3, 2), edging(4, 2)];
    expect(problems(workTiers(form, tiers, widths))).toEqual(['1 hangs', '2 hangs']);
  });

  it('never go unnoticed: every tier is worked out, has a problem, or hangs on one that has', () => {
    const hangings = fc.array(fc.nat(8), { minLength: 1, maxLength: 7 });
    fc.assert(
      fc.property(hangings, (edges) => {
        const tiers = edges.map((edge, i) =>
          edge === 8 ? tier(i) : edging(i, edge, { fullnessMilli: 1000 }),
        );
        const worked = workTiers(form, tiers, widths);
        const reaches = (start: number): boolean => {
          let at: number | undefined = start;
          for (let step = 0; step <= edges.length; step += 1) {
            if (at === undefined || edges[at] === undefined) return false;
            if (edges[at] === 8) return true;
            at = edges[at];
          }
          return false;
        };
        const grounded = edges.map((_, i) => i).filter(reaches);
        expect(worked.tiers.map(({ tierId }) => tierId)).toEqual(grounded);
        expect(worked.ok).toBe(grounded.length === edges.length);
      }),
    );
  });
});

describe('a garment', () => {
  it('of two tiers with one id is a fault of the program', () => {
    expect(() => workTiers(form, [tier(1), tier(1)], widths)).toThrow(RangeError);
  });

  it('without tiers has nothing to work out', () => {
    expect(workTiers(form, [], widths)).toEqual({ ok: true, tiers: [] });
  });

  it('can use cloths of different widths in one tier', () => {
    const blocks = [ORGANZA, 8].map((clothId) => ({ clothId, shadeId: 1, lots: 'one' as const, strips: 1 }));
    const both = new Map([...widths, [8, m(3)]]);
    const found = only(workTiers(form, [tier(1, { blocks })], both));
    expect(found.count.perShade.map((shade) => shade.stripLengthTicks)).toEqual([inch(58), m(3)]);
  });
});

describe('a band alone', () => {
  it('is as full of what it is gathered onto as a tier of that girth, wherever it would hang', () => {
    const alone = only(workLoneBand(tier(1, { hangs: { on: 'form', dropTicks: 0 } }), inch(74), inch(58)));
    expect(alone).toEqual(only(workTiers(form, [tier(1)], widths)));
  });
});

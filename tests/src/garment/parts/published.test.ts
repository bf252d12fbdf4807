import { describe, expect, it } from 'vitest';
import { clothLength } from '../../../../src/garment/cloth-length.ts';
import { countStrips } from '../../../../src/garment/strips.ts';
import { type Tier, workTiers } from '../../../../src/garment/tiers.ts';
import { cm, inch, yd } from '../../../lengths.ts';

/** Published builds, each with the page it was read on; sums that a page leaves to its reader are worked out here. */

/** A nail is 2¼ in (The Workwoman's Guide, 1838, p. 14: 4 nails a quarter, 4 quarters a yard). */
const nails = (count: number) => (count * yd(1)) / 16;

const clothOf = (
  sizes: readonly (readonly [depth: number, length: number, count: number])[],
  width: number,
) => {
  const found = clothLength(
    sizes.map(([depthTicks, lengthTicks, count]) => ({
      depthTicks,
      lengthTicks,
      count,
      direction: 'across',
    })),
    width,
  );
  if (!found.ok) throw new Error('it can be cut');
  return found.totalTicks;
};

const tier = (tierId: number, hangs: Tier['hangs'], parts: Partial<Tier> = {}): Tier => ({
  tierId,
  name: `Tier ${tierId}`,
  hangs,
  ratioTierId: null,
  direction: 'across',
  offsetStrips: 0,
  closing: 'ring',
  fullnessMilli: 2000,
  depthTicks: inch(7),
  headingTicks: 0,
  hangSeamTicks: 0,
  hemTicks: 0,
  seamTicks: 0,
  endTicks: 0,
  stripLengthTicks: null,
  blocks: [{ clothId: 1, shadeId: 1, lots: 'one', strips: 1 }],
  finishRepeat: false,
  ...parts,
});

describe('published builds', () => {
  // The Workwoman's Guide, 1838, p. 83: a bustle of 8 nails by a yard is parted into 4½ and 3½ nails.
  it('part a yard of bustle eight nails deep into 10⅛ and 7⅞ in, with nothing left', () => {
    expect([nails(4.5), nails(3.5)]).toEqual([inch('10 1/8'), inch('7 7/8')]);
    expect(
      clothOf(
        [
          [nails(4.5), yd(1), 1],
          [nails(3.5), yd(1), 1],
        ],
        yd(1),
      ),
    ).toBe(inch(18));
  });

  // ehow.co.uk 7376173: a yoke of 48 in and three tiers, each twice the one above; the sum in yards is ours.
  it('double a yoke of 48 in thrice to 96, 192 and 384 in: 18.67 yd of strips', () => {
    const form = { girths: [0, 40].map((drop) => ({ dropTicks: inch(drop), girthTicks: inch(48) })) };
    const { tiers } = workTiers(
      form,
      [
        tier(1, { on: 'form', dropTicks: inch(8) }),
        tier(2, { on: 'edge', tierId: 1 }),
        tier(3, { on: 'edge', tierId: 2 }),
      ],
      new Map([[1, inch(48)]]),
    );
    const flats = tiers.map(({ count }) => count.flatTicks);
    expect(flats).toEqual([inch(96), inch(192), inch(384)]);
    const sum = flats.reduce((total, one) => total + one, 0);
    expect((sum / yd(1)).toFixed(2)).toBe('18.67');
  });

  // livvywoods.blogspot, 2012: 45 panels of 29 × 36 in for a net skirt; the length off 58 in is ours.
  it('take 23 yd of 58 in net for 45 panels of 29 × 36 in', () => {
    expect(clothOf([[inch(36), inch(29), 45]], inch(58))).toBe(yd(23));
  });

  // et-wholesale.com.au: (200 × 2 + 40) ÷ 140 → 4 drops of 240 cm, 9.6 m. The 40 are two sides of 20 cm.
  it('take four drops and 9.6 m for a curtain of 200 cm twice full with 40 cm for its sides', () => {
    const counted = countStrips({
      baseTicks: cm(200),
      fullnessMilli: 2000,
      closing: 'open',
      seamTicks: 0,
      endTicks: cm(20),
      blocks: [
        { clothId: 1, shadeId: 1, lots: 'one', strips: 1, stripLengthTicks: cm(140), direction: 'across' },
      ],
      finishRepeat: false,
    });
    const strips = counted.ok ? counted.count.strips : 0;
    expect(strips).toBe(4);
    expect(clothOf([[cm(240), cm(140), strips]], cm(140))).toBe(cm(960));
  });

  // Goodwin's Course in Sewing, book III: a flounce of 3 yd on a band of 2 yd. The ratio is ours.
  it('make a flounce of 3 yd on a band of 2 yd 1.5 full', () => {
    const form = { girths: [0, 40].map((drop) => ({ dropTicks: inch(drop), girthTicks: yd(2) })) };
    const flounce = tier(
      1,
      { on: 'form', dropTicks: inch(10) },
      { fullnessMilli: 1500, depthTicks: inch(9) },
    );
    const [worked] = workTiers(form, [flounce], new Map([[1, yd(1)]])).tiers;
    expect([worked?.count.flatTicks, worked?.count.fullnessMilli]).toEqual([yd(3), 1500]);
  });
});

import { describe, expect, it } from 'vitest';
import { placeBands, standOff } from '../../../../src/garment/drawing/bands.ts';
import { silhouetteOf } from '../../../../src/garment/drawing/silhouette.ts';
import type { Form } from '../../../../src/garment/girth.ts';
import type { Hanging } from '../../../../src/garment/hanging.ts';
import { cm } from '../../../lengths.ts';

/** A cone of 70 to 300 cm round over a drop of 1 m. */
const CONE: Form = {
  girths: [
    { dropTicks: 0, girthTicks: cm(70) },
    { dropTicks: cm(100), girthTicks: cm(300) },
  ],
};
const cone = silhouetteOf(CONE, 'side');

function tier(tierId: number, hangs: Hanging, fullnessMilli = 2000) {
  return { tierId, name: `Tier ${tierId}`, hangs, ratioTierId: null, depthTicks: cm(20), fullnessMilli };
}

const TIERS = [
  tier(1, { on: 'form', dropTicks: cm(10) }),
  tier(2, { on: 'edge', tierId: 1 }),
  tier(3, { on: 'form', dropTicks: cm(50) }),
  tier(4, { on: 'foundation', dropTicks: cm(5) }),
];

describe('the tiers of a picture', () => {
  it('are drawn from below: the foundation, then the lowest, then each before what is sewn on it', () => {
    const bands = placeBands(TIERS, cone, () => true);
    expect(bands.map(({ number }) => number)).toEqual([4, 3, 1, 2]);
    const ruffle = bands.at(-1);
    expect([ruffle?.startTicks, ruffle?.endTicks]).toEqual([cm(30), cm(50)]);
  });

  it('leave out a tier whose strips are not counted, and what is sewn on it', () => {
    const bands = placeBands(TIERS, cone, ({ tierId }) => tierId !== 1);
    expect(bands.map(({ number }) => number)).toEqual([4, 3]);
  });
});

describe('how far a tier stands off the form', () => {
  it('springs away below its seam: a fifth of half its depth where it is twice as full', () => {
    const [band] = placeBands([tier(1, { on: 'form', dropTicks: cm(80) })], cone, () => true);
    if (!band) throw new Error('it is drawn');
    expect(standOff(band, cm(80))).toBe(0);
    expect(standOff(band, cm(100)) / cm(1)).toBeCloseTo(2, 6);
    expect(standOff(band, cm(120))).toBe(standOff(band, cm(100)));
  });

  it('goes on from the tier that it is sewn on, and is nothing for a tier that is not gathered', () => {
    const bands = placeBands(
      [TIERS[0] as (typeof TIERS)[0], tier(2, { on: 'edge', tierId: 1 }, 1000)],
      cone,
      () => true,
    );
    const [on, ruffle] = bands;
    if (!on || !ruffle) throw new Error('both are drawn');
    expect(ruffle.standTicks).toBe(standOff(on, cm(30)));
    expect(standOff(ruffle, cm(50))).toBe(ruffle.standTicks);
  });
});

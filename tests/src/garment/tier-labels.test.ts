import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareLabels, labelTiers, type TierToLabel } from '../../../src/garment/tier-labels.ts';

function tier(id: number, parts: Partial<TierToLabel> = {}): TierToLabel {
  const onForm = parts.onTierId === undefined;
  return {
    id,
    position: id,
    name: '',
    dropTicks: onForm ? 0 : null,
    onTierId: null,
    heightTicks: null,
    takenOutAt: null,
    ...parts,
  };
}

function labelsOf(tiers: readonly TierToLabel[]): string[] {
  const labels = labelTiers(tiers);
  return tiers.map(({ id }) => labels.get(id)?.label ?? 'none');
}

describe('the labels of tiers', () => {
  it('count those on the form from the waist down, whatever the order in which they were entered', () => {
    expect(
      labelsOf([tier(1, { dropTicks: 90 }), tier(2, { dropTicks: 10 }), tier(3, { dropTicks: 10 })]),
    ).toEqual(['3', '1', '2']);
  });

  it('of ruffles follow their tier, the highest first, and go on along a chain', () => {
    const tiers = [
      tier(1, { dropTicks: 10 }),
      tier(2, { dropTicks: 50 }),
      tier(3, { onTierId: 2 }),
      tier(4, { onTierId: 2, heightTicks: 20 }),
      tier(5, { onTierId: 3 }),
      tier(6, { onTierId: 1 }),
    ];
    expect(labelsOf(tiers)).toEqual(['1', '2', '2r2', '2r', '2r2r', '1r']);
    expect([...labelTiers(tiers).keys()]).toEqual([1, 6, 2, 4, 3, 5]);
  });

  it('leave out what is taken out, and what hangs on itself', () => {
    const tiers = [
      tier(1, { takenOutAt: '2026-01-01', name: 'Tier 1' }),
      tier(2, { dropTicks: 30, name: 'Tier 2' }),
      tier(3, { onTierId: 4, name: 'Loop' }),
      tier(4, { onTierId: 3 }),
    ];
    expect(labelsOf(tiers)).toEqual(['', '1', '', '']);
    expect(labelTiers(tiers).get(1)?.name).toBe('Tier 1');
    expect(labelTiers(tiers).get(3)?.name).toBe('Loop');
  });

  it.each([
    ['', 'Tier 1', ''],
    ['Tier 3', 'Tier 1', ''],
    ['Tier 2 ruffle', 'Tier 1', ''],
    ['Tier 2r2', 'Tier 1', ''],
    ['Lantern ruffle', 'Lantern ruffle (1)', 'Lantern ruffle'],
    ['Tier of lace', 'Tier of lace (1)', 'Tier of lace'],
    ['Tier 2 in lace', 'Tier 2 in lace (1)', 'Tier 2 in lace'],
  ])('stand beside the name somebody gave, and in the place of a number: %j', (name, called, ownName) => {
    expect(labelTiers([tier(1, { name })]).get(1)).toEqual({ label: '1', ownName, name: called });
  });

  it('are all different, and sort as their tiers follow each other', () => {
    const chains = fc.array(fc.option(fc.nat({ max: 11 }), { nil: null }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(chains, (onto) => {
        // Each is sewn to an earlier one or hangs from the form, so that all of them lead to the form.
        const tiers = onto.map((on, place) =>
          tier(place + 1, on === null || place === 0 ? {} : { onTierId: 1 + (on % place) }),
        );
        const labels = labelsOf(tiers);
        expect(new Set(labels).size).toBe(labels.length);
        for (const [place, { onTierId }] of tiers.entries()) {
          const parent = onTierId === null ? '' : (labels[onTierId - 1] ?? '');
          expect(labels[place]).toMatch(onTierId === null ? /^\d+$/ : new RegExp(`^${parent}r\\d*$`));
          if (onTierId !== null) expect(compareLabels(parent, labels[place] ?? '')).toBeLessThan(0);
        }
      }),
    );
  });

  it('sort by number, with what has none last', () => {
    expect(['10', '', '2r', '1r2', '2', '1r', '1'].sort(compareLabels)).toEqual([
      '1',
      '1r',
      '1r2',
      '2',
      '2r',
      '10',
      '',
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import {
  type KnownSwatch,
  ontoSet,
  ownSet,
  siftSwatches,
} from '../../../../src/colour/prediction/known-swatches.ts';

const D65_10 = { illuminant: 'D65', observer: '10' } as const;
const D65_2 = { illuminant: 'D65', observer: '2' } as const;
let last = 0;

/** "1 blue, 0.5 red"; '' is undyed. */
function swatch(dyes: string, more: Partial<KnownSwatch> = {}): KnownSwatch {
  last += 1;
  return {
    name: `W${last}`,
    dyes:
      dyes === ''
        ? []
        : dyes
            .split(', ')
            .map((each) => ({ name: each.split(' ')[1] ?? '', percent: Number.parseFloat(each) })),
    lab: { l: 50, a: 0, b: 0 },
    viewing: D65_10,
    uncertainty: 0.5,
    state: 'dry',
    backing: null,
    onGround: true,
    isGivenUp: false,
    ...more,
  };
}

const ALONE = ['', '0.25 blue', '1 blue', '4 blue', '0.25 red', '1 red', '4 red'];
const sift = (
  known: readonly KnownSwatch[],
  observer: '2' | '10' | null = null,
  fluorescent: string[] = [],
) => siftSwatches(known, { observer, fluorescent: new Set(fluorescent) });

describe('swatches', () => {
  it('of two observers never meet: those of the one that most were read for are taken', () => {
    const known = [...ALONE.map((dyes) => swatch(dyes)), swatch('1 blue, 1 red', { viewing: D65_2 })];
    const sifted = sift(known);
    expect(sifted.observer).toBe('10');
    expect(sifted.kept).toHaveLength(7);
    expect(sifted.leftOut).toEqual([{ name: known.at(-1)?.name, why: 'another observer' }]);
    expect(sift(known, '2')).toMatchObject({ observer: '2', kept: [known.at(-1)] });
  });

  it('that were read for both are told by the reading that counts alone', () => {
    const both = [swatch('1 blue', { name: 'W9' }), swatch('1 blue', { name: 'W9', viewing: D65_2 })];
    expect(sift(both, '10').leftOut).toEqual([]);
  });

  it.each([
    ['given up', { isGivenUp: true }],
    ['another ground', { onGround: false }],
    ['wet', { state: 'wet' }],
    ['another light', { viewing: { illuminant: 'A', observer: '10' } }],
    ['shows through', { backing: 'white' }],
  ] as const)('that are %s are left out, and told', (why, more) => {
    const odd = swatch('1 blue', more);
    expect(sift([swatch(''), odd]).leftOut).toEqual([{ name: odd.name, why }]);
  });

  it('with a fluorescent dye are left out, their mixtures too', () => {
    const known = [swatch('1 glow'), swatch('1 glow, 1 blue'), swatch('1 blue')];
    expect(sift(known, null, ['glow']).leftOut.map(({ why }) => why)).toEqual(['fluorescent', 'fluorescent']);
  });

  it('over black and white that look alike count', () => {
    expect(sift([swatch('1 blue', { backing: 'either' })]).kept).toHaveLength(1);
  });
});

describe('a set of a cloth’s own', () => {
  it('has the amounts of each dye in one order, and the deepest swatch of each alone', () => {
    const { set, isEnough, hasUndyed } = ownSet(
      sift([...ALONE, '6 red, 2 blue'].map((dyes) => swatch(dyes))),
    );
    expect(set.dyes).toEqual(['blue', 'red']);
    expect(set.deepest).toEqual([4, 4]);
    expect(set.swatches.at(-1)?.amounts).toEqual([2, 6]);
    expect([isEnough, hasUndyed]).toEqual([true, true]);
  });

  it('leaves a dye out of which two depths are known, with its mixtures, and says what is lacking', () => {
    const known = [...ALONE, '1 gold', '2 gold', '1 gold, 1 red'].map((dyes) => swatch(dyes));
    const own = ownSet(sift(known));
    expect(own.set.dyes).toEqual(['blue', 'red']);
    expect(own.lacking).toEqual([{ dye: 'gold', depths: 2 }]);
    expect(own.leftOut.map(({ name, why }) => [name, why])).toEqual(
      known.slice(-3).map(({ name }) => [name, 'few depths']),
    );
  });

  it('has the newest eighty of its mixtures, since each takes its time', () => {
    const many = Array.from({ length: 83 }, () => swatch('1 blue, 1 red'));
    const own = ownSet(sift([...ALONE.map((dyes) => swatch(dyes)), ...many]));
    expect(own.set.swatches).toHaveLength(ALONE.length + 80);
    expect(own.leftOut).toEqual(many.slice(0, 3).map(({ name }) => ({ name, why: 'older' })));
  });

  it('counts the same depth once, however often it was dyed', () => {
    const own = ownSet(sift(['', '1 blue', '1 blue', '1 blue'].map((dyes) => swatch(dyes))));
    expect(own).toMatchObject({ isEnough: false, lacking: [{ dye: 'blue', depths: 1 }] });
  });

  it('is not enough without an undyed swatch', () => {
    const own = ownSet(sift(ALONE.slice(1).map((dyes) => swatch(dyes))));
    expect(own).toMatchObject({ isEnough: false, hasUndyed: false, lacking: [] });
  });
});

describe('a set of another cloth', () => {
  it('is by the dyes that are known elsewhere, and asks for those that it has no swatch of', () => {
    const onto = ontoSet(sift(['', '1 red', '1 gold'].map((dyes) => swatch(dyes))), ['blue', 'red']);
    expect(onto.set.swatches.map(({ amounts }) => amounts)).toEqual([
      [0, 0],
      [0, 1],
    ]);
    expect(onto).toMatchObject({ hasUndyed: true, missing: ['blue'], leftOut: [{ why: 'unknown dye' }] });
  });
});

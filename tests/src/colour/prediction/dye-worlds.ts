import type { Observer } from '../../../../src/colour/colour-reading.ts';
import type { Lab } from '../../../../src/colour/lab.ts';
import type { DyedSwatch } from '../../../../src/colour/prediction/dye-model.ts';
import { BANDS, type Curve, labInLight } from '../../../../src/colour/spectrum.ts';
import { type Random, seededRandom } from '../../../../src/cut-plan/random.ts';

/**
 * Invented dyes whose laws are not the model's. A dye is taken up as a power of its amount (Freundlich), until it is exhausted
 * (exponential), or as the places for all dyes together run out. Its bands are skewed mixtures of a Gaussian and a Lorentzian
 * in wave numbers, and the cloth has a surface that reflects by itself (Saunderson), of which the model knows nothing.
 */
export type UptakeLaw = 'power' | 'exhaustion' | 'places';
export const UPTAKE_LAWS: readonly UptakeLaw[] = ['power', 'exhaustion', 'places'];

/** How a swatch is read: what its colour is off, as ΔE00 on average, and how well a dyeing repeats, as a share of each dye. */
export interface Noise {
  readonly reading: number;
  readonly repeats: number;
}

export const EXACT: Noise = { reading: 0, repeats: 0 };
/** An instrument or a fixed booth with a chart: ΔE00 about 1. A phone and a grey card: about 3. */
export const BOOTH: Noise = { reading: 1, repeats: 0.03 };
export const PHONE: Noise = { reading: 3, repeats: 0.05 };

export interface DyeWorld {
  readonly random: Random;
  readonly dyes: number;
  readonly observer: Observer;
  /** the reflectance that amounts in % really give */
  curveOf(amounts: readonly number[]): Curve;
  /** its colour: D65, for the world's observer */
  shadeOf(amounts: readonly number[]): Lab;
}

/** Peak in nm, width in wave numbers (1/cm), skew, share of the Lorentzian, and height. */
type AbsorptionBand = readonly [
  peak: number,
  width: number,
  skew: number,
  lorentzian: number,
  height: number,
];

const YELLOW: readonly AbsorptionBand[] = [[415, 2600, 0.15, 0.1, 7]];
const ORANGE: readonly AbsorptionBand[] = [
  [475, 2300, 0.1, 0.12, 7],
  [390, 2500, 0, 0.1, 2],
];
const RED: readonly AbsorptionBand[] = [
  [530, 1700, 0.2, 0.1, 8],
  [500, 2200, 0.1, 0.1, 4],
];
const VIOLET: readonly AbsorptionBand[] = [
  [560, 2000, 0.1, 0.15, 7],
  [600, 1500, 0.1, 0.1, 3],
];
const BLUE: readonly AbsorptionBand[] = [
  [610, 1700, 0.1, 0.1, 7],
  [570, 2200, 0, 0.15, 3],
];
const TURQUOISE: readonly AbsorptionBand[] = [
  [665, 1000, 0.1, 0.15, 7],
  [625, 1400, 0, 0.2, 4],
];
const BROWN: readonly AbsorptionBand[] = [
  [430, 4500, 0.2, 0.2, 6],
  [520, 4200, 0.1, 0.2, 3],
];
const BLACK: readonly AbsorptionBand[] = [
  [600, 3800, 0.1, 0.2, 9],
  [480, 4200, 0.1, 0.2, 6],
  [420, 3000, 0, 0.2, 3],
];
/** In the order in which a world takes them, the first of each pair or the second. */
const DYES = [
  [YELLOW, ORANGE],
  [RED, VIOLET],
  [BLUE, TURQUOISE],
  [BROWN, BLACK],
] as const;

/** A set of dyes on one cloth; up to 8. */
export function dyeWorld(seed: number, law: UptakeLaw, dyes = 4, observer: Observer = '2'): DyeWorld {
  const random = seededRandom(seed);
  const pairs = DYES.map((pair) => (random() < 0.5 ? pair : pair.toReversed()));
  const bands = [0, 1].flatMap((place) => pairs.flatMap((pair) => (pair[place] ? [pair[place]] : [])));
  const set = bands.slice(0, dyes).map((peaks) => {
    const [strength, shiftNm, wide] = [0.6 + 0.8 * random(), (random() - 0.5) * 24, 0.85 + 0.4 * random()];
    return {
      absorbs: overBands((nm) =>
        peaks.reduce((sum, band) => sum + strength * absorption(band, nm, shiftNm, wide), 0.02),
      ),
      power: 0.72 + 0.2 * random(),
      full: 2.5 + 5 * random(),
    };
  });
  const undyed = overBands((nm) => 0.008 + 0.05 * Math.exp((380 - nm) / 50) + 0.004 * random());
  const taken = (amounts: readonly number[]): number[] => {
    if (law === 'power') return amounts.map((amount, dye) => amount ** (set[dye]?.power ?? 1));
    if (law === 'exhaustion') {
      const all = amounts.reduce((sum, each) => sum + each, 0);
      const together = 1 - (0.03 * all) / (1 + all / 4);
      return amounts.map((amount, dye) => {
        const full = set[dye]?.full ?? 1;
        return full * (1 - Math.exp(-amount / full)) * together;
      });
    }
    return onPlaces(amounts);
  };
  const curveOf = (amounts: readonly number[]) => {
    const on = taken(amounts);
    return undyed.map((ratio, band) => {
      const all = on.reduce((sum, each, dye) => sum + each * (set[dye]?.absorbs[band] ?? 0), ratio);
      return withSurface(1 + all - Math.sqrt(all * all + 2 * all));
    });
  };
  const shadeOf = (amounts: readonly number[]) => labInLight(curveOf(amounts), 'daylight', observer);
  return { random, dyes, observer, curveOf, shadeOf };
}

function overBands(at: (nm: number) => number): number[] {
  return Array.from({ length: BANDS }, (_, band) => at(380 + 10 * band));
}

function absorption(
  [peak, width, skew, lorentzian, height]: AbsorptionBand,
  nm: number,
  shiftNm: number,
  wide: number,
) {
  const away = (1e7 / nm - 1e7 / (peak + shiftNm)) / (width * wide);
  const scaled = away / (away > 0 ? 1 + skew : 1 - skew);
  return height * ((1 - lorentzian) * Math.exp(-0.5 * scaled * scaled) + lorentzian / (1 + scaled * scaled));
}

/** All dyes want the same six places in a hundred of the fibre's weight, each the more eagerly the later it comes in the set. */
function onPlaces(amounts: readonly number[]): number[] {
  const free = (full: number, dye: number) => (1 - full) ** (0.5 + 0.15 * dye);
  let full = 0;
  for (let step = 0; step < 60; step++) {
    const all = amounts.reduce((sum, amount, dye) => sum + amount * free(full, dye), 0);
    full = (full + Math.min(0.97, all / 6)) / 2;
  }
  return amounts.map((amount, dye) => amount * free(full, dye));
}

/** Saunderson: 2 % is reflected before it enters, and a tenth of what would leave is thrown back. */
function withSurface(reflectance: number): number {
  return 0.02 + (0.98 * 0.9 * reflectance) / (1 - 0.1 * reflectance);
}

function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** A mean length of 1 in three directions has a deviation of 0.63 in each (the mean of chi with three degrees of freedom is 1.6). */
const PER_DIRECTION = 0.63;

/** What is read of a swatch that was dyed anew. */
export function readSwatch({ random, shadeOf }: DyeWorld, amounts: readonly number[], noise: Noise): Lab {
  const dyed = shadeOf(amounts.map((amount) => amount * (1 + noise.repeats * normal(random))));
  const off = () => noise.reading * PER_DIRECTION * normal(random);
  return { l: Math.min(100, Math.max(0, dyed.l + off())), a: dyed.a + off(), b: dyed.b + off() };
}

/** Two or three dyes, each between 0.1 and 2.5 %. */
export function someMixture({ random, dyes }: DyeWorld): number[] {
  const amounts = new Array<number>(dyes).fill(0);
  const count = 2 + Math.floor(random() * 2);
  while (amounts.filter((amount) => amount > 0).length < count)
    amounts[Math.floor(random() * dyes)] = 0.1 * 25 ** random();
  return amounts;
}

/** Two readings of the undyed cloth, each dye alone at these depths, and some mixtures. */
export function swatchesOf(
  world: DyeWorld,
  noise: Noise,
  mixtures: number,
  depths: readonly number[] = [0.25, 1, 4],
): DyedSwatch[] {
  const none = new Array<number>(world.dyes).fill(0);
  const dyed = [
    none,
    none,
    ...none.flatMap((_, dye) => depths.map((depth) => none.with(dye, depth))),
    ...Array.from({ length: mixtures }, () => someMixture(world)),
  ];
  return dyed.map((amounts) => ({
    amounts,
    lab: readSwatch(world, amounts, noise),
    uncertainty: noise.reading * PER_DIRECTION * 2.8,
  }));
}

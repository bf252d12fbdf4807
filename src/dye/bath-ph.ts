/**
 * The pH that acids and alkalis give a bath: the charge balance, solved by bisection, with activities by Davies.
 * Strength, lot and water vary more than the model, so a pH is expected to within 0.3 and measured.
 *
 * Constants at 25 °C: LibreTexts E1; ammonium, issuhub 4705; water, the second step of carbonic and the third of
 * phosphoric acid, and all that is told of hotter water, from memory.
 */

/** What counts for the pH, in mg in a litre, each as the pure substance; left out, there is none. */
export interface BathSolutes {
  readonly causticSoda?: number;
  /** anhydrous */
  readonly sodaAsh?: number;
  readonly bicarbonate?: number;
  readonly aceticAcid?: number;
  /** anhydrous */
  readonly citricAcid?: number;
  readonly formicAcid?: number;
  readonly sulphuricAcid?: number;
  readonly ammoniumSulphate?: number;
  /** trihydrate */
  readonly sodiumAcetate?: number;
  /** anhydrous */
  readonly monosodiumPhosphate?: number;
  readonly disodiumPhosphate?: number;
  readonly salt?: number;
  readonly sodiumSulphate?: number;
  /** of the water, as calcium carbonate */
  readonly alkalinity?: number;
}

/** `tapPh` is the water's own pH, 7.5 where it is not known; heat counts for water and carbonate alone. */
export interface BathConditions {
  readonly tapPh?: number;
  /** whether what the water holds of carbon dioxide stays in it, or boils away */
  readonly carbonDioxide?: 'kept' | 'lost';
  readonly temperatureC?: number;
}

/** `ionicMolar` is the ionic strength in mol/L. */
export interface SolvedBath {
  readonly pH: number;
  readonly ionicMolar: number;
}

/** Above this ionic strength, in mol/L, the activities of Davies no longer hold. */
export const MOST_IONIC_MOLAR = 0.5;
/** g/mol, which is also mg/mmol. */
const MOLAR = {
  causticSoda: 39.997,
  sodaAsh: 105.988,
  bicarbonate: 84.007,
  aceticAcid: 60.052,
  citricAcid: 192.124,
  formicAcid: 46.025,
  sulphuricAcid: 98.078,
  ammoniumSulphate: 132.13,
  sodiumAcetate: 136.08,
  monosodiumPhosphate: 119.98,
  disodiumPhosphate: 141.96,
  salt: 58.44,
  sodiumSulphate: 142.04,
  /** for one equivalent */
  alkalinity: 50.04,
} as const satisfies Record<keyof BathSolutes, number>;

/** By °C; between rows on a straight line, beyond them the end rows. */
const BY_HEAT: readonly {
  readonly c: number;
  readonly water: number;
  readonly carbonic: [number, number];
}[] = [
  { c: 25, water: 14, carbonic: [6.35, 10.33] },
  { c: 40, water: 13.54, carbonic: [6.3, 10.22] },
  { c: 60, water: 13.03, carbonic: [6.29, 10.14] },
  { c: 80, water: 12.61, carbonic: [6.34, 10.13] },
  { c: 98, water: 12.3, carbonic: [6.42, 10.16] },
];

const TAP_PH = 7.5;
/** Closer than any paper or meter tells. */
const CLOSE_PH = 0.0005;
const MOST_TURNS = 12;

/** An acid that can give away a proton for each pK; `charge` before it has given any. */
interface Acid {
  readonly molar: number;
  readonly charge: number;
  readonly pK: readonly number[];
}

/** All that is in a bath, in mol/L; `cations` are the strong ones. */
interface Solution {
  readonly acids: readonly Acid[];
  readonly cations: number;
  readonly waterPk: number;
}

/** The pH of a bath. Throws RangeError on an amount below nought. */
export function bathPh(solutes: BathSolutes, conditions: BathConditions = {}): number {
  return solveBath(solutes, conditions).pH;
}

/** The pH of a bath with its ionic strength. Throws RangeError on an amount below nought. */
export function solveBath(solutes: BathSolutes, conditions: BathConditions = {}): SolvedBath {
  const solution = solutionOf(solutes, conditions);
  let ionicMolar = 0;
  let [before, pH] = [Number.NaN, 7];
  // The activities follow from the ions and the ions from the activities: a few turns settle both.
  for (let turn = 0; turn < MOST_TURNS && !(Math.abs(pH - before) < CLOSE_PH); turn += 1) {
    before = pH;
    pH = solve(solution, ionicMolar);
    ionicMolar = ionsAt(pH, solution, ionicMolar).strength;
  }
  return { pH, ionicMolar };
}

/** Mmol in a litre of a solute. Throws RangeError on an amount below nought. */
export function millimolar(name: keyof BathSolutes, mgPerLitre: number): number {
  if (!(mgPerLitre >= 0)) throw new RangeError(`${name} is not from 0`);
  return mgPerLitre / MOLAR[name];
}

function solutionOf(
  solutes: BathSolutes,
  { tapPh = TAP_PH, carbonDioxide = 'kept', temperatureC = 25 }: BathConditions,
): Solution {
  const molar = (name: keyof BathSolutes): number => millimolar(name, solutes[name] ?? 0) / 1000;
  const { water, carbonic } = constantsAt(temperatureC);
  const [alkalinity, soda, bicarbonate] = [molar('alkalinity'), molar('sodaAsh'), molar('bicarbonate')];
  const [mono, di] = [molar('monosodiumPhosphate'), molar('disodiumPhosphate')];
  const [salt, sulphate, ammonium] = [molar('salt'), molar('sodiumSulphate'), molar('ammoniumSulphate')];
  const ofWater = carbonDioxide === 'kept' ? carbonateOf(alkalinity, tapPh) : 0;
  const acids: readonly Acid[] = [
    { molar: molar('aceticAcid') + molar('sodiumAcetate'), charge: 0, pK: [4.756] },
    { molar: molar('citricAcid'), charge: 0, pK: [3.13, 4.76, 6.4] },
    { molar: molar('formicAcid'), charge: 0, pK: [3.75] },
    { molar: molar('sulphuricAcid'), charge: -1, pK: [1.99] },
    { molar: mono + di, charge: 0, pK: [2.16, 7.21, 12.32] },
    { molar: salt, charge: -1, pK: [] },
    // The sulphate of salts is taken as a strong anion: that moves the pH by less than 0.1.
    { molar: sulphate + ammonium, charge: -2, pK: [] },
    { molar: 2 * ammonium, charge: 1, pK: [9.25] },
    { molar: soda + bicarbonate + ofWater, charge: 0, pK: carbonic },
  ].filter((acid) => acid.molar > 0);
  const cations =
    molar('causticSoda') +
    2 * (soda + sulphate + di) +
    bicarbonate +
    molar('sodiumAcetate') +
    mono +
    salt +
    alkalinity;
  return { acids, cations, waterPk: water };
}

function constantsAt(temperatureC: number): { readonly water: number; readonly carbonic: readonly number[] } {
  const at = BY_HEAT.findIndex(({ c }) => c >= temperatureC);
  const high = BY_HEAT[at < 0 ? BY_HEAT.length - 1 : at];
  const low = BY_HEAT[Math.max(0, (at < 0 ? BY_HEAT.length : at) - 1)];
  if (!low || !high) throw new Error('there are constants for some heat');
  const part = high.c === low.c ? 0 : Math.min(1, (temperatureC - low.c) / (high.c - low.c));
  const between = (from: number, to: number): number => from + (to - from) * part;
  return {
    water: between(low.water, high.water),
    carbonic: low.carbonic.map((from, step) => between(from, high.carbonic[step] ?? from)),
  };
}

/** Carbonate of all kinds, in mol/L, in water of an alkalinity in mol/L at the pH of the tap. */
function carbonateOf(alkalinity: number, tapPh: number): number {
  if (alkalinity === 0) return 0;
  const { water, carbonic } = constantsAt(25);
  const [, one = 0, two = 0] = shares({ molar: 1, charge: 0, pK: carbonic }, tapPh, 0);
  // Water of very high pH may owe all its alkalinity to caustic, and then holds no carbonate.
  return Math.max(0, (alkalinity - 10 ** (tapPh - water) + 10 ** -tapPh) / (one + 2 * two));
}

function solve(solution: Solution, ionic: number): number {
  let [low, high] = [-1, 15];
  while (high - low > CLOSE_PH) {
    const middle = (low + high) / 2;
    if (ionsAt(middle, solution, ionic).charge > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The sum of charges and the ionic strength, in mol/L. */
function ionsAt(
  pH: number,
  { acids, cations, waterPk }: Solution,
  ionic: number,
): { readonly charge: number; readonly strength: number } {
  const one = 10 ** logActivity(1, ionic);
  const ions: { charge: number; molar: number }[] = [
    { charge: 1, molar: cations },
    { charge: 1, molar: 10 ** -pH / one },
    { charge: -1, molar: 10 ** (pH - waterPk) / one },
    ...acids.flatMap((acid) =>
      shares(acid, pH, ionic).map((share, given) => ({
        charge: acid.charge - given,
        molar: acid.molar * share,
      })),
    ),
  ];
  return {
    charge: ions.reduce((sum, { charge, molar }) => sum + charge * molar, 0),
    strength: ions.reduce((sum, { charge, molar }) => sum + charge * charge * molar, 0) / 2,
  };
}

/** The shares of an acid that have given away no proton, one, two and so on. */
function shares({ charge, pK }: Acid, pH: number, ionic: number): readonly number[] {
  let log = 0;
  const weights = [1];
  pK.forEach((each, given) => {
    const before = logActivity(charge - given, ionic);
    const after = logActivity(charge - given - 1, ionic);
    log += pH - each + before - after;
    weights.push(10 ** log);
  });
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / all);
}

/** The logarithm of the activity of an ion; held above `MOST_IONIC_MOLAR`. */
function logActivity(charge: number, ionic: number): number {
  const strength = Math.min(ionic, MOST_IONIC_MOLAR);
  const root = Math.sqrt(strength);
  return -0.509 * charge * charge * (root / (1 + root) - 0.3 * strength);
}

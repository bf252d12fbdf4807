/**
 * The pH that acids and alkalis give a bath at 25 °C: the charge balance, solved by bisection, with activities by Davies.
 * Strength, lot and water vary more than the model, so a pH is expected to within 0.3 and measured. Salt is left out.
 *
 * Constants at 25 °C: LibreTexts E1; ammonium, issuhub 4705; hydrogen carbonate and water from memory.
 */

/** What counts for the pH, in mg in a litre, each as the pure substance; left out, there is none. */
export interface BathSolutes {
  readonly causticSoda?: number;
  /** anhydrous */
  readonly sodaAsh?: number;
  readonly aceticAcid?: number;
  /** anhydrous */
  readonly citricAcid?: number;
  readonly formicAcid?: number;
  readonly sulphuricAcid?: number;
  readonly ammoniumSulphate?: number;
  /** trihydrate */
  readonly sodiumAcetate?: number;
  /** of the water, as calcium carbonate; its own pH is taken as 7.5 */
  readonly alkalinity?: number;
}

/** g/mol, which is also mg/mmol. */
const MOLAR = {
  causticSoda: 39.997,
  sodaAsh: 105.988,
  aceticAcid: 60.052,
  citricAcid: 192.124,
  formicAcid: 46.025,
  sulphuricAcid: 98.078,
  ammoniumSulphate: 132.13,
  sodiumAcetate: 136.08,
  /** for one equivalent */
  alkalinity: 50.04,
} as const;

const WATER_PK = 14;
const CARBONIC = { charge: 0, pK: [6.35, 10.33] } as const;
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

/** The pH of a bath. Throws RangeError on an amount below nought. */
export function bathPh(solutes: BathSolutes): number {
  const molar = (name: keyof BathSolutes): number => {
    const mg = solutes[name] ?? 0;
    if (!(mg >= 0)) throw new RangeError(`${name} is not from 0`);
    return mg / MOLAR[name] / 1000;
  };
  const alkalinity = molar('alkalinity');
  const cations = molar('causticSoda') + 2 * molar('sodaAsh') + molar('sodiumAcetate') + alkalinity;
  const sulphate = molar('ammoniumSulphate');
  const acids: readonly Acid[] = [
    { molar: molar('aceticAcid') + molar('sodiumAcetate'), charge: 0, pK: [4.756] },
    { molar: molar('citricAcid'), charge: 0, pK: [3.13, 4.76, 6.4] },
    { molar: molar('formicAcid'), charge: 0, pK: [3.75] },
    { molar: molar('sulphuricAcid'), charge: -1, pK: [1.99] },
    // The sulphate of the salt is taken as a strong anion: that moves the pH by less than 0.1.
    { molar: sulphate, charge: -2, pK: [] },
    { molar: 2 * sulphate, charge: 1, pK: [9.25] },
    { molar: molar('sodaAsh') + carbonateOf(alkalinity), ...CARBONIC },
  ].filter((acid) => acid.molar > 0);
  let ionic = 0;
  let [before, pH] = [Number.NaN, 7];
  // The activities follow from the ions and the ions from the activities: a few turns settle both.
  for (let turn = 0; turn < MOST_TURNS && !(Math.abs(pH - before) < CLOSE_PH); turn += 1) {
    before = pH;
    pH = solve(acids, cations, ionic);
    ionic = ionsAt(pH, acids, cations, ionic).strength;
  }
  return pH;
}

/** Carbonate of all kinds, in mol/L, in water of an alkalinity in mol/L at the pH of the tap. */
function carbonateOf(alkalinity: number): number {
  if (alkalinity === 0) return 0;
  const [, one = 0, two = 0] = shares({ molar: 1, ...CARBONIC }, TAP_PH, 0);
  return (alkalinity - 10 ** (TAP_PH - WATER_PK) + 10 ** -TAP_PH) / (one + 2 * two);
}

function solve(acids: readonly Acid[], cations: number, ionic: number): number {
  let [low, high] = [-1, 15];
  while (high - low > CLOSE_PH) {
    const middle = (low + high) / 2;
    if (ionsAt(middle, acids, cations, ionic).charge > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The sum of charges and the ionic strength, in mol/L. */
function ionsAt(
  pH: number,
  acids: readonly Acid[],
  cations: number,
  ionic: number,
): { readonly charge: number; readonly strength: number } {
  const one = 10 ** logActivity(1, ionic);
  const ions: { charge: number; molar: number }[] = [
    { charge: 1, molar: cations },
    { charge: 1, molar: 10 ** -pH / one },
    { charge: -1, molar: 10 ** (pH - WATER_PK) / one },
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

/** The logarithm of the activity of an ion; valid to an ionic strength of about 0.5 mol/L, held there above. */
function logActivity(charge: number, ionic: number): number {
  const strength = Math.min(ionic, 0.5);
  const root = Math.sqrt(strength);
  return -0.509 * charge * charge * (root / (1 + root) - 0.3 * strength);
}

// Long because it is one table: every limit of every fibre, with where it comes from.
/**
 * What each fibre stands of pH, heat, time, oxidisers, reducers and chlorine. The thresholds are our rule, from the
 * sources that they name; a cloth is held to those of every fibre in it, whatever its share. The label outranks them.
 *
 * pH is that of a cooled sample at 25 °C. How hot a fibre may be dyed at all is told by `heatLimitFor`.
 */

import type { Provenance } from '../quantity/provenance.ts';
import { type BathSolutes, bathPh } from './bath-ph.ts';
import { type Chemical, type ChemicalGroup, shortName } from './chemical-group.ts';
import { CELLULOSE } from './dye-facts.ts';
import { type Content, capital, type FibreCode, fibreOf } from './fibre.ts';
import { sayInWater, tapOf, type Water } from './water.ts';

/** A bath is hot for a fibre from here, in °C (our rule). */
export const HOT_BATH_C = 40;

/** What a limit is about. All that is given must hold for it to be passed. */
export interface LimitCase {
  readonly group?: ChemicalGroup;
  /** of the pure substance of that group */
  readonly moreThanMgPerLitre?: number;
  readonly pHAbove?: number;
  readonly pHBelow?: number;
  /** the bath is at least this hot, or hotter than this */
  readonly fromC?: number;
  readonly aboveC?: number;
  readonly afterMinutes?: number;
  /** the bath cools faster than this, in thousandths of °C a minute */
  readonly coolsFasterMilli?: number;
  /** the method of the recipe names it */
  readonly method?: RegExp;
  /** whatever the bath */
  readonly always?: true;
}

export interface FibreLimit {
  readonly act: 'refuse' | 'warn';
  readonly over: LimitCase;
  readonly why: string;
  readonly instead: string;
  readonly mark: Provenance;
}

const ours = (source: string): Provenance => ({ basis: 'own', source: `our rule; ${source}` });
const limit = (
  act: FibreLimit['act'],
  over: LimitCase,
  why: string,
  instead: string,
  source: string,
): FibreLimit => ({ act, over, why, instead, mark: ours(source) });

const WOOL =
  'Beech, The Dyeing of Woollen Fabrics, 1902; Cookson, Hine and McPhee, JSDC 1964; turkotek.com salon 129';
const BROADBENT_WOOL = 'Broadbent, Basic Principles of Textile Coloration, SDC 2001, pp. 127 and 423';
const SILK = 'textilelearner.blogspot.com, January 2012; textileengg.blogspot.com, November 2015';
const NYLON = 'visornets, polyamide data; liquisearch, nylon hydrolysis; a page on discharge chemistry';
const ACETATE =
  'Broadbent, Basic Principles of Textile Coloration, SDC 2001, p. 103; pages of trade differ: pH 7 or 10.5 at most';
const TRIACETATE = 'Broadbent, Basic Principles of Textile Coloration, SDC 2001, p. 103';
const POLYESTER = 'Journal of Applied Polymer Science, polyester alkaline hydrolysis I';
const VISCOSE = 'a page of a dye maker caps rayon at pH 9, a pad-batch card does not; figures are ours';
const BLEACHING = 'Laundry and Cleaning News, controlling bleaching';
const ACRYLIC = 'Broadbent, Basic Principles of Textile Coloration, SDC 2001, p. 394; yellowing from memory';
const ELASTANE = 'organicdye.com, reduction scour of polyester with elastane; cxiiapparel.com, elastane';
const METALLISED = 'no source was found';

const NEUTRAL = 'Dye near neutral, with a class that needs no alkali.';
const WITH_ACID_DYE = 'Take acid dye from a weak acid bath; wash with neutral detergent.';
const NO_CHLORINE = 'Bleach with peroxide where the fibre stands it, or buy it white.';

const POLYESTER_LIMITS: readonly FibreLimit[] = [
  limit(
    'warn',
    { pHAbove: 10, fromC: 80 },
    'hot alkali takes its surface off',
    'Stay below pH 10, or below 80 °C.',
    POLYESTER,
  ),
  limit(
    'warn',
    { group: 'hypochlorite' },
    'chlorine bleach yellows it for good',
    NO_CHLORINE,
    'a page on discharge chemistry',
  ),
  limit(
    'refuse',
    { group: 'caustic', moreThanMgPerLitre: 2000, fromC: 80, afterMinutes: 30 },
    'hot caustic soda eats it away',
    'At most 2 g/L for 30 minutes, as a reduction clear.',
    POLYESTER,
  ),
];

const CELLULOSE_LIMITS: readonly FibreLimit[] = [
  limit(
    'warn',
    { group: 'peroxide', aboveC: 70 },
    'peroxide above 70 °C harms it above pH 11, or with iron or copper',
    'Bleach at 70 °C at most.',
    BLEACHING,
  ),
  limit(
    'warn',
    { group: 'mineral-acid' },
    'mineral acid that dries on it rots it',
    'Rinse it out, and never let it dry in. Vinegar is safer.',
    'from memory',
  ),
  limit(
    'refuse',
    { group: 'hypochlorite', aboveC: 40 },
    'warm chlorine bleach rots it',
    'Bleach at 40 °C at most, at pH 9 to 11.',
    BLEACHING,
  ),
  limit(
    'refuse',
    { group: 'hypochlorite', pHBelow: 9 },
    'chlorine bleach below pH 9 rots it',
    'Bleach at pH 9 to 11.',
    BLEACHING,
  ),
];

const REGENERATED_LIMITS = (moved: string): readonly FibreLimit[] => [
  limit('warn', { pHAbove: 11.5 }, `it is weak when wet and swells in alkali${moved}`, NEUTRAL, VISCOSE),
  limit(
    'warn',
    { group: 'caustic', moreThanMgPerLitre: 8000 },
    'it swells in caustic soda',
    'At most 8 g/L in a vat.',
    VISCOSE,
  ),
  limit(
    'refuse',
    { group: 'caustic', moreThanMgPerLitre: 10_000 },
    'caustic soda dissolves part of it',
    'At most 8 g/L in a vat.',
    VISCOSE,
  ),
  limit(
    'refuse',
    { group: 'mineral-acid', fromC: HOT_BATH_C },
    'hot mineral acid rots it',
    'Use vinegar.',
    VISCOSE,
  ),
  ...CELLULOSE_LIMITS.filter(({ over }) => over.group !== 'mineral-acid'),
];

export const FIBRE_LIMITS: Readonly<Record<FibreCode, readonly FibreLimit[]>> = {
  cotton: CELLULOSE_LIMITS,
  linen: CELLULOSE_LIMITS,
  hemp: CELLULOSE_LIMITS,
  viscose: REGENERATED_LIMITS(''),
  modal: REGENERATED_LIMITS(''),
  lyocell: REGENERATED_LIMITS(', and fibrillates where it is moved'),
  wool: [
    limit('warn', { pHAbove: 8 }, 'alkali weakens it', WITH_ACID_DYE, WOOL),
    limit(
      'warn',
      { aboveC: 95, afterMinutes: 60 },
      'long boiling weakens it',
      'At most 60 minutes above 95 °C.',
      WOOL,
    ),
    limit(
      'warn',
      { group: 'peroxide' },
      'peroxide weakens it, and bleached wool is not dyed above 80 °C',
      'Bleach it mildly, dye it below 80 °C.',
      BROADBENT_WOOL,
    ),
    limit('refuse', { pHAbove: 9.5, fromC: HOT_BATH_C }, 'hot alkali dissolves it', WITH_ACID_DYE, WOOL),
    limit('refuse', { group: 'caustic' }, 'caustic soda dissolves it', WITH_ACID_DYE, WOOL),
    limit('refuse', { group: 'hypochlorite' }, 'chlorine bleach dissolves it', NO_CHLORINE, BROADBENT_WOOL),
    limit('refuse', { aboveC: 105 }, 'it is damaged above 105 °C', 'Dye it below the boil.', BROADBENT_WOOL),
  ],
  silk: [
    limit(
      'warn',
      { pHBelow: 4, fromC: HOT_BATH_C },
      'hot acid weakens it',
      'Acetic acid to pH 4 at least.',
      SILK,
    ),
    limit('warn', { pHAbove: 9, fromC: HOT_BATH_C }, 'hot alkali weakens it', WITH_ACID_DYE, SILK),
    limit('warn', { pHAbove: 10.5 }, 'soda dulls it even cold', WITH_ACID_DYE, SILK),
    limit('warn', { aboveC: 85 }, 'it loses lustre above 85 °C', 'Dye it at 85 °C at most.', SILK),
    limit('refuse', { pHAbove: 10.5, fromC: HOT_BATH_C }, 'hot alkali dissolves it', WITH_ACID_DYE, SILK),
    limit('refuse', { group: 'mineral-acid' }, 'mineral acid breaks it down', 'Use vinegar.', SILK),
    limit('refuse', { group: 'hypochlorite' }, 'chlorine bleach harms it', NO_CHLORINE, SILK),
    limit('refuse', { aboveC: 95 }, 'boiling spoils it', 'Dye it at 85 °C at most.', SILK),
  ],
  nylon: [
    limit(
      'warn',
      { pHBelow: 3.5, fromC: 95 },
      'strong acid at the boil weakens it',
      'Less acid: pH 4 to 6.',
      NYLON,
    ),
    limit(
      'warn',
      { group: 'formic-acid' },
      'strong formic acid dissolves it where it drips on the cloth',
      'Dilute it in cold water first, the cloth out of the bath.',
      NYLON,
    ),
    limit(
      'warn',
      { group: 'acetic-acid' },
      'strong acetic acid dissolves it where it drips on the hot cloth',
      'Dilute it in cold water first, the cloth out of the bath.',
      NYLON,
    ),
    limit(
      'refuse',
      { pHBelow: 2.5, fromC: HOT_BATH_C },
      'hot strong acid breaks it down',
      'Vinegar to pH 4 to 6.',
      NYLON,
    ),
    limit(
      'refuse',
      { method: /\b1\s*:\s*1\b/ },
      'a 1:1 metal-complex dye is worked at about pH 1.5, which breaks it down',
      'Take a 1:2 metal-complex dye, near neutral.',
      'fibre2fabrics.in, April 2020',
    ),
    limit('refuse', { group: 'hypochlorite' }, 'chlorine bleach damages it badly', NO_CHLORINE, NYLON),
    limit(
      'refuse',
      { aboveC: 100 },
      'above 100 °C is pressure work',
      'Dye it just under the boil.',
      'common practice',
    ),
  ],
  polyester: POLYESTER_LIMITS,
  'cationic-polyester': POLYESTER_LIMITS,
  acetate: [
    limit('warn', { pHAbove: 7 }, 'alkali takes its surface off', NEUTRAL, ACETATE),
    limit('warn', { aboveC: 80 }, 'hot baths dull it', 'Dye it at 75 to 80 °C.', ACETATE),
    limit(
      'refuse',
      { pHAbove: 8.5, fromC: HOT_BATH_C },
      'hot alkali turns it back into cellulose',
      NEUTRAL,
      ACETATE,
    ),
    limit('refuse', { group: 'soda' }, 'soda takes its surface off', NEUTRAL, ACETATE),
    limit('refuse', { group: 'caustic' }, 'caustic soda turns it back into cellulose', NEUTRAL, ACETATE),
    limit(
      'refuse',
      { group: 'hydros' },
      'a reduction clear harms it',
      'Wash with mild detergent at 50 °C at most.',
      ACETATE,
    ),
    limit(
      'refuse',
      { group: 'solvent' },
      'solvents dissolve it',
      'Use none.',
      'tiankunchemical.com, acetate',
    ),
  ],
  triacetate: [
    limit('warn', { pHAbove: 8 }, 'alkali takes its surface off', NEUTRAL, TRIACETATE),
    limit(
      'refuse',
      { pHAbove: 10, fromC: HOT_BATH_C },
      'hot alkali takes its surface off',
      NEUTRAL,
      TRIACETATE,
    ),
    limit('refuse', { group: 'caustic' }, 'caustic soda takes its surface off', NEUTRAL, TRIACETATE),
  ],
  acrylic: [
    limit('warn', { pHAbove: 8, fromC: HOT_BATH_C }, 'hot alkali yellows it', NEUTRAL, ACRYLIC),
    limit(
      'warn',
      { coolsFasterMilli: 1000, aboveC: 60 },
      'it creases where it cools faster than 1 °C a minute above 60 °C',
      'Cool slowly.',
      ACRYLIC,
    ),
    limit('refuse', { aboveC: 100 }, 'it stretches and creases above 100 °C', 'Dye it below 98 °C.', ACRYLIC),
    limit('refuse', { group: 'caustic' }, 'caustic soda yellows and weakens it', NEUTRAL, ACRYLIC),
  ],
  elastane: [
    limit('warn', { aboveC: 95 }, 'it tires near the boil', 'Stay at 95 °C at most.', ELASTANE),
    limit(
      'warn',
      { always: true },
      'its type is seldom known, and one type fails in chlorine, the other in alkali',
      'Try a swatch, stretched.',
      ELASTANE,
    ),
    limit('refuse', { group: 'hypochlorite' }, 'chlorine of any kind destroys it', NO_CHLORINE, ELASTANE),
    limit('refuse', { group: 'chlorite' }, 'chlorine of any kind destroys it', NO_CHLORINE, ELASTANE),
    limit('refuse', { aboveC: 100 }, 'it loses its stretch above the boil', 'Stay at 95 °C.', ELASTANE),
    limit(
      'refuse',
      { group: 'caustic', moreThanMgPerLitre: 1000, fromC: HOT_BATH_C },
      'hot caustic soda harms it',
      'Clear with detergent.',
      ELASTANE,
    ),
  ],
  metallised: [
    limit(
      'warn',
      { always: true },
      'film and lacquer differ from maker to maker',
      'Dye a swatch.',
      METALLISED,
    ),
    ...(['pHBelow', 'pHAbove'] as const).map((side) =>
      limit(
        'refuse',
        { [side]: side === 'pHBelow' ? 5 : 8 },
        'acid and alkali eat the metal',
        'Stay between pH 5 and 8.',
        METALLISED,
      ),
    ),
    limit('refuse', { aboveC: 60 }, 'heat lifts the film', 'Stay at 60 °C at most.', METALLISED),
    ...(['chloride', 'hypochlorite', 'peroxide', 'permanganate', 'chlorite', 'dichromate'] as const).map(
      (group) =>
        limit(
          'refuse',
          { group },
          group === 'chloride' ? 'salt corrodes the metal' : 'oxidisers corrode the metal',
          group === 'chloride' ? "Take Glauber's salt, or no salt." : 'Use none.',
          METALLISED,
        ),
    ),
  ],
  olefin: [],
  glass: [],
};

/** A bath as far as it can harm a fibre. `pHFrom` and `pHTo` are what it is brought to, where that is said. */
export interface BathOnFibre {
  readonly chemicals: readonly Chemical[];
  readonly temperatureC: number;
  readonly minutes: number;
  readonly pHFrom?: number;
  readonly pHTo?: number;
  readonly coolRateMilli?: number;
  readonly method?: string;
  /** left out or null, nobody has measured it */
  readonly water?: Water | null;
}

/** A limit that a bath passes. `chemical` is what passes it, where that is one thing. */
export interface PassedLimit {
  readonly fibre: FibreCode;
  readonly limit: FibreLimit;
  readonly chemical: Chemical | null;
  /** the whole sentence: fibre, reason, what the bath has, what to do instead */
  readonly says: string;
}

/**
 * Every limit that a bath passes for a cloth, refusals first. Alkali counts by its dose even where acid is in the bath
 * too, since one of the two comes first.
 */
export function limitsPassed(bath: BathOnFibre, content: Content): readonly PassedLimit[] {
  const asksPh = content.some(({ fibre }) =>
    FIBRE_LIMITS[fibre].some(({ over }) => over.pHAbove !== undefined || over.pHBelow !== undefined),
  );
  const pH = asksPh ? pHRange(bath) : NO_PH;
  const found = content.flatMap(({ fibre }) =>
    FIBRE_LIMITS[fibre].flatMap((each): PassedLimit[] => {
      const chemical = passing(each.over, bath, pH);
      if (chemical === undefined) return [];
      const instead = (each.over.pHAbove !== undefined && blendWay(content, bath)) || each.instead;
      const has = sayHas(each.over, bath, pH, chemical);
      const says = `${capital(fibreOf(fibre).name)}: ${each.why}${has} (our rule). ${instead}`;
      return [{ fibre, limit: each, chemical, says }];
    }),
  );
  const refused = found.filter((each) => each.limit.act === 'refuse');
  const near = found.filter((each) => each.limit.act === 'warn');
  return [...refused, ...near.filter((each) => !refused.some((worse) => isOfOneSide(each, worse)))];
}

/** Whether two limits are of one fibre and of the same end of its pH, so that the refusal says it all. */
function isOfOneSide(one: PassedLimit, other: PassedLimit): boolean {
  const side = ({ limit: { over } }: PassedLimit) =>
    over.pHAbove !== undefined ? 'alkaline' : over.pHBelow !== undefined ? 'sour' : 'none';
  return one.fibre === other.fibre && side(one) !== 'none' && side(one) === side(other);
}

interface PhRange {
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** what makes the high end, where its dose does */
  readonly alkali: Chemical | null;
  readonly acid: Chemical | null;
}

const NO_PH: PhRange = { low: undefined, high: undefined, alkali: null, acid: null };

/** A bath with caustic soda of no known dose is a vat, and one of at least pH 12. */
const VAT_PH = 12;

/** The solute that counts for the pH of what only its group tells of. */
const BY_GROUP: readonly (readonly [ChemicalGroup, keyof BathSolutes])[] = [
  ['caustic', 'causticSoda'],
  ['soda', 'sodaAsh'],
  ['mineral-acid', 'sulphuricAcid'],
  ['formic-acid', 'formicAcid'],
  ['concentrated-acid', 'aceticAcid'],
  ['dilute-acid', 'aceticAcid'],
];
const ALKALIS: readonly (keyof BathSolutes)[] = ['causticSoda', 'sodaAsh'];
const STRONG_ACIDS: readonly (keyof BathSolutes)[] = ['sulphuricAcid', 'formicAcid'];
const ACIDS: readonly (keyof BathSolutes)[] = [...STRONG_ACIDS, 'aceticAcid', 'citricAcid'];

/**
 * The pH that a bath comes to. Water that nobody has measured counts as soft, which takes acid and alkali the furthest; of
 * a bath of which nothing is said and nothing dosed the tap tells.
 */
function pHRange({ chemicals, pHFrom, pHTo, water = null }: BathOnFibre): PhRange {
  const solutes = chemicals.map((each) => ({ each, solute: soluteOf(each), mg: each.mgPerLitre ?? 0 }));
  const brought = (names: readonly (keyof BathSolutes)[]) => {
    const found = solutes.filter(({ solute }) => solute !== undefined && names.includes(solute));
    const [first] = found;
    if (!first) return undefined;
    const sums: Partial<Record<keyof BathSolutes, number>> = {
      alkalinity: (water?.alkalinityTenths ?? 0) / 10,
    };
    for (const { solute, mg } of found) if (solute) sums[solute] = (sums[solute] ?? 0) + mg;
    return { chemical: first.each, pH: bathPh(sums, tapOf(water)) };
  };
  const alkali = brought(ALKALIS);
  // A weak acid is brought to the pH that is said; a strong one takes the bath wherever its dose does.
  const acid =
    pHFrom === undefined || solutes.some(({ solute }) => solute && STRONG_ACIDS.includes(solute))
      ? brought(pHFrom === undefined ? ACIDS : STRONG_ACIDS)
      : undefined;
  const vat = chemicals.some(
    ({ groups, mgPerLitre }) => groups.includes('caustic') && mgPerLitre === undefined,
  );
  const said = [pHFrom, pHTo, alkali, acid, vat || undefined].some((each) => each !== undefined);
  const tap = said || water?.pHTenths == null ? undefined : water.pHTenths / 10;
  const highs = [pHTo, alkali?.pH, vat ? VAT_PH : undefined, tap].filter((pH) => pH !== undefined);
  const lows = [pHFrom, acid?.pH, tap].filter((pH) => pH !== undefined);
  const high = highs.length > 0 ? Math.max(...highs) : undefined;
  const low = lows.length > 0 ? Math.min(...lows) : undefined;
  return {
    low,
    high,
    alkali: alkali && alkali.pH === high ? alkali.chemical : null,
    acid: acid && acid.pH === low ? acid.chemical : null,
  };
}

function soluteOf({ groups, solute }: Chemical): keyof BathSolutes | undefined {
  return solute ?? BY_GROUP.find(([group]) => groups.includes(group))?.[1];
}

/** What passes a limit: the chemical, null where it is the bath itself; undefined where it is not passed. */
function passing(over: LimitCase, bath: BathOnFibre, pH: PhRange): Chemical | null | undefined {
  const { temperatureC, minutes, coolRateMilli = 0, method = '' } = bath;
  if (over.fromC !== undefined && temperatureC < over.fromC) return undefined;
  if (over.aboveC !== undefined && temperatureC <= over.aboveC) return undefined;
  if (over.afterMinutes !== undefined && minutes <= over.afterMinutes) return undefined;
  if (over.coolsFasterMilli !== undefined && coolRateMilli <= over.coolsFasterMilli) return undefined;
  if (over.method && !over.method.test(method)) return undefined;
  if (over.pHAbove !== undefined && !(pH.high !== undefined && pH.high > over.pHAbove)) return undefined;
  if (over.pHBelow !== undefined && !(pH.low !== undefined && pH.low < over.pHBelow)) return undefined;
  const { group, moreThanMgPerLitre: most = 0 } = over;
  if (group === undefined) {
    return over.pHAbove !== undefined ? pH.alkali : over.pHBelow !== undefined ? pH.acid : null;
  }
  const chemical = bath.chemicals.find((each) => each.groups.includes(group));
  if (!chemical) return undefined;
  const inAll = bath.chemicals
    .filter((each) => each.groups.includes(group))
    .reduce((sum, { mgPerLitre = 0 }) => sum + mgPerLitre, 0);
  return inAll > most || most === 0 ? chemical : undefined;
}

function sayHas(over: LimitCase, bath: BathOnFibre, pH: PhRange, chemical: Chemical | null): string {
  const at = over.fromC ?? over.aboveC;
  const heat = at === undefined ? '' : ` at ${bath.temperatureC} °C`;
  const what = chemical ? ` from ${shortName(chemical)} in ${sayWater(bath)}` : '';
  if (over.pHAbove !== undefined) {
    return `, and this bath comes to about pH ${(pH.high ?? 0).toFixed(1)}${what}${heat}`;
  }
  if (over.pHBelow !== undefined) {
    return `, and this bath comes to about pH ${(pH.low ?? 0).toFixed(1)}${what}${heat}`;
  }
  if (chemical) return `, and this bath has ${shortName(chemical)}${heat}`;
  return at === undefined ? '' : `, and this bath is at ${bath.temperatureC} °C`;
}

function sayWater({ water }: BathOnFibre): string {
  return water ? `water of ${sayInWater(water.alkalinityTenths)} alkalinity` : 'soft water';
}

/** How cellulose beside a fibre that alkali harms is dyed, where that is the trouble; '' elsewhere. */
function blendWay(content: Content, { chemicals }: BathOnFibre): string {
  const has = (fibres: readonly FibreCode[]) => content.some(({ fibre }) => fibres.includes(fibre));
  const reactive = chemicals.some(({ groups }) => groups.includes('reactive-dye'));
  if (!reactive || !has(CELLULOSE)) return '';
  if (has(['acetate'])) {
    return 'One neutral bath of disperse and direct dye with salt at 75 to 80 °C, and no soda (common practice).';
  }
  if (has(['wool'])) {
    return 'One neutral bath of direct dye with neutral acid dye and a wool-blocking agent; or reactive dye with soda to pH 9 at most, then the wool with acid dye (project0781.com; organicdye.com, wool and rayon).';
  }
  if (has(['silk'])) {
    return 'Reactive dye with soda to pH 10.5 at most, measured, below 40 °C, and expect two tones (common practice); or acid dye for the silk and direct dye for the rest.';
  }
  return '';
}

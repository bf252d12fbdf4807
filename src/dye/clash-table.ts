/** The rules of what must not meet, and what only in an order. The safety data sheet of each product outranks them. */

import { FROM_MEMORY, type Provenance, published } from '../quantity/provenance.ts';
import type { ChemicalGroup } from './chemical-group.ts';

/**
 * `refuse`: never in one bath, and a drain and rinses between two. `never`: in no bath of a workroom. `baths in order`:
 * in baths of their own, one after the other, never in one. `order`: in one bath, but only in that order.
 */
export type ClashAction = 'refuse' | 'never' | 'baths in order' | 'order' | 'warn';

export interface Clash {
  readonly id: string;
  readonly one: readonly ChemicalGroup[];
  /** Empty where the one is dangerous by itself. */
  readonly other: readonly ChemicalGroup[];
  readonly action: ClashAction;
  /** The gas or the harm, after "makes" or "gives". */
  readonly harm: string;
  /** What to do instead, or in which order, as sentences. */
  readonly instead: string;
  readonly mark: Provenance;
}

const ACIDS = ['concentrated-acid', 'dilute-acid'] as const;
const ALKALIS = ['caustic', 'soda'] as const;
const REDUCERS = ['hydros', 'thiourea-dioxide', 'bisulphite'] as const;

const HYDROS = published('International Chemical Safety Card 1717, sodium dithionite');
const HSE = published('Health and Safety Executive (UK), Dyes and dyeing');
const THIOUREA = published('UK P&I Club, bulletins 337 and 437, thiourea dioxide');
const CHLORINE = published('Chlorine Institute, hypochlorite incompatibility chart');
const CHLORINE_CARD = published(
  'International Chemical Safety Card 0482; Chlorine Institute, hypochlorite incompatibility chart',
);
const CHLORITE = published('New Jersey Department of Health, sodium chlorite, 1689');
const PERMANGANATE = published(
  'permanganate safety, liquisearch.com; reactivity text, chemicalbook CB1117255',
);
const BASES = published('base reactivity group, mywellwork.com 2278519');
const PEROXIDE = published('hydrogen peroxide, chemicaldictionary.org 3325; fireengineering.com');

const APART = 'Use one of them alone, or drain and rinse three times between the two baths.';

export const CLASHES: readonly Clash[] = [
  {
    id: 'hydros-acid',
    one: ['hydros'],
    other: ACIDS,
    action: 'refuse',
    harm: 'sulphur dioxide, a gas that harms the lungs',
    instead: `${APART} Store hydrosulphite away from acids.`,
    mark: HYDROS,
  },
  {
    id: 'hydros-damp',
    one: ['hydros'],
    other: [],
    action: 'order',
    harm: 'heat, fire and sulphur dioxide where the powder gets a little water, and an eruption where it goes in fast',
    instead:
      'Fill the bath first, then sprinkle the powder in slowly, a little at a time, stirring. Keep it dry, use a dry scoop, put nothing back into the tub.',
    mark: published(
      'International Chemical Safety Card 1717; Middle East Journal of Family Medicine, May 2004; Health and Safety Executive (UK), Dyes and dyeing',
    ),
  },
  {
    id: 'hydros-hypochlorite',
    one: ['hydros'],
    other: ['hypochlorite'],
    action: 'refuse',
    harm: 'heat, boiling and splashes',
    instead: APART,
    mark: CHLORINE,
  },
  {
    id: 'thiourea-acid',
    one: ['thiourea-dioxide'],
    other: ACIDS,
    action: 'refuse',
    harm: 'sulphur dioxide, a gas that harms the lungs',
    instead: APART,
    mark: THIOUREA,
  },
  {
    id: 'thiourea-stored',
    one: ['thiourea-dioxide'],
    other: [],
    action: 'warn',
    harm: 'sulphur oxides, ammonia and hydrogen sulphide, violently, where it is stored moist or above 50 °C',
    instead: 'Keep it cool, dry and sealed, away from metal salts. Powder into plenty of water.',
    mark: THIOUREA,
  },
  {
    id: 'thiourea-oxidiser',
    one: ['thiourea-dioxide'],
    other: ['hypochlorite', 'peroxide', 'solvent'],
    action: 'refuse',
    harm: 'fire',
    instead: APART,
    mark: THIOUREA,
  },
  {
    id: 'bisulphite-acid',
    one: ['bisulphite'],
    other: ACIDS,
    action: 'refuse',
    harm: 'sulphur dioxide, a gas that harms the lungs',
    instead: APART,
    mark: published('CDC, acute occupational exposure to sulphur dioxide, Missouri, 18 March 1982'),
  },
  {
    id: 'hypochlorite-acid',
    one: ['hypochlorite'],
    other: ACIDS,
    action: 'refuse',
    harm: 'chlorine, a poisonous gas, perhaps violently',
    instead: `${APART} Vinegar, citric acid, alum and a spent acid bath all count.`,
    mark: CHLORINE_CARD,
  },
  {
    id: 'hypochlorite-ammonium',
    one: ['hypochlorite'],
    other: ['ammonium', 'cationic'],
    action: 'refuse',
    harm: 'explosive compounds, and chlorine or another poisonous gas',
    instead: `${APART} Cationic fixers, softeners and retarders count too.`,
    mark: CHLORINE,
  },
  {
    id: 'hypochlorite-amine',
    one: ['hypochlorite'],
    other: ['amine'],
    action: 'refuse',
    harm: 'nitrogen trichloride, which explodes',
    instead: APART,
    mark: {
      basis: 'from memory',
      source: 'Chlorine Institute, hypochlorite incompatibility chart, for amines; urea from memory',
    },
  },
  {
    id: 'hypochlorite-proofed',
    one: ['hypochlorite'],
    other: [],
    action: 'warn',
    harm: 'explosive compounds on cloth proofed against fire with ammonium salts, and harm to stained skin',
    instead:
      'Rinse proofed cloth well first. Never heat the bath. Wash dye off skin with soap and water only, never with bleach.',
    mark: {
      basis: 'worked out',
      source:
        'MIT 21M.735 note on flame retarding, with the Chlorine Institute chart; skin: National Society for Education in Art and Design',
    },
  },
  {
    id: 'hypochlorite-peroxide',
    one: ['hypochlorite'],
    other: ['peroxide'],
    action: 'refuse',
    harm: 'oxygen, perhaps violently',
    instead: 'As antichlor use peroxide only after a drain and rinses.',
    mark: CHLORINE,
  },
  {
    id: 'hypochlorite-solvent',
    one: ['hypochlorite'],
    other: ['solvent'],
    action: 'refuse',
    harm: 'chlorinated and explosive compounds',
    instead: APART,
    mark: CHLORINE,
  },
  {
    id: 'hypochlorite-metal',
    one: ['hypochlorite'],
    other: ['aluminium', 'copper', 'stainless-steel'],
    action: 'warn',
    harm: 'oxygen and corrosion, and bursts a closed vessel',
    instead: 'Use an open plastic vessel.',
    mark: CHLORINE,
  },
  {
    id: 'hypochlorite-bisulphite',
    one: ['hypochlorite'],
    other: ['bisulphite'],
    action: 'baths in order',
    harm: 'heat and splashes',
    instead: 'Drain and rinse the bleached cloth first, then give it the antichlor in a dilute fresh bath.',
    mark: CHLORINE_CARD,
  },
  {
    id: 'peroxide-caustic',
    one: ['peroxide'],
    other: ['caustic'],
    action: 'order',
    harm: 'oxygen and pressure, fast, where both are strong',
    instead:
      'Fill the bath, add the stabiliser, then the diluted alkali, the peroxide last; in an open vessel.',
    mark: PEROXIDE,
  },
  {
    id: 'peroxide-metal',
    one: ['peroxide'],
    other: ['aluminium', 'copper'],
    action: 'refuse',
    harm: 'a runaway decomposition, and holes in the cloth',
    instead: 'Use a vessel of plastic, glass or sound enamel, with no rust or brass in it.',
    mark: published(
      'hydrogen peroxide, chemicaldictionary.org 3325; Laundry and Cleaning News, controlling bleaching',
    ),
  },
  {
    id: 'peroxide-fittings',
    one: ['peroxide'],
    other: ['stainless-steel'],
    action: 'warn',
    harm: 'a runaway decomposition where fittings are of brass or show rust',
    instead: 'Look at rivets, taps and seams first.',
    mark: published(
      'hydrogen peroxide, chemicaldictionary.org 3325; Laundry and Cleaning News, controlling bleaching',
    ),
  },
  {
    id: 'peroxide-hydros',
    one: ['peroxide'],
    other: ['hydros'],
    action: 'baths in order',
    harm: 'a violent reaction where they are strong',
    instead: 'Drain and rinse the hydrosulphite out first, then oxidise in a fresh bath.',
    mark: HSE,
  },
  {
    id: 'peroxide-acetic',
    one: ['peroxide'],
    other: ['acetic-acid'],
    action: 'refuse',
    harm: 'peracetic acid',
    instead: 'Never bring the concentrates together; use vinegar, at most 2 g/L of each.',
    mark: FROM_MEMORY,
  },
  {
    id: 'permanganate',
    one: ['permanganate'],
    other: [...ACIDS, 'solvent', ...REDUCERS],
    action: 'never',
    harm: 'fire or an explosion',
    instead: 'Bleach with peroxide instead. Never use permanganate on skin.',
    mark: PERMANGANATE,
  },
  {
    id: 'chlorite',
    one: ['chlorite'],
    other: [],
    action: 'never',
    harm: 'chlorine dioxide and fire with acid, reducers and anything organic, and needs a hot acid bath to work',
    instead: 'Bleach with peroxide instead.',
    mark: CHLORITE,
  },
  {
    id: 'dichromate',
    one: ['dichromate'],
    other: [],
    action: 'never',
    harm: 'a risk of cancer; old vat and chrome recipes name it',
    instead: 'Oxidise with peroxide instead.',
    mark: FROM_MEMORY,
  },
  {
    id: 'caustic-strong-acid',
    one: ['caustic'],
    other: ['concentrated-acid'],
    action: 'refuse',
    harm: 'strong heat and splashes',
    instead: 'Drain and rinse, then neutralise with a dilute acid in a fresh bath.',
    mark: BASES,
  },
  {
    id: 'caustic-dilute-acid',
    one: ['caustic'],
    other: ['dilute-acid'],
    action: 'baths in order',
    harm: 'heat, and leaves neither acid nor alkali',
    instead: 'Drain and rinse the caustic soda out first, then neutralise in a fresh bath of dilute acid.',
    mark: BASES,
  },
  {
    id: 'alkali-aluminium',
    one: ALKALIS,
    other: ['aluminium'],
    action: 'refuse',
    harm: 'hydrogen, and eats the pot',
    instead: 'Use a vessel of stainless steel, sound enamel or plastic.',
    mark: published('base reactivity group, mywellwork.com 2278519; soda from memory'),
  },
  {
    id: 'alkali-ammonium',
    one: ALKALIS,
    other: ['ammonium'],
    action: 'refuse',
    harm: 'ammonia gas, and destroys what would give the acid',
    instead: APART,
    mark: BASES,
  },
  {
    id: 'caustic-water',
    one: ['caustic'],
    other: [],
    action: 'order',
    harm: 'heat that boils and spits',
    instead: 'Caustic soda into cold water in portions, never into hot, never water onto it.',
    mark: published('New South Wales Department of Education, strong alkalis'),
  },
  {
    id: 'acid-water',
    one: ['concentrated-acid'],
    other: [],
    action: 'order',
    harm: 'heat that boils and spits',
    instead: 'Acid into water, diluted before it comes near the bath, never water into acid.',
    mark: published('CAMEO Chemicals, acetic acid; the order of pouring: common practice'),
  },
  {
    id: 'formic-sulphuric',
    one: ['formic-acid'],
    other: ['mineral-acid'],
    action: 'never',
    harm: 'carbon monoxide, a poisonous gas without smell',
    instead: 'Use one acid alone.',
    mark: FROM_MEMORY,
  },
  {
    id: 'sulphide-acid',
    one: ['sulphide'],
    other: ACIDS,
    action: 'never',
    harm: 'hydrogen sulphide, a poisonous gas',
    instead: 'Use no sulphide in a workroom.',
    mark: FROM_MEMORY,
  },
  {
    id: 'soda-acid',
    one: ['soda'],
    other: ACIDS,
    action: 'warn',
    harm: 'carbon dioxide, so that the bath foams over, and leaves neither acid nor alkali',
    instead: 'Rinse the soda out first; acid slowly and in parts.',
    mark: { basis: 'worked out', source: 'carbonate and acid' },
  },
  {
    id: 'anionic-cationic',
    one: ['anionic'],
    other: ['cationic'],
    action: 'baths in order',
    harm: 'a deposit that stains the cloth',
    instead:
      'Dye and rinse first, then give the other in a fresh bath. A cationic leveller or retarder is typed as other, by its group.',
    mark: published('Shore, Blends Dyeing, SDC 1998, section 4.3'),
  },
  {
    id: 'reactive-alkali',
    one: ['reactive-dye'],
    other: ALKALIS,
    action: 'order',
    harm: 'dye that water has used up before it reached the cloth',
    instead: 'Alkali last, once the dye is even on the cloth; never into a stock of dye.',
    mark: published('fibres2fabrics.blogspot.com, March 2011'),
  },
];

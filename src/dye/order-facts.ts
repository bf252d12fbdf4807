/**
 * What goes before and after the bath: how cloth is scoured, and how loose dye is cleared from it. Doses are by the
 * litre of a fresh bath as large as the dye bath. The labels of the products outrank all of it.
 */

import { COMMON_PRACTICE, type Provenance, published } from '../quantity/provenance.ts';
import type { AuxiliaryKind } from './auxiliaries.ts';
import type { DyeClass } from './dye-class.ts';
import { CELLULOSE } from './dye-facts.ts';
import type { Content, FibreCode } from './fibre.ts';
import { depthOwfMilli, type RecipeDye } from './recipe.ts';

/** `mgPerLitre` of the fresh bath. */
export interface Dose {
  readonly kind: AuxiliaryKind;
  readonly name: string;
  readonly mgPerLitre: number;
}

/** A bath of its own beside the dye bath, at one heat for so many minutes. */
export interface SideBath {
  readonly says: string;
  readonly toC: number;
  readonly minutes: number;
  readonly doses: readonly Dose[];
  readonly mark: Provenance;
}

const dose = (kind: AuxiliaryKind, name: string, gPerLitre: number): Dose => ({
  kind,
  name,
  mgPerLitre: gPerLitre * 1000,
});
const detergent = (gPerLitre: number): Dose => dose('detergent', 'neutral detergent', gPerLitre);
const soda = (gPerLitre: number): Dose => dose('soda-ash', 'soda ash, anhydrous', gPerLitre);

const FINISHES =
  'Wash out finish and oil, then rinse. Cloth that is not wetted through takes dye in patches.';

interface Scour extends SideBath {
  readonly fibres: readonly FibreCode[];
}

/** By fibre; the first row that names the delicate one of a blend is taken. */
const SCOURS: readonly Scour[] = [
  {
    fibres: ['wool', 'silk'],
    toC: 60,
    minutes: 60,
    says: 'Lie in warm soapy water without stirring, then rinse at the same heat: wool felts when it is moved.',
    doses: [detergent(0.5)],
    mark: {
      basis: 'worked out',
      source:
        'a dye supplier’s page: 5 mL of neutral soap to 450 g at 60 °C for an hour; as 0.5 g/L: worked out at 20:1',
    },
  },
  {
    fibres: ['acetate', 'triacetate', 'metallised', 'elastane'],
    toC: 40,
    minutes: 20,
    says: `${FINISHES} No alkali: it dulls this cloth.`,
    doses: [detergent(1)],
    mark: COMMON_PRACTICE,
  },
  {
    fibres: ['nylon'],
    toC: 70,
    minutes: 30,
    says: `${FINISHES} Keep it open: nylon creases when it is folded hot.`,
    doses: [detergent(1.5), soda(0.5)],
    mark: published(
      'a trade page on preparing knits: detergent 1.5 to 2 and soda 0.5 to 1.5 g/L at 70 to 80 °C; minutes: common practice',
    ),
  },
  {
    fibres: ['cationic-polyester'],
    toC: 80,
    minutes: 20,
    says: FINISHES,
    doses: [detergent(1)],
    mark: published(
      'Hilton 2011, dyeingworld1.blogspot.com, without its lye: detergent 1 g/L, 80 °C, 20 to 25 min',
    ),
  },
  { fibres: ['acrylic'], toC: 80, minutes: 20, says: FINISHES, doses: [detergent(1)], mark: COMMON_PRACTICE },
  {
    fibres: ['polyester'],
    toC: 60,
    minutes: 20,
    says: `${FINISHES} No boiling alkali: it eats polyester.`,
    doses: [detergent(1)],
    mark: COMMON_PRACTICE,
  },
  {
    fibres: CELLULOSE,
    toC: 90,
    minutes: 60,
    says: 'Simmer with detergent and soda, then rinse: starch and size keep dye out.',
    doses: [detergent(1), soda(2)],
    mark: {
      basis: 'worked out',
      source:
        'a dye supplier’s page: 20 g of soda and 10 mL of detergent to 450 g, simmered an hour; as 2 and 1 g/L at 20:1',
    },
  },
];

const PLAIN: SideBath = {
  toC: 40,
  minutes: 20,
  says: FINISHES,
  doses: [detergent(1)],
  mark: COMMON_PRACTICE,
};

/** How a cloth is scoured before it is dyed: as its most delicate fibre stands it. */
export function scourFor(content: Content): SideBath {
  const row = SCOURS.find(({ fibres }) => content.some(({ fibre }) => fibres.includes(fibre)));
  return row ?? PLAIN;
}

/** From here loose disperse dye is worth clearing: the end of pale, 0.5 % owf on polyester. */
const CLEAR_FROM_OWF_MILLI = 500;
/** Fibres that hydrosulphite with caustic soda harms, or whose dye it destroys: nylon, dyed with acid dye (our rule). */
const NO_CAUSTIC: readonly FibreCode[] = [
  'acetate',
  'triacetate',
  'wool',
  'silk',
  'elastane',
  'metallised',
  'cationic-polyester',
  'acrylic',
  'nylon',
];
const REDUCTION: SideBath = {
  toC: 75,
  minutes: 15,
  says:
    'Reduction clear: the dissolved caustic soda first, then the hydrosulphite. ' +
    'Rinse until the water is clear and neutral.',
  doses: [dose('hydrosulphite', 'sodium hydrosulphite', 2), dose('caustic-soda', 'caustic soda', 1)],
  mark: published(
    'fersantekstil.com: 70 to 80 °C, 10 to 20 min; hydrosulphite 2 g/L; caustic soda 1 g/L from memory',
  ),
};
const MILD: SideBath = {
  toC: 50,
  minutes: 10,
  says: 'Wash loose dye off with a mild detergent, then rinse.',
  doses: [detergent(1)],
  mark: COMMON_PRACTICE,
};
const SOAPING: SideBath = {
  toC: 90,
  minutes: 15,
  says: 'Soap near the boil until the water stays clear: dye that water has spent does not hold on the cloth.',
  doses: [detergent(1)],
  mark: COMMON_PRACTICE,
};

/**
 * How loose dye is cleared, or null where rinsing is enough: soap for reactive and direct-like loose dye on cellulose,
 * reduction clear for disperse dye on polyester from a medium depth, a mild wash where caustic soda would harm.
 */
export function clearFor(dyeClass: DyeClass, dyes: readonly RecipeDye[], content: Content): SideBath | null {
  const has = (fibres: readonly FibreCode[]) => content.some(({ fibre }) => fibres.includes(fibre));
  const delicate = has(NO_CAUSTIC);
  if (dyeClass === 'reactive') return delicate ? MILD : SOAPING;
  if (dyeClass === 'vat') return MILD;
  if (dyeClass !== 'disperse') return null;
  const deep = depthOwfMilli({ dyes }) > CLEAR_FROM_OWF_MILLI;
  return has(['polyester']) && deep && !delicate ? REDUCTION : MILD;
}

/**
 * What goes before the bath: how cloth is scoured. Doses are by the litre of a fresh bath as large as the dye bath. The
 * labels of the products outrank all of it.
 */

import { COMMON_PRACTICE, type Provenance, published } from '../quantity/provenance.ts';
import type { AuxiliaryKind } from './auxiliaries.ts';
import { CELLULOSE } from './dye-facts.ts';
import type { Content, FibreCode } from './fibre.ts';

/** `mgPerLitre` of the fresh bath. */
export interface Dose {
  readonly kind: AuxiliaryKind;
  /** left out, the first in which it is sold */
  readonly form?: string;
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

export const dose = (kind: AuxiliaryKind, name: string, gPerLitre: number): Dose => ({
  kind,
  name,
  mgPerLitre: gPerLitre * 1000,
});
export const detergent = (gPerLitre: number): Dose => dose('detergent', 'neutral detergent', gPerLitre);
export const soda = (gPerLitre: number): Dose => dose('soda-ash', 'soda ash, anhydrous', gPerLitre);

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
        'a dye supplier’s page: 5 mL of neutral soap to 450 g at 60 °C for an hour; as 0.5 g/L: worked out at 1:20',
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
        'a dye supplier’s page: 20 g of soda and 10 mL of detergent to 450 g, simmered an hour; as 2 and 1 g/L at 1:20',
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

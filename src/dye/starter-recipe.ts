/**
 * Recipes to start from where the workroom has none of its own: one for each fibre and class of dye that an open
 * bath can manage. Every figure carries its mark; the dye maker's label goes before all of them.
 */

import {
  BROADBENT,
  COMMON_PRACTICE,
  FROM_MEMORY,
  type Provenance,
  published,
} from '../quantity/provenance.ts';
import { classesFor, type DyeClass } from './dye-class.ts';
import { conditionsFor, METAL_COMPLEX } from './dye-conditions.ts';
import { CELLULOSE, heatLimitFor } from './dye-facts.ts';
import type { Content, FibreCode } from './fibre.ts';
import {
  type Additions,
  aceticOnCloth,
  aceticPerLitre,
  ammoniumFor,
  buffered,
  DIRECT,
  directAdditions,
  type Marked,
  onCloth,
  perLitre,
  RETARDER_MARK,
  reactiveAdditions,
  retarderFor,
  syntanFor,
} from './offered-doses.ts';
import { depthOwfMilli, type Recipe, type RecipeDye } from './recipe.ts';
import { VAT_FAMILIES, VAT_TABLE, VAT_WAYS, vatChemicals } from './vat.ts';

interface Starter {
  readonly fibres: readonly FibreCode[];
  readonly dyeClasses: readonly DyeClass[];
  readonly method: string;
  readonly liquorRatio: Marked<number>;
  readonly temperatureC: Marked<number>;
  readonly holdMinutes: Marked<number>;
  readonly pH: Marked<readonly [from: number, to: number]>;
  readonly additions: Additions;
}

const NYLON = published('tradetextile.com, archive page 38365');
const CARRIER_PAGE = published('textilelearner.blogspot.com, January 2012');
const WOOL_PAGE = published('textileinformation.blogspot.com, November 2007');
const ACRYLIC = published('texpedia.org, June 2012');
const OPEN_POT: Provenance = {
  basis: 'common practice',
  source: 'common practice for an open pot stirred by hand',
};
const UNDER_BOIL: Provenance = {
  basis: 'common practice',
  source: 'common practice: just under the boil, which keeps the cloth still; sources go to 100 °C',
};

const STARTERS: readonly Starter[] = [
  {
    fibres: CELLULOSE,
    dyeClasses: ['reactive'],
    method: 'vinyl sulphone or monofluorotriazine',
    liquorRatio: [20, OPEN_POT],
    temperatureC: [60, published('fibres2fabrics.blogspot.com, March 2011')],
    holdMinutes: [
      60,
      published('faqs.tips, on the hydrolysis of reactive dyes: 45 to 60 min with the alkali'),
    ],
    pH: [[10, 11], published('faqs.tips, on the hydrolysis of reactive dyes')],
    additions: reactiveAdditions,
  },
  {
    fibres: CELLULOSE,
    dyeClasses: ['direct'],
    method: 'at the boil',
    liquorRatio: [20, DIRECT],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [60, DIRECT],
    pH: [[7, 9], FROM_MEMORY],
    additions: directAdditions,
  },
  ...VAT_FAMILIES.map(
    (method): Starter => ({
      fibres: CELLULOSE,
      dyeClasses: ['vat'],
      method,
      liquorRatio: [20, OPEN_POT],
      temperatureC: [VAT_WAYS[method].dyeingC[1], VAT_TABLE],
      holdMinutes: [45, FROM_MEMORY],
      pH: [[12, 13], published('a student trial of vat oxidants: pH 12')],
      additions: (depth) => {
        const { causticMgPerLitre, hydrosMgPerLitre, saltMgPerLitre, mark } = vatChemicals(method, depth);
        return [
          perLitre('caustic-soda', causticMgPerLitre / 1000, mark),
          perLitre('hydrosulphite', hydrosMgPerLitre / 1000, mark),
          ...(saltMgPerLitre === 0
            ? []
            : [perLitre('salt', saltMgPerLitre / 1000, { ...VAT_TABLE, basis: 'worked out' as const })]),
        ];
      },
    }),
  ),
  {
    fibres: ['silk'],
    dyeClasses: ['acid-levelling', 'acid-milling', 'acid-metal-complex'],
    method: 'below the boil',
    liquorRatio: [30, OPEN_POT],
    temperatureC: [85, published('textilelearner.blogspot.com, January 2012, acid dyes on silk')],
    holdMinutes: [45, COMMON_PRACTICE],
    pH: [[4, 6], FROM_MEMORY],
    additions: () => [aceticOnCloth(1, COMMON_PRACTICE)],
  },
  {
    fibres: ['wool'],
    dyeClasses: ['acid-levelling'],
    method: 'fast acid, with acetic acid',
    liquorRatio: [30, WOOL_PAGE],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [60, WOOL_PAGE],
    pH: [[4, 6], published(`${BROADBENT}, p. 246`)],
    additions: () => [
      aceticOnCloth(2, published(`${BROADBENT}, p. 246: 1 to 3 %`)),
      onCloth('glauber-salt', 5, published(`${BROADBENT}, p. 246: 5 to 10 %, crystals`), 'decahydrate'),
    ],
  },
  {
    fibres: ['wool'],
    dyeClasses: ['acid-milling'],
    method: 'weak acid, acid late',
    liquorRatio: [30, WOOL_PAGE],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [60, WOOL_PAGE],
    pH: [[5, 7], published(`${BROADBENT}, p. 246`)],
    additions: () => [onCloth('ammonium-sulphate', 2, FROM_MEMORY), aceticOnCloth(1, WOOL_PAGE)],
  },
  {
    fibres: ['wool'],
    dyeClasses: ['acid-metal-complex'],
    method: METAL_COMPLEX,
    liquorRatio: [30, WOOL_PAGE],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [60, WOOL_PAGE],
    pH: [[6, 7], FROM_MEMORY],
    additions: () => [onCloth('ammonium-sulphate', 3, FROM_MEMORY)],
  },
  {
    fibres: ['nylon'],
    dyeClasses: ['acid-levelling'],
    method: 'weak acid',
    liquorRatio: [20, NYLON],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [45, FROM_MEMORY],
    pH: [[4, 6], NYLON],
    additions: (depth) => [
      aceticOnCloth(1, NYLON),
      onCloth('levelling-agent', 0.5, NYLON),
      ...syntanFor('acid-levelling', depth),
    ],
  },
  {
    fibres: ['nylon'],
    dyeClasses: ['acid-milling'],
    method: 'acid donor, no salt',
    liquorRatio: [20, NYLON],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [45, COMMON_PRACTICE],
    pH: [[5, 7], published(`${BROADBENT}, p. 246, for wool`)],
    additions: (depth) => [
      ammoniumFor('acid-milling', depth),
      onCloth('levelling-agent', 0.5, NYLON),
      ...syntanFor('acid-milling', depth),
    ],
  },
  {
    fibres: ['nylon'],
    dyeClasses: ['acid-metal-complex'],
    method: METAL_COMPLEX,
    liquorRatio: [20, NYLON],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [45, COMMON_PRACTICE],
    pH: [[6, 6.5], published('fibre2fabrics.in, April 2020')],
    additions: (depth) => [
      ammoniumFor('acid-metal-complex', depth),
      onCloth('levelling-agent', 2, published('fibre2fabrics.in, April 2020')),
      ...syntanFor('acid-metal-complex', depth),
    ],
  },
  {
    fibres: ['nylon'],
    dyeClasses: ['disperse'],
    method: 'at or below the boil',
    liquorRatio: [30, OPEN_POT],
    temperatureC: [95, UNDER_BOIL],
    holdMinutes: [45, COMMON_PRACTICE],
    pH: [[5, 6], FROM_MEMORY],
    additions: () => [perLitre('dispersant', 1, FROM_MEMORY), ...buffered(0.25)],
  },
  {
    fibres: ['polyester'],
    dyeClasses: ['disperse'],
    method: 'at the boil, no carrier',
    liquorRatio: [30, OPEN_POT],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [60, CARRIER_PAGE],
    pH: [[4, 5.5], CARRIER_PAGE],
    additions: () => [perLitre('dispersant', 1, CARRIER_PAGE), aceticPerLitre(1, CARRIER_PAGE)],
  },
  {
    fibres: ['polyester'],
    dyeClasses: ['disperse'],
    method: 'with carrier',
    liquorRatio: [30, OPEN_POT],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [60, CARRIER_PAGE],
    pH: [[4, 5.5], CARRIER_PAGE],
    additions: () => [
      perLitre('carrier', 3, CARRIER_PAGE),
      perLitre('dispersant', 2, CARRIER_PAGE),
      aceticPerLitre(1, CARRIER_PAGE),
    ],
  },
  {
    fibres: ['cationic-polyester'],
    dyeClasses: ['basic'],
    method: 'at the boil, easily dyed type',
    liquorRatio: [30, OPEN_POT],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [60, FROM_MEMORY],
    pH: [[4, 5], published('Hilton 2011, dyeingworld1.blogspot.com: pH 4.5')],
    additions: () => [aceticPerLitre(1, COMMON_PRACTICE)],
  },
  {
    fibres: ['acetate'],
    dyeClasses: ['disperse'],
    method: 'open width, below 85 °C',
    liquorRatio: [30, OPEN_POT],
    temperatureC: [80, published('dyes4dyeing.blogspot.com, July 2012')],
    holdMinutes: [60, COMMON_PRACTICE],
    pH: [[5, 6], published('zero-emissions.at, 2013')],
    additions: () => [perLitre('dispersant', 1, FROM_MEMORY), ...buffered(0.25)],
  },
  {
    fibres: ['triacetate'],
    dyeClasses: ['disperse'],
    method: 'at the boil',
    liquorRatio: [30, OPEN_POT],
    temperatureC: [98, UNDER_BOIL],
    holdMinutes: [60, COMMON_PRACTICE],
    pH: [[4.5, 5.5], FROM_MEMORY],
    additions: () => [perLitre('dispersant', 1, FROM_MEMORY), ...buffered(0.5)],
  },
  {
    fibres: ['acrylic'],
    dyeClasses: ['basic'],
    method: 'slowly through 70 to 85 °C',
    liquorRatio: [30, ACRYLIC],
    temperatureC: [98, published('a trial of 2024, napstic 010rzjs202403006')],
    holdMinutes: [60, FROM_MEMORY],
    pH: [[4, 5.5], published('texpedia.org, June 2012: 5 to 5.5; xingwuchemical.com: 4 to 4.5')],
    additions: (depth) => [
      onCloth('retarder', retarderFor(depth), RETARDER_MARK),
      aceticOnCloth(1.1, ACRYLIC),
      onCloth('sodium-acetate', 0.5, ACRYLIC),
    ],
  },
];

/** The classes of dye for which there is a recipe to start from on a fibre, the usual first choice first. */
export function startersFor(fibre: FibreCode): readonly DyeClass[] {
  return classesFor(fibre).filter((dyeClass) => starterOn(fibre, dyeClass));
}

/**
 * A recipe to start from for a cloth, a class of dye and the dyes of a shade; undefined where there is none.
 *
 * It is that of the fibre with the largest share that the class dyes. `method` names the reactive group of a reactive
 * dye, which goes before the usual one. The heat is held to what the most delicate
 * fibre of the cloth stands, even where that dyes poorly.
 */
export function starterRecipe(
  content: Content,
  dyeClass: DyeClass,
  dyes: readonly RecipeDye[],
  method = '',
): Recipe | undefined {
  const byShare = [...content].sort((a, b) => b.shareBp - a.shareBp);
  const found = byShare.flatMap(({ fibre }) => {
    const row = starterOn(fibre, dyeClass, method);
    return row ? [workedBy(row, fibre, method)] : [];
  });
  const [starter] = found;
  if (!starter) return undefined;
  const limit = heatLimitFor(content);
  const [wantedC, wantedMark] = starter.temperatureC;
  const cooler = wantedC > limit.limitC;
  const additions = starter.additions(depthOwfMilli({ dyes }));
  return {
    dyeClass,
    method: starter.method,
    dyes,
    auxiliaries: additions.map(([auxiliary]) => auxiliary),
    liquorRatioMilli: starter.liquorRatio[0] * 1000,
    temperatureC: cooler ? limit.limitC : wantedC,
    holdMinutes: starter.holdMinutes[0],
    pHFrom: starter.pH[0][0],
    pHTo: starter.pH[0][1],
    marks: {
      liquorRatioMilli: starter.liquorRatio[1],
      temperatureC: cooler ? limit.mark : wantedMark,
      holdMinutes: starter.holdMinutes[1],
      pH: starter.pH[1],
      ...Object.fromEntries(additions.map(([{ kind }, mark]) => [`auxiliaries.${kind}`, mark])),
    },
  };
}

/** Reactive dyes are worked at the heat of their reactive group, the upper end of its range. */
function workedBy(starter: Starter, fibre: FibreCode, method: string): Starter {
  if (!starter.dyeClasses.includes('reactive') || method === starter.method) return starter;
  const way = conditionsFor(fibre, 'reactive').find((each) => each.method === method);
  if (!way) return starter;
  return { ...starter, method, temperatureC: [way.temperatureC[1], way.mark] };
}

/** The row of a method that is named, else the usual one. */
function starterOn(fibre: FibreCode, dyeClass: DyeClass, method = ''): Starter | undefined {
  const rows = STARTERS.filter((row) => row.fibres.includes(fibre) && row.dyeClasses.includes(dyeClass));
  return rows.find((row) => row.method === method) ?? rows[0];
}

// Long because it is one table: every blend that a source tells of, its order and why.
/**
 * Cloth of several fibres: which baths follow each other and why, and what must not be tried. Rows with figures come from
 * trade pages of dye makers; the label outranks them.
 */

import { BROADBENT, COMMON_PRACTICE, type Provenance, published } from '../quantity/provenance.ts';
import type { DyeClass, RecipeClass } from './dye-class.ts';
import { CELLULOSE } from './dye-facts.ts';
import type { Content, FibreCode } from './fibre.ts';

/** Fibres that are dyed alike, and so stand in the same place of the order. */
export type FibreFamily =
  | 'cellulose'
  | 'wool'
  | 'silk'
  | 'nylon'
  | 'polyester'
  | 'cationic-polyester'
  | 'acetate'
  | 'triacetate'
  | 'acrylic';

const ALONE: readonly FibreFamily[] = [
  'wool',
  'silk',
  'nylon',
  'polyester',
  'cationic-polyester',
  'acetate',
  'triacetate',
  'acrylic',
];

/** The family of a fibre; undefined for one that no bath is made for. */
export function familyOf(fibre: FibreCode): FibreFamily | undefined {
  return CELLULOSE.includes(fibre) ? 'cellulose' : ALONE.find((each) => each === fibre);
}

/** What is known of two fibres in one cloth. */
interface BlendRule {
  /** also the id of its warning */
  readonly id: string;
  readonly pair: readonly [FibreFamily, FibreFamily];
  /** The order with its figures, as sentences. */
  readonly says: string;
  readonly why: string;
  readonly mark: Provenance;
}

const MAKER = (what: string): Provenance => published(`organicdye.com, a dye maker’s page on ${what}`);

export const BLEND_RULES: readonly BlendRule[] = [
  {
    id: 'nylon-cellulose',
    pair: ['nylon', 'cellulose'],
    says:
      'Reactive dye on the cellulose first (at 32 °C, to 49 to 60 °C with soda), rinse, neutralise with acetic acid 1 g/L, soap at the ' +
      'boil; then acid dye on the nylon. Or acid and direct dye in one bath: 41 °C at pH 7 to 8, acid dye, 96 °C for 60 minutes, cool to ' +
      '60 °C, direct dye, 74 to 79 °C, salt 5 to 20 % over 30 minutes.',
    why: 'boiling soap and alkali would strip acid dye',
    mark: {
      basis: 'published',
      source: 'organicdye.com, a dye maker’s pages on nylon with cellulose; the reason worked out',
    },
  },
  {
    id: 'cellulose-polyester',
    pair: ['polyester', 'cellulose'],
    says:
      'Dye the polyester first and clear it of unfixed dye, then the cellulose: reactive, direct or vat dye. Before vat dye, or where ' +
      'staining is heavy, clear it first. Reactive first, with the disperse bath as its wash, is published too: try it on a swatch.',
    why: 'disperse dye needs acid and heat that reactive dye does not stand',
    mark: published(
      `organicdye.com, a dye maker’s page on polyester with cellulose; ${BROADBENT}, pp. 419–421; the other way round: Smith and Rucker, p2ric sectors75az`,
    ),
  },
  {
    id: 'wool-cellulose',
    pair: ['wool', 'cellulose'],
    says:
      'One neutral bath of direct dye with neutral acid dye and a wool-blocking agent by its label. On viscose also: reactive dye first, salt 100 g/L, ' +
      '60 °C, soda to pH 9 at most, 45 minutes; then the wool with acid dye at pH 3.8, 60 minutes, soap 10 minutes. No vat dye, no soda bath above pH 9.',
    why: 'wool takes nearly all dye where the cellulose is not dyed first, and alkali dissolves it',
    mark: published(
      `${BROADBENT}, p. 413; project0781.com, dyeing blends; organicdye.com, a dye maker’s page on wool with rayon`,
    ),
  },
  {
    id: 'wool-nylon',
    pair: ['wool', 'nylon'],
    says:
      "One bath of acid dye for both, with a nylon-blocking agent 1 % and leveller 1.5 %; Glauber's salt 5 %, or with milling dye ammonium " +
      'sulphate 4 % at pH 6 to 6.5; from 38 to 49 °C to 93 to 96 °C, 60 minutes.',
    why: 'nylon takes the dye first in pale shades',
    mark: MAKER('wool with nylon'),
  },
  {
    id: 'wool-polyester',
    pair: ['wool', 'polyester'],
    says:
      'Dye the polyester first, at pH 5, and keep it short: long boiling harms the wool. Clear with non-ionic detergent at 70 °C, or by the label with hydrosulphite and weak ammonia, never with caustic ' +
      'soda; then acid dye on the wool.',
    why: 'wool is harmed above 105 °C and by caustic soda',
    mark: published(`${BROADBENT}, p. 423`),
  },
  {
    id: 'silk-cellulose',
    pair: ['silk', 'cellulose'],
    says:
      'One bath of reactive dye gives the silk and the other fibre different tones: soda to pH 10.5 at most, measured, below 40 °C. Or acid dye ' +
      'on the silk and direct dye on the rest.',
    why: 'hot alkali dissolves silk',
    mark: COMMON_PRACTICE,
  },
  {
    id: 'acetate-cellulose',
    pair: ['acetate', 'cellulose'],
    says:
      'One neutral bath of disperse and direct dye with salt at 75 to 80 °C, and no soda; wash with detergent at 50 °C at most. A cationic fixer ' +
      'stops direct dye bleeding into the acetate.',
    why: 'alkali turns acetate back into cellulose',
    mark: {
      basis: 'common practice',
      source: 'common practice; the fixer: a fixer maker’s note on acetate stripes',
    },
  },
  {
    id: 'nylon-polyester',
    pair: ['nylon', 'polyester'],
    says:
      'Nylon takes disperse dye faster and deeper than polyester, so that one bath gives two shades: disperse dye to a pale target on the ' +
      'nylon, clear with detergent, then acid dye fills the nylon alone.',
    why: 'the nylon loads first with disperse dye, and a reduction clear would destroy its acid dye',
    mark: published('Fibers and Polymers 7(2), 2006, pp. 174–179; the order: common practice'),
  },
  {
    id: 'polyester-acrylic',
    pair: ['polyester', 'acrylic'],
    says:
      'At 49 °C disperse dye with carrier; at 77 °C the cationic retarder and basic dye at pH 4 to 4.5; to the boil in 45 minutes, 1 to 2 hours; ' +
      'scour at 83 °C, cool slowly.',
    why: 'basic dye goes in once the dispersion has settled on the cloth',
    mark: MAKER('polyester with acrylic'),
  },
];

/** The place of each class in the order of baths, the first first. */
const ORDER: readonly DyeClass[] = [
  'disperse',
  'basic',
  'reactive',
  'acid-levelling',
  'acid-milling',
  'direct',
];

/** The families of a content, the largest share first. */
function familiesOf(content: Content): readonly FibreFamily[] {
  const byShare = [...content].sort((a, b) => b.shareBp - a.shareBp);
  return [...new Set(byShare.flatMap(({ fibre }) => familyOf(fibre) ?? []))];
}

/** What is known of the pairs of fibres in a cloth. */
export function blendRulesFor(content: Content): readonly BlendRule[] {
  const families = familiesOf(content);
  return BLEND_RULES.filter(({ pair }) => pair.every((family) => families.includes(family)));
}

/** Fibres that do not stand the alkali of reactive dye beside them. */
const NO_ALKALI: readonly FibreFamily[] = ['wool', 'acetate', 'triacetate'];

/** The class that dyes a family in a cloth of these families. */
function classIn(family: FibreFamily, families: readonly FibreFamily[]): DyeClass {
  const beside = (...others: readonly FibreFamily[]) => others.some((each) => families.includes(each));
  const neutral = beside('cellulose') && beside(...NO_ALKALI);
  // Beside direct dye in a neutral bath only acid dyes that need no strong acid.
  const acid = neutral ? 'acid-milling' : 'acid-levelling';
  switch (family) {
    case 'polyester':
    case 'acetate':
    case 'triacetate':
      return 'disperse';
    case 'acrylic':
    case 'cationic-polyester':
      return 'basic';
    case 'cellulose':
      return neutral ? 'direct' : 'reactive';
    case 'silk':
      return beside('cellulose') && !neutral && !beside('nylon') ? 'reactive' : acid;
    case 'wool':
    case 'nylon':
      return acid;
  }
}

/** The baths that a solid shade on a blend needs, in order; one family or none has none to be put in order. */
export function blendStages(content: Content): readonly DyeClass[] {
  const families = familiesOf(content);
  const wanted = new Set(families.map((family) => classIn(family, families)));
  return ORDER.filter((dyeClass) => wanted.has(dyeClass));
}

/** The place of a class among dyeings, from 0; -1 where it is none of them. Acid dyes of any type stand for each other. */
export function stageIn(stages: readonly DyeClass[], dyeClass: RecipeClass): number {
  const isAcid = (each: RecipeClass) => each.startsWith('acid-');
  return stages.findIndex((stage) => stage === dyeClass || (isAcid(stage) && isAcid(dyeClass)));
}

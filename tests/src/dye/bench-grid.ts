import type { Finish } from '../../../src/dye/cloth-finish.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import type { FibreCode } from '../../../src/dye/fibre.ts';

/** What a source says of a class of dye on a fibre: it dyes, only stains, does nothing, or only by the label. */
export type OnFibre = 'dyes' | 'stains' | 'no' | 'label';

type Row = readonly [
  fibres: readonly FibreCode[],
  reactive: OnFibre,
  direct: OnFibre,
  vat: OnFibre,
  acid: OnFibre,
  disperse: OnFibre,
  basic: OnFibre,
  source: string,
];

/**
 * Fibre by class of dye. Common practice and memory where no source is named: acid dyes are those of wool, silk and nylon
 * (Broadbent, Basic Principles of Textile Coloration, SDC 2001). Vat dye wants caustic soda, which dissolves wool and
 * harms silk (Broadbent, p. 413); it dyes nylon, yet no method with figures was found (Baig, Autex Res. J. 10(1), 2010).
 */
const ROWS: readonly Row[] = [
  [
    ['cotton', 'linen', 'hemp', 'viscose', 'modal', 'lyocell'],
    ...(['dyes', 'dyes', 'dyes', 'no', 'stains', 'no'] as const),
    'basic only on a mordant: Beech, The Dyeing of Cotton Fabrics, about 1901',
  ],
  [['silk'], 'dyes', 'dyes', 'label', 'dyes', 'stains', 'dyes', 'common practice'],
  [['wool'], 'dyes', 'stains', 'label', 'dyes', 'stains', 'stains', 'common practice'],
  [['nylon'], 'stains', 'stains', 'label', 'dyes', 'dyes', 'no', 'Broadbent, pp. 246 and 286'],
  [['polyester'], 'no', 'no', 'no', 'no', 'dyes', 'no', 'Broadbent, on disperse dyes'],
  [['cationic-polyester'], 'no', 'no', 'no', 'no', 'dyes', 'dyes', 'Hilton 2011'],
  [['acetate', 'triacetate'], 'no', 'no', 'no', 'no', 'dyes', 'stains', 'common practice'],
  [['acrylic'], 'no', 'no', 'no', 'no', 'dyes', 'dyes', 'common practice: disperse dye pale'],
  [
    ['elastane'],
    'no',
    'no',
    'no',
    'stains',
    'stains',
    'no',
    'common practice: acid and disperse dye stain it',
  ],
  [['olefin'], 'no', 'no', 'no', 'no', 'no', 'no', 'common practice: it has nothing that dye holds to'],
  [['glass'], 'no', 'no', 'no', 'no', 'no', 'no', 'common practice'],
  [['metallised'], 'no', 'no', 'no', 'no', 'stains', 'no', 'from memory: its film may tint'],
];

/** Every fibre by every class. */
export const GRID: readonly (readonly [FibreCode, DyeClass, OnFibre, string])[] = ROWS.flatMap(
  ([fibres, reactive, direct, vat, acid, disperse, basic, source]) =>
    fibres.flatMap((fibre) => [
      [fibre, 'reactive', reactive, source] as const,
      [fibre, 'direct', direct, source] as const,
      [fibre, 'vat', vat, source] as const,
      [fibre, 'acid-levelling', acid, source] as const,
      [fibre, 'acid-milling', acid, source] as const,
      [fibre, 'acid-metal-complex', acid, source] as const,
      [fibre, 'disperse', disperse, source] as const,
      [fibre, 'basic', basic, source] as const,
    ]),
);

/** What must be told of each finish before the scour, whatever the cloth is made of. */
export const LOST_WITH: Readonly<Record<Finish, readonly [told: RegExp, source: string]>> = {
  'flame-retardant': [
    /flame proofing is lost.*done anew by whoever answers for it.*no chlorine bleach/s,
    'MIT 21M.735, note on flame retarding',
  ],
  'water-repellent': [
    /keeps dye out: scour until a drop of water sinks in within 5 seconds/,
    'common practice',
  ],
  parchment: [/stays through scour and dye bath/, 'Mercer 1850, on parchmentising'],
  starched: [/wash out in the scour.*comes back limp/, 'byebyebimari.com, on organdie'],
};

import type { Garment, Tier } from './garments.ts';
import type { Hand } from './hand.ts';
import type { DemoPart } from './parts.ts';

export const VOILE = 'Nylon voile 150';
/** The three shades that step down the great skirt. */
export const TIDES = ['Spume', 'Slack water', 'Low water'] as const;

export const NYLON_VOILE = {
  name: VOILE,
  construction: 'voile',
  fibres: { nylon: '100' },
  width: '150',
  usable_width: '147',
  mass_per_area: '36',
  ply_limit: '4',
  supplier: 'Copperlane Sheers',
  article: 'invented 4230',
  note: 'Mass from a weighed metre.',
};

/** Depth and fullness of the ten, from the waist down: the upper ones are long and lie over those below. */
const WAVES = [
  ['46', '8.5'],
  ['46', '9.6'],
  ['45', '9.6'],
  ['44', '7.5'],
  ['43', '8.5'],
  ['41', '7.5'],
  ['39', '8'],
  ['36', '7.2'],
  ['32', '6.5'],
  ['26', '6'],
] as const;

const ruffle = (at: number) => `Tier ${at + 1}r`;
const tier = (at: number) => `Tier ${at + 1}`;

/** Ten tiers whose three shades step by one strip from tier to tier, each with a ruffle of the shade that comes next. */
function ruffledTiers(): Tier[] {
  return WAVES.flatMap(([depth, fullness], at): Tier[] => [
    {
      name: tier(at),
      cloth: VOILE,
      hangs: { drop: String(4 + at * 9.8) },
      depth,
      fullness,
      closing: 'ring',
      wholeRepeats: true,
      more: { offset: String(at % 3) },
      blocks: [
        [TIDES[0], '1'],
        [TIDES[1], '1', 'meet'],
        [TIDES[2], '1'],
      ],
    },
    {
      name: ruffle(at),
      cloth: VOILE,
      hangs: { edges: tier(at) },
      depth: '8',
      fullness: '2',
      closing: 'ring',
      blocks: [[TIDES[(at + 1) % 3] ?? TIDES[0], '1', at % 3 === 0 ? 'meet' : '']],
    },
  ]);
}

/** Ten ruffled tiers over a cage and a layer of net. */
export const greatSkirt = (hand: Hand): Garment => ({
  name: 'Storm-tide great skirt',
  due: hand.day(110),
  note: 'Invented. Carried at the head of the parade: foam at the waist and deep water at the hem, one strip lower each tier.',
  girths: {
    0: '72',
    26: '190',
    64: '330',
    98: '450',
    128: '545',
  },
  more: {
    waist_height: '108',
    clearance: '4',
    foundation_ease: '10',
    opening: '28',
    fastening: 'hooks',
    fastener: '4',
    over: '102',
  },
  tiers: ruffledTiers(),
});

/** What it has besides its tiers, in centimetres. */
export const GREAT_SKIRT_PARTS: readonly DemoPart[] = [
  {
    kind: 'closing',
    name: 'Waistband with hooks',
    cloth: 'Cotton lawn 150',
    shade: 'Natural',
    asked: {
      waist: '72',
      laps: '5',
      finished: '5',
      seam: '1',
      opening: '28',
      spacing: '4',
      pull_over: '102',
    },
  },
  {
    kind: 'cage',
    name: 'Cage of four hoops',
    asked: {
      girths: '190, 330, 450, 545',
      lap: '10',
      seam: '1',
      drop: '128',
      turns: '5',
      tapes: '10',
      coil: '25 m',
    },
  },
  {
    kind: 'layer',
    name: 'Net over the cage',
    cloth: 'Nylon net 140',
    shade: 'Undyed white',
    asked: { cut_depth: '112', widths: '3', closing: 'ring' },
  },
  {
    kind: 'pleats',
    name: 'Pleated flounce of the band',
    cloth: VOILE,
    shade: TIDES[1],
    asked: {
      kind: 'box',
      finished: '76',
      closing: 'ring',
      face: '3',
      strip: '147',
      seam: '1',
      cut_depth: '14',
    },
  },
  {
    kind: 'flounce',
    name: 'Circular flounce of the hem',
    cloth: VOILE,
    shade: TIDES[0],
    asked: {
      seam: '545',
      depth: '18',
      circles: '2.5',
      sectors: '2',
      join: '1',
      upper: '1',
      hem: '2',
      width: '147',
    },
  },
  {
    kind: 'trim',
    name: 'Crin 25 mm',
    asked: { edge: '690', fullness: '1', joins: '2', per_join: '2.5', edges: '1' },
  },
  {
    kind: 'gathering',
    name: 'Gathering of tier 10',
    asked: { flat: '1900', finished: '376', rows: '2', most: '3 m' },
  },
];

import { describe, type Garment } from './garments.ts';
import type { Hand } from './hand.ts';

/** Described a moment ago and cut from what lies on the shelf. */
export function describePetticoat(hand: Hand): void {
  describe(hand, (minute) => hand.minutesAgo(7 - minute / 4), 'Tamsin', petticoat(hand));
}

/** Oval hoops, a foundation layer, a ratio, a band on a face, and a yoke that is cut along the cloth. */
const petticoat = (hand: Hand): Garment => ({
  name: 'Bell-buoy petticoat',
  due: hand.day(46),
  note: 'Invented. Two storms of net over oval hoops, and a red band that shows when she turns.',
  girths: {
    0: '72',
    24: { width: '46', depth: '38' },
    60: { width: '84', depth: '70' },
    92: { width: '104', depth: '88' },
  },
  more: {
    profile: 'domed',
    waist_height: '104',
    clearance: '12',
    foundation_ease: '6',
    opening: '30',
    fastening: 'ties',
    over: '98',
  },
  tiers: [
    {
      name: 'Yoke',
      cloth: 'Cotton lawn 150',
      hangs: { drop: '2' },
      depth: '10',
      fullness: '1.2',
      closing: 'ring',
      stripLength: '118',
      more: {
        placed: 'lower',
        drop: '12',
        direction: 'along',
        seam_kind: 'french',
        seam: '',
        hem: '0',
        lower_edge: 'raw',
      },
      blocks: [['Natural', '1']],
    },
    {
      name: 'Upper net',
      cloth: 'Nylon net 140',
      hangs: { foundation: '10' },
      depth: '36',
      fullness: '2',
      closing: 'ring',
      more: { overlap: '4', lower_edge: 'raw', hem: '', opening_way: 'unsewn' },
      blocks: [
        ['Mussel black', '2'],
        ['Fog grey', '1', 'meet'],
      ],
    },
    {
      name: 'Lower net',
      cloth: 'Nylon net 140',
      hangs: { foundation: '42' },
      depth: '44',
      fullness: '1.6',
      ratioOf: 'Upper net',
      closing: 'ring',
      more: { offset: '1', lower_edge: 'raw', hem: '' },
      blocks: [
        ['Mussel black', '2'],
        ['Fog grey', '1', 'meet'],
      ],
    },
    {
      name: 'Red band',
      cloth: 'Cotton lawn 150',
      hangs: { face: 'Lower net', height: '16' },
      depth: '8',
      fullness: '1.25',
      closing: 'ring',
      stripLength: '104',
      more: { seam_kind: 'french', seam: '', hem: '' },
      blocks: [
        ['Buoy red', '2'],
        ['Rope', '1', 'any', 'Voile, polyester and cotton'],
      ],
    },
  ],
});

import { readGarment } from '../server/garments/garment/records.ts';
import { finishGarment } from '../server/garments/garment/verbs.ts';
import { newGarmentSchema, readNewChoices } from '../server/garments/new/fields.ts';
import { createGarment } from '../server/garments/new/verbs.ts';
import { readTierChoices, tierSchema } from '../server/garments/tier/fields.ts';
import { addTier } from '../server/garments/tier/verbs.ts';
import type { Hand } from './hand.ts';

export interface Tier {
  readonly name: string;
  readonly cloth: string;
  /** the drop in centimetres on the form or its foundation, or the name of the tier that it is sewn on */
  readonly hangs:
    | { readonly drop: string }
    | { readonly foundation: string }
    | { readonly edges: string }
    | { readonly face: string; readonly height: string };
  readonly depth: string;
  readonly fullness: string;
  readonly closing: 'ring' | 'open';
  readonly blocks: readonly [shade: string, strips: string, lots?: 'meet' | 'any' | '', cloth?: string][];
  readonly stripLength?: string;
  readonly wholeRepeats?: boolean;
  /** the tier whose cut length its fullness is a ratio of */
  readonly ratioOf?: string;
  /** other fields of its form, as they are typed */
  readonly more?: Readonly<Record<string, string>>;
}

export interface Garment {
  readonly name: string;
  readonly due: string;
  readonly note: string;
  /** girths by drop from the waist, or the hoops that stand there, in centimetres */
  readonly girths: Readonly<Record<string, string | { readonly width: string; readonly depth: string }>>;
  /** other fields of its form, as they are typed */
  readonly more?: Readonly<Record<string, string>>;
  readonly tiers: readonly Tier[];
}

/** Describes a garment and its tiers, a few minutes each. Gives its code. */
export function describe(
  hand: Hand,
  when: (minute: number) => string,
  who: string,
  garment: Garment,
): string {
  const { name, note, due, girths, tiers, more = {} } = garment;
  const asked = {
    name,
    due_on: due,
    note,
    girths: Object.entries(girths)
      .map(([drop, girth]) => ({ drop, ...(typeof girth === 'string' ? { girth } : girth) }))
      .sort((a, b) => Number(a.drop) - Number(b.drop)),
    ...more,
  };
  const key = hand.fillsIn(when(0), who, asked, {
    schema: ({ units }) => newGarmentSchema(units, readNewChoices(hand.book)),
    write: createGarment,
  });
  const code = hand.book.answerOf(key)?.location.split('/').at(-1) ?? '';
  for (const [at, tier] of tiers.entries()) putTier(hand, when(4 + 4 * at), who, code, tier);
  return code;
}

function putTier(hand: Hand, when: string, who: string, code: string, tier: Tier): void {
  const { hangs } = tier;
  const asked = {
    name: tier.name,
    cloth_id: hand.id('cloth', tier.cloth),
    ...hangingFields(hand, hangs),
    depth: tier.depth,
    fullness: tier.fullness,
    closing: tier.closing,
    seam: '1',
    end: tier.closing === 'open' ? '1' : '',
    heading: '0',
    hang_seam: '1.5',
    hem: '1',
    strip_length: tier.stripLength ?? '',
    finish_repeat: tier.wholeRepeats ? 'yes' : '',
    ratio_tier_id: tier.ratioOf ? hand.id('tier', tier.ratioOf) : '',
    ...tier.more,
    blocks: tier.blocks.map(([shade, strips, lots = '', cloth]) => ({
      shade_id: hand.id('shade', shade),
      strips,
      lots,
      cloth_id: cloth ? hand.id('cloth', cloth) : '',
    })),
  };
  hand.fillsIn(when, who, asked, {
    schema: ({ units }) => tierSchema(units, readTierChoices(hand.book, readGarment(hand.book, code), 0)),
    write: (tx, form) => addTier(tx, code, form),
  });
}

function hangingFields(hand: Hand, hangs: Tier['hangs']) {
  if ('edges' in hangs) return { hangs: `edge-${hand.id('tier', hangs.edges)}` };
  if ('face' in hangs) return { hangs: `face-${hand.id('tier', hangs.face)}`, height: hangs.height };
  if ('foundation' in hangs) return { hangs: 'foundation', drop: hangs.foundation };
  return { hangs: 'form', drop: hangs.drop };
}

export function finishSewing(hand: Hand, when: string, who: string, code: string): void {
  hand.writes(when, who, { code }, (tx) => finishGarment(tx, code));
}

/** Worn last year's way by whoever rings the bell at the head of the parade. */
export const sash = (hand: Hand): Garment => ({
  name: 'Bell-ringer’s sash',
  due: hand.day(-29),
  note: 'Invented. Lies flat over the shoulder.',
  girths: { 0: '64', 90: '82' },
  tiers: [
    {
      name: 'Sash frill',
      cloth: 'Cotton organdie 137',
      hangs: { drop: '12' },
      depth: '9',
      fullness: '2',
      closing: 'open',
      blocks: [['Rope', '1']],
    },
  ],
});

/** A hooped skirt: three tiers that hang from it, and a ruffle at the edge of two. */
export const skirt = (hand: Hand): Garment => ({
  name: 'Lamp-bearer’s tide skirt',
  due: hand.day(24),
  note: 'Invented. From deep water at the hem to the sky at the waist, with a line of lanterns between.',
  girths: { 0: '70', 20: '104', 60: '200', 100: '310', 116: '340' },
  more: { opening: '25', fastening: 'hooks', fastener: '5', over: '104' },
  tiers: [
    {
      name: 'Sky tier',
      cloth: 'Nylon organza 150',
      hangs: { drop: '8' },
      depth: '34',
      fullness: '2.5',
      closing: 'ring',
      stripLength: '72',
      wholeRepeats: true,
      blocks: [
        ['Deep tide', '2'],
        ['Foam', '1'],
      ],
    },
    {
      name: 'Deep tier',
      cloth: 'Nylon organza 150',
      hangs: { drop: '32' },
      depth: '38',
      fullness: '3',
      closing: 'ring',
      stripLength: '72',
      wholeRepeats: true,
      blocks: [
        ['Harbour ink', '1'],
        ['Deep tide', '1'],
      ],
    },
    {
      name: 'Hem tier',
      cloth: 'Nylon organza 150',
      hangs: { drop: '62' },
      depth: '44',
      fullness: '3',
      closing: 'ring',
      stripLength: '72',
      wholeRepeats: true,
      blocks: [
        ['Harbour ink', '2'],
        ['Dusk violet', '1'],
      ],
    },
    {
      name: 'Lantern ruffle',
      cloth: 'Polyester organza 150',
      hangs: { edges: 'Deep tier' },
      depth: '7',
      fullness: '2',
      closing: 'ring',
      wholeRepeats: true,
      blocks: [
        ['Lantern gold', '1'],
        ['Ember', '1'],
      ],
    },
    {
      name: 'Foam ruffle',
      cloth: 'Polyester tulle 137',
      hangs: { edges: 'Hem tier' },
      depth: '9',
      fullness: '2.5',
      closing: 'ring',
      blocks: [['Foam', '1', 'any']],
    },
  ],
});

/** A small cape that opens in front, wanted first. */
export const capelet = (hand: Hand): Garment => ({
  name: 'Torchlighter’s capelet',
  due: hand.day(3),
  note: 'Invented. Opens in front; keep the chiffon from any flame: the torches are electric.',
  girths: { 0: '46', 25: '130', 60: '230' },
  tiers: [
    {
      name: 'Collar frill',
      cloth: 'Cotton lawn 150',
      hangs: { drop: '2' },
      depth: '11',
      fullness: '3',
      closing: 'open',
      blocks: [['Rope', '1']],
    },
    {
      name: 'Upper fall',
      cloth: 'Viscose chiffon 140',
      hangs: { drop: '10' },
      depth: '32',
      fullness: '2.5',
      closing: 'open',
      blocks: [['Coral', '1']],
    },
    {
      name: 'Lower fall',
      cloth: 'Viscose chiffon 140',
      hangs: { drop: '40' },
      depth: '40',
      fullness: '2.5',
      closing: 'open',
      blocks: [
        ['Buoy red', '1'],
        ['Coral', '1'],
      ],
    },
  ],
});

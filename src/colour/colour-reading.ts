import type { Lab } from './lab.ts';

/** What light Lab values are for (CIE 15): daylight, its print-trade kin, a bulb, a fluorescent tube, a shop's tube. */
export const ILLUMINANTS = ['D65', 'D50', 'A', 'F2', 'F11'] as const;
export type Illuminant = (typeof ILLUMINANTS)[number];

/** The standard observer, by the degrees of its field of view (CIE 15). */
export const OBSERVERS = ['2', '10'] as const;
export type Observer = (typeof OBSERVERS)[number];

/** What Lab values hold for: the same cloth has others under another lamp, and for the other observer. */
export interface Viewing {
  readonly illuminant: Illuminant;
  readonly observer: Observer;
}

/** What a screen's colours are for, and all that is worked out from them (IEC 61966-2-1). */
export const SCREEN_VIEWING: Viewing = { illuminant: 'D65', observer: '2' };

/** "D65, 10°". */
export function sayViewing({ illuminant, observer }: Viewing): string {
  return `${illuminant}, ${observer}°`;
}

export const HOW_READ = ['instrument', 'photo pair', 'photo card', 'eye', 'list'] as const;
/** How a colour was got: a photo pair is the difference from a known colour in one photo, a list a supplier's figures. */
export type HowRead = (typeof HOW_READ)[number];

/**
 * How sure a reading is if nobody says otherwise: hundredths of a CIEDE2000 unit that 19 of 20 such readings lie within. A
 * pair in one photo and a photo with a card: simulated with measured phone sensitivities and 612 textile spectra, the
 * worse end of each; an instrument, a list (another instrument) and an eye before a screen: our rule.
 */
export const USUAL_UNCERTAINTY_CENTI: Readonly<Record<HowRead, number>> = {
  instrument: 50,
  'photo pair': 100,
  'photo card': 400,
  eye: 800,
  list: 100,
};

/** What lies below the layers: 'either' where white and black below look alike. */
export const BACKINGS = ['white', 'black', 'either'] as const;
export type Backing = (typeof BACKINGS)[number];

/** Where on its piece a lot was read: the begin is the end that came off the roll first. */
export const PLACES_ON_PIECE = ['begin', 'middle', 'end', 'left', 'right'] as const;
export type PlaceOnPiece = (typeof PLACES_ON_PIECE)[number];

/** A colour as it was read once. */
export interface ColourReading extends Viewing {
  readonly lab: Lab;
  readonly how: HowRead;
  readonly uncertaintyCenti: number;
  readonly state: 'dry' | 'wet';
  /** null where nobody wrote it down */
  readonly layers: number | null;
  readonly backing: Backing | null;
  readonly place: PlaceOnPiece | null;
}

import type { AreaNames } from '../../../src/colour/photo-pair.ts';
import type { PhotoSetTable } from '../../database/photo-tables.ts';

export type PhotoKind = PhotoSetTable['kind'];

export const PHOTO_KIND_WORDS: Readonly<Record<PhotoKind, string>> = {
  pair: 'Two cloths side by side',
  backings: 'One sheer cloth, over white and over black',
  alone: 'One cloth beside the card',
};

export const BACKING_WORDS = {
  white: 'White',
  black: 'Black',
  either: 'Either: white and black below look alike',
} as const;

const CARD = 'Grey card';

/** What is marked on a photo, as it is called on its page. */
export function areaNames(kind: PhotoKind): AreaNames {
  if (kind === 'backings') return { card: CARD, one: 'Over white', other: 'Over black' };
  return { card: CARD, one: 'Cloth A', other: 'Cloth B' };
}

/** What is marked on a photo, the card first. */
export function areasOfKind(kind: PhotoKind) {
  return kind === 'alone' ? (['card', 'one'] as const) : (['card', 'one', 'other'] as const);
}

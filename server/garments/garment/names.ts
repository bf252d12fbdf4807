import type { Reader } from '../../database/book.ts';
import type { Chip } from '../../kit/chip.ts';
import { countOf, listed } from '../../kit/words.ts';
import { readClothNames, readShadeNames } from '../../shelf/names.ts';
import { clothsOfPart } from '../parts/cut.ts';
import { clothsOf } from '../versions/queries.ts';
import type { Garment, TierFigures } from './records.ts';
import { tiersIn } from './worked.ts';

/** The names that a garment's pages show. A shade keeps one letter on a page, so that it can be told without colour. */
export interface Names {
  cloth(clothId: number): string;
  shade(shadeId: number): string;
  colour(shadeId: number): string | null;
  letter(shadeId: number): string;
  chip(shadeId: number): Chip;
}

/** Reads names; letters go to the shades in the order given, A first. */
export function readNames(reader: Reader, clothIds: readonly number[], shadeIds: readonly number[]): Names {
  const cloths = readClothNames(reader, [...new Set(clothIds)]);
  const shades = readShadeNames(reader);
  const order = [...new Set(shadeIds)];
  const shade = (id: number) => shades.get(id)?.name ?? 'a shade';
  const colour = (id: number) => shades.get(id)?.colour ?? null;
  return {
    cloth: (id) => cloths.get(id)?.name ?? 'a cloth',
    shade,
    colour,
    letter: (id) => letterOf(order.indexOf(id)),
    chip: (id) => ({ colour: colour(id), name: shade(id), href: `/shelf/shades/${id}` }),
  };
}

/** The names of all cloths and shades of a garment; its shades are lettered from the top tier down. */
export function namesOf(reader: Reader, garment: Garment): Names {
  return readNames(reader, clothsOf(garment), shadesOf(garment));
}

/** The shades of the tiers that are in, from the top down, and then of the parts: the order in which they get their letters. */
export function shadesOf(garment: Garment): number[] {
  const parts = garment.parts.filter(({ takenOutAt }) => takenOutAt === null);
  return [
    ...tiersIn(garment).flatMap(({ blocks }) => blocks.map(({ shadeId }) => shadeId)),
    ...parts.flatMap((part) => clothsOfPart(garment, part).map(({ shadeId }) => shadeId)),
  ];
}

/** What is told apart by letters, from place 0: A to Z, then AA, AB and so on; '?' for a place below 0. */
export function letterOf(place: number): string {
  if (place < 0) return '?';
  const last = String.fromCharCode(65 + (place % 26));
  return place < 26 ? last : letterOf(Math.floor(place / 26) - 1) + last;
}

/** The name of a tier of the garment by its number. */
export type TierNames = (tierId: number) => string;

/** "10 tiers and 9 ruffles" of tiers: what is sewn to one of them is its ruffle. */
export function countTiers(tiers: readonly Pick<TierFigures, 'onTierId'>[]): string {
  const ruffles = countRuffles(tiers);
  const whole = countOf(tiers.length - ruffles, 'tier', 'tiers');
  return ruffles === 0 ? whole : listed([whole, countOf(ruffles, 'ruffle', 'ruffles')]);
}

export function countRuffles(tiers: readonly Pick<TierFigures, 'onTierId'>[]): number {
  return tiers.filter(({ onTierId }) => onTierId !== null).length;
}

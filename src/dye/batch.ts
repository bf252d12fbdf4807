/** What a batch is made of: its recipe, the lengths that go into it and its vessel. Lengths in ticks. */
import type { ClothState } from './cloth-finish.ts';
import type { Content, FibreCode } from './fibre.ts';
import type { HeaterKind, Material } from './heater.ts';
import type { Recipe } from './recipe.ts';

/** A recipe as a batch is worked out by it. */
export interface RecipeOfBatch {
  readonly id: number;
  readonly name: string;
  readonly version: number;
  readonly shade: { readonly name: string };
  /** the fibre that it was made for */
  readonly fibre: FibreCode;
  readonly recipe: Recipe;
  readonly shrinkageBp: number;
}

/** A length of a piece that goes into a batch, with what is known of its cloth. */
export interface LengthToDye {
  readonly piece: {
    readonly code: string;
    readonly kind: 'bolt' | 'remnant';
    readonly lotCode: string;
    readonly usableWidthTicks: number;
    readonly shade: { readonly id: number; readonly name: string };
    /** true where it is undyed */
    readonly ground: boolean;
    readonly cloth: {
      readonly id: number;
      readonly name: string;
      readonly construction: string;
      readonly widthTicks: number;
      readonly usableWidthTicks: number;
      readonly massPerAreaMgM2: number | null;
      readonly content: Content;
      /** what it was given before it came */
      readonly state: ClothState;
    };
  };
  readonly lengthTicks: number;
  /** the bath that it is put into, from 1; null or left out where that is left to the plan */
  readonly bath?: number | null;
}

/** A vessel as far as the card tells it. What a card of before does not know is left out. */
export interface CardVessel {
  readonly name: string;
  readonly volumeMl: number;
  readonly material?: Material | '';
  readonly emptyMg?: number | null;
  readonly heaterKind?: HeaterKind | '';
  readonly watts?: number | null;
}

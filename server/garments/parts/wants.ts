import { LAP_STRIP, wantsOfOpening } from '../garment/opening.ts';
import type { WorkedGarment } from '../garment/worked.ts';
import { LAP_SIZE } from './closing-part.ts';
import type { PartWant } from './describing.ts';
import type { WorkedPart } from './kept.ts';

/** A thing that a garment takes besides the strips of its needs, for all pieces of a part together. */
export interface GarmentWant extends Pick<PartWant, 'what' | 'ticks' | 'lengths' | 'count'> {
  /** null for what its opening takes */
  readonly part: WorkedPart['kept'] | null;
  /** whether it is cloth that is counted as no need yet */
  readonly isCloth: boolean;
}

/** What the opening of a garment takes, and then what its parts do: a trim goes by the name of its part. */
export function wantsOfGarment(worked: WorkedGarment, parts: readonly WorkedPart[]): GarmentWant[] {
  // A lap strip that a part cuts of cloth stands among the needs.
  const lapIsCut = parts.some(({ answer }) => answer?.cuts.some(({ size }) => size === LAP_SIZE));
  const opening = wantsOfOpening(worked)
    .filter(({ what }) => !(lapIsCut && what === LAP_STRIP))
    .map((want) => ({ ...want, part: null, isCloth: false }));
  const ofParts = parts.flatMap(({ kept, answer }) =>
    (answer?.wants ?? []).flatMap(({ what, ticks, lengths, count, of }): GarmentWant[] => {
      // The garment counts its own opening; a part that asks for one beside it is not counted again.
      if (of === 'opening' && worked.garment.openingTicks !== null) return [];
      // What is cut of cloth stands among the needs.
      if (of === 'cloth' && worked.parts.some(({ tierId }) => kept.rows.some(({ id }) => id === tierId)))
        return [];
      return [
        {
          what: kept.kind === 'trim' ? kept.name : what,
          ticks: ticks === null ? null : ticks * kept.pieces,
          lengths: Array.from({ length: kept.pieces }, () => lengths).flat(),
          count: count === null ? null : count * kept.pieces,
          part: kept,
          isCloth: of === 'cloth',
        },
      ];
    }),
  );
  return [...opening, ...ofParts];
}

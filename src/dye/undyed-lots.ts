/** Lots that meet in one bath: what was woven and prepared apart may take the dye unlike. */
import type { LengthToDye } from './batch.ts';
import type { Warning } from './dye-advice.ts';

type InBath = Pick<LengthToDye['piece'], 'lotCode'> & { readonly cloth: { readonly name: string } };

/** A cloth of which two lots or more lie in one bath. */
export interface MixedLots {
  /** from 1 */
  readonly bath: number;
  readonly cloth: string;
  readonly lots: readonly string[];
}

/** Cloths that lie in a bath in more than one lot. `baths` are the pieces of each. */
export function mixedLots(baths: readonly (readonly InBath[])[]): MixedLots[] {
  return baths.flatMap((pieces, at) =>
    [...new Set(pieces.map(({ cloth }) => cloth.name))].flatMap((cloth) => {
      const own = pieces.filter((piece) => piece.cloth.name === cloth);
      const lots = [...new Set(own.map(({ lotCode }) => lotCode))];
      return lots.length > 1 ? [{ bath: at + 1, cloth, lots }] : [];
    }),
  );
}

/** What to beware of where lots of one cloth meet in a bath. */
export function undyedLotWarnings(baths: readonly (readonly InBath[])[]): Warning[] {
  return mixedLots(baths).map(({ bath, cloth, lots }) => {
    const where = baths.length === 1 ? 'The bath' : `Bath ${bath}`;
    const text = `${where} holds ${cloth} of lots ${lots.join(' and ')}: lots may take the dye unlike. Give each a bath of its own, or dye a swatch of each first, and judge them apart when they are back.`;
    return { id: `undyed-lots-${bath}-${cloth}`, text, source: 'common practice' };
  });
}

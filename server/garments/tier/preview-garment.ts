import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { drawElevations, type Elevation } from '../drawing/elevation.ts';
import { readCutStrips, readHeldStretches } from '../garment/done.ts';
import type { Names } from '../garment/names.ts';
import type { Garment, TierFigures, TierRecord } from '../garment/records.ts';
import { readUsableWidths, type WorkedGarment, workedBy } from '../garment/worked.ts';
import { differences } from '../versions/differences.ts';
import { readWantedWhenHeld } from '../versions/held-then.ts';
import { clothsOf } from '../versions/queries.ts';
import { NEW_TIER } from './planned.ts';
import { wantedNow } from './view.ts';

/** A garment as it would be with a tier as its form stands. */
export interface GarmentPreview {
  /** what would then differ from what is cut and held, in sentences */
  readonly differences: readonly string[];
  readonly drawing: Elevation | null;
}

/** Works out the garment as it would be: `names` are those of its cloths and shades. */
export function previewGarment(reader: Reader, changed: Garment, names: Names, units: Units): GarmentPreview {
  const worked = workedBy(changed, readUsableWidths(reader, clothsOf(changed)));
  return {
    differences: differencesOf(reader, worked, names, units),
    drawing: drawElevations(worked, names, units)[0] ?? null,
  };
}

/** The garment with these figures in the place of the tier of that number, or as one tier more. */
export function withTier(garment: Garment, figures: TierFigures): Garment {
  const old = garment.tiers.find(({ id }) => id === figures.id);
  const record: TierRecord = {
    position: garment.tiers.length + 1,
    version: 1,
    changedAt: null,
    changedBy: null,
    typed: '{}',
    ...old,
    ...figures,
    takenOutAt: null,
  };
  const others = garment.tiers.filter(({ id }) => id !== figures.id);
  return { ...garment, tiers: [...others, record] };
}

/** Of every tier, since what hangs on a tier changes with it; sentences about another begin with its name. */
export function differencesOf(reader: Reader, worked: WorkedGarment, names: Names, units: Units): string[] {
  const tierIds = worked.garment.tiers.flatMap(({ id }) => (id === NEW_TIER ? [] : [id]));
  const cut = readCutStrips(reader, tierIds);
  const held = readHeldStretches(reader, tierIds);
  if (cut.length === 0 && held.length === 0) return [];
  const whenHeld = readWantedWhenHeld(reader, worked.garment, tierIds);
  const nameOf = (clothId: number, shadeId: number) => `${names.cloth(clothId)}, ${names.shade(shadeId)}`;
  return worked.tiers.flatMap((tier) => {
    const isMine = ({ tierId }: { readonly tierId: number }) => tierId === tier.tierId;
    const told = differences(
      wantedNow(tier),
      cut.filter(isMine),
      held.filter(isMine),
      nameOf,
      units,
      whenHeld.filter(isMine),
    );
    return told.map((sentence) => `${tier.name}: ${sentence}`);
  });
}

import type { PartToCut } from '../../../src/garment/need.ts';
import { garmentPartPath, tierPlace } from '../../kit/paths.ts';
import { unknown } from '../../refusal.ts';
import { clothOfPart, nameOfSize } from '../parts/cut.ts';
import type { WantedNow } from '../versions/differences.ts';
import type { Garment, TierRecord } from './records.ts';
import { tiersIn, type WorkedGarment } from './worked.ts';

/** What strips of a garment are held and cut for: a tier, or a part that is cut of cloth, which is p1, p2 on plans, its further sizes p1.2, p1.3. */
export interface StripRow
  extends Pick<TierRecord, 'id' | 'label' | 'name' | 'clothId' | 'takenOutAt' | 'changedAt' | 'changedBy'> {
  readonly isPart: boolean;
  /** where its figures stand */
  readonly href: string;
}

/** The tiers of a garment as they were entered, and then its parts; those taken out included. */
export function stripRowsOf(garment: Pick<Garment, 'code' | 'tiers' | 'parts'>): StripRow[] {
  const { code, tiers, parts } = garment;
  return [
    ...tiers.map((tier) => ({ ...tier, isPart: false, href: tierPlace(code, tier.id) })),
    ...parts.flatMap((part, place) =>
      part.rows.map(({ id, size }, at): StripRow => {
        const clothId = clothOfPart(garment, part, size)?.clothId ?? part.clothId ?? 0;
        const label = `p${place + 1}${at === 0 ? '' : `.${at + 1}`}`;
        const [name, href] = [nameOfSize(part, size), garmentPartPath(code, part.id)];
        return { ...part, id, label, name, clothId, isPart: true, href };
      }),
    ),
  ];
}

/** Its name with the label that it has on plans; that of a tier has it anyway. */
export function nameOnPlan({ isPart, label, name }: StripRow): string {
  return isPart ? `${name} (${label})` : name;
}

/** Those that are in: the tiers from the top down, and then the parts. */
export function stripRowsIn(garment: Garment): StripRow[] {
  const rows = new Map(stripRowsOf(garment).map((row) => [row.id, row]));
  const parts = [...rows.values()].filter(({ isPart, takenOutAt }) => isPart && takenOutAt === null);
  return [...tiersIn(garment).flatMap(({ id }) => rows.get(id) ?? []), ...parts];
}

/** What strips are held and cut for, by its number. @throws {Refusal} unknown */
export function stripRowOf(garment: Garment, rowId: number): StripRow {
  const row = stripRowsOf(garment).find(({ id }) => id === rowId);
  if (!row) throw unknown(`such tier of ${garment.code}`);
  return row;
}

/** What a part wants of its cloth and shade now; none where it is not cut of cloth. */
export function wantedOfParts({ parts }: Pick<WorkedGarment, 'parts'>): WantedNow[] {
  return parts.map(({ name: _, ...wanted }: PartToCut) => wanted);
}

import type { Observer } from '../../../src/colour/colour-reading.ts';
import { labForObserver, TURNED_WITHIN } from '../../../src/colour/curve-from-lab.ts';
import { sayLabTenths } from '../../../src/colour/lab.ts';
import type { WantedShade } from '../../../src/colour/prediction/first-recipes.ts';
import type { Reader } from '../../database/book.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { shadePath } from '../../kit/paths.ts';

/** A shade that is wanted, as it is compared with what is predicted. */
export interface Target {
  readonly id: number;
  readonly name: string;
  readonly chip: Chip;
  /** "L* 33.6, a* −12.4, b* −22.1 (D65, 2°)" */
  readonly said: string;
  /** what makes it less sure, or changed it: such as that it was turned to the other observer */
  readonly notes: readonly string[];
  /** null where it has no colour for D65 */
  readonly wanted: WantedShade | null;
}

/** By a photo or on a screen a shade itself is not well known (a photo with a card: ± 4; picked by eye: ± 8, our rule). */
const HARDLY_KNOWN = { photo: 4, screen: 8 } as const;

/** A dyed shade by its number, for an observer, its own where nothing is asked; null where there is no such shade. */
export function readTarget(reader: Reader, shadeId: number, asked: Observer | null): Target | null {
  const row = reader.first(
    reader.db.selectFrom('shade').selectAll().where('id', '=', shadeId).where('ground', '=', 0),
  );
  if (!row) return null;
  const named = {
    id: row.id,
    name: row.name,
    chip: shadeChip(row, { href: shadePath(row.id), large: true }),
  };
  const { lab_l: l, lab_a: a, lab_b: b, lab_illuminant: light, lab_observer: from, lab_how: how } = row;
  if (l === null || a === null || b === null) return { ...named, said: '', notes: [], wanted: null };
  const observer = asked ?? from;
  const said = `${sayLabTenths({ l, a, b })} (${light}, ${from}°)`;
  if (light !== 'D65')
    return { ...named, said, notes: [`Its figures are for ${light}: read it in D65.`], wanted: null };
  const unsure = how === 'photo' || how === 'screen' ? HARDLY_KNOWN[how] : 0;
  const isTurned = from !== observer;
  const notes = [
    ...(isTurned
      ? [
          `Its figures are for the ${from}° observer, the swatches’ for ${observer}°. It is turned to ${observer}°, likely within ${TURNED_WITHIN}; the bands below count that in.`,
        ]
      : []),
    ...(unsure > 0
      ? [
          how === 'photo'
            ? `It was read from a photo, likely within ${unsure}; the bands below count that in.`
            : `It was picked on a screen, likely within ${unsure}; the bands below count that in.`,
        ]
      : []),
  ];
  const lab = labForObserver({ l, a, b }, from, observer);
  return {
    ...named,
    said,
    notes,
    wanted: { lab, uncertainty: Math.hypot(unsure, isTurned ? TURNED_WITHIN : 0) },
  };
}

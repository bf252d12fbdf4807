import { SCREEN_VIEWING, type Viewing } from '../../../src/colour/colour-reading.ts';
import { sayDifference } from '../../../src/colour/difference-words.ts';
import { deltaE00, type Lab } from '../../../src/colour/lab.ts';
import type { Reader } from '../../database/book.ts';
import { prepared } from '../../database/statements.ts';
import { shadeChip } from '../../kit/chip.ts';
import { shadePath } from '../../kit/paths.ts';

const MOST_NEAR = 6;

const colouredShades = prepared((db) =>
  db
    .selectFrom('shade')
    .select(['id', 'name', 'lab_l', 'lab_a', 'lab_b', 'lab_how', 'lab_illuminant', 'lab_observer'])
    .where('lab_l', 'is not', null),
);

/** The shades nearest to a colour by ΔE00, of those whose values are for the same light and observer; `exceptId` is left out. */
export function readNearestShades(
  reader: Reader,
  lab: Lab,
  viewing: Viewing = SCREEN_VIEWING,
  exceptId: number | null = null,
) {
  const near = reader.all(colouredShades()).flatMap((row) => {
    const { lab_l: l, lab_a: a, lab_b: b } = row;
    const isAlike = row.lab_illuminant === viewing.illuminant && row.lab_observer === viewing.observer;
    if (row.id === exceptId || !isAlike || l === null || a === null || b === null) return [];
    return [{ row, deltaE: deltaE00(lab, { l, a, b }), differs: sayDifference(lab, { l, a, b }) }];
  });
  return near
    .sort((one, other) => one.deltaE - other.deltaE)
    .slice(0, MOST_NEAR)
    .map(({ row, deltaE, differs }) => ({
      chip: shadeChip(row, { href: shadePath(row.id) }),
      apart: deltaE.toFixed(1),
      differs,
      /** a screen colour tells where to look, and no more */
      isGuide: row.lab_how === 'screen' || row.lab_how === 'photo',
    }));
}

export type NearShade = ReturnType<typeof readNearestShades>[number];

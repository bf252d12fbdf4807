import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, type Row } from './sql.ts';

const STAYS = /stays; the last counts/;
const DYED = /only a dyed lot that counts for itself/;
const KEPT_AS = /only where it is kept as that/;

/**
 * What a lot that is kept as another shade refuses. Lot 10 was dyed as shade 2 and is kept as shade 1; lots 3, 6, 7 and 9 are
 * of shade 2, 7 is joined to 3.
 */
export const ATTACKS_ON_LOT_SHADES: readonly Attack[] = [
  kept('of the mill', { lot_id: 1, shade_id: 2 }, DYED),
  kept('as the shade that it has', { shade_id: 2 }, DYED),
  kept('that counts as another', { lot_id: 7 }, DYED),
  kept('that another counts as', { lot_id: 3 }, DYED),
  kept('that is none', { lot_id: 999_999 }, DYED),
  told('lot_shade', 'a lot that is kept as that already', [...put('lot_shade'), ...put('lot_shade')], DYED),
  kept('under a number below one', { id: 0 }, /CHECK/),
  told(
    'lot_shade',
    'another in its place',
    [insert('lot_shade', { ...LAWFUL.lot_shade, id: 1 }, 'INSERT OR REPLACE')],
    STAYS,
  ),
  told('lot_shade', 'a change', ["UPDATE lot_shade SET note = 'other' WHERE id = 1"], STAYS),
  told('lot_shade', 'its removal', ['DELETE FROM lot_shade WHERE id = 1'], STAYS),
  ...(['lot_id', 'shade_id'] as const).flatMap((column) => [
    aside(column, null, /NOT NULL/),
    aside(column, 999_999, /FOREIGN KEY/),
  ]),
  told('lot', 'another shade by nobody', ['UPDATE lot SET shade_id = 1 WHERE id = 6'], KEPT_AS),
  told('lot', 'the former shade by nobody', ['UPDATE lot SET shade_id = 2 WHERE id = 10'], KEPT_AS),
  told(
    'lot',
    'a shade that it was kept as before the last',
    [
      insert('lot_shade', { ...LAWFUL.lot_shade, lot_id: 10, shade_id: 2 }),
      'UPDATE lot SET shade_id = 1 WHERE id = 10',
    ],
    KEPT_AS,
  ),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

function kept(what: string, changes: Row, refused: RegExp): Attack {
  return told('lot_shade', `a lot ${what}`, put('lot_shade', changes), refused);
}

/** Without the rule of which lots, and without what follows from it. */
function aside(column: 'lot_id' | 'shade_id', value: number | null, refused: RegExp): Attack {
  const rules = ['DROP TRIGGER lot_shade_of_a_dyed_lot', 'DROP TRIGGER lot_shade_counts'];
  return told(
    'lot_shade',
    `${value} in ${column}`,
    [...rules, ...put('lot_shade', { [column]: value })],
    refused,
  );
}

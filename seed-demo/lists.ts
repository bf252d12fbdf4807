import { RowChecker } from '../server/lists/in/checking.ts';
import { addList, usualWriting } from '../server/lists/in/new-list.ts';
import { rowsOf } from '../server/lists/in/reading/rows.ts';
import { listPath } from '../server/lists/in/runner.ts';
import { addRows, writeHeading } from '../server/lists/in/staging.ts';
import { readList, readRows, setState } from '../server/lists/in/store.ts';
import { TakingIn } from '../server/lists/in/taking-in.ts';
import type { Hand } from './hand.ts';

/** The list that hung in the linings cupboard until the workroom had a book. */
const CUPBOARD = `Cloth;Width;Fibres;Colour;Lot;Length;Rack;Paid
Cotton calico 160;160 cm;cotton;Natural;C-9;6,40 m;Dye store;19,20
Cotton calico 160;160 cm;cotton;Natural;C-9;2 yd 9 in;Remnant chest;
Buckram 115;115 cm;cotton;Natural;;1.80;Remnant chest;7,00
Buckram 115;115 cm;;Natural;;a bit;Remnant chest;`;

/** Three pieces came with an old list; the fourth row nobody could read, and it was left out. */
export function takeOldListIn(hand: Hand): void {
  hand.writes(hand.minutesAgo(8), 'Fenn', { list: 'cupboard' }, (tx, asker) => {
    const listId = addList(tx, 'Linings cupboard', usualWriting(asker));
    const [heading = [], ...rows] = rowsOf(new TextEncoder().encode(CUPBOARD));
    writeHeading(tx, listId, heading);
    addRows(tx, listId, 0, new RowChecker(tx, readList(tx, listId)), rows);
    new TakingIn(readList(tx, listId)).take(tx, readRows(tx, listId, { after: 0, most: 10, which: 'good' }));
    setState(tx, listId, 'in');
    // A list describes a cloth by its name and width; that it is invented is said here.
    tx.run(tx.db.updateTable('cloth').set({ article: 'invented old list' }).where('article', '=', ''));
    return { location: listPath(listId), said: '3 pieces of the list Linings cupboard came onto the shelf.' };
  });
}

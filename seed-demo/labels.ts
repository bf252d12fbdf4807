import { ADDRESS_FORM, changeAddress } from '../server/labels/address-form.ts';
import { RUN_FORM, startRun } from '../server/labels/run-form.ts';
import { saveSheet, sheetForm } from '../server/labels/sheet-form.ts';
import type { Hand } from './hand.ts';

/** One sheet of labels, printed before the workroom's machine got its present number. */
export function printLabels(hand: Hand): void {
  writeAddress(hand, 12, 'http://192.0.2.14:8040');
  const sheet = {
    name: 'Labels 95 × 45 mm',
    paper: 'A4',
    columns: '2',
    rows: '6',
    width: '95',
    height: '45',
    left: '10',
    top: '13.5',
    across: '0',
    down: '0',
    nudge_right: '',
    nudge_down: '0.5',
  };
  hand.fillsIn(hand.minutesAgo(11), 'Oda', sheet, {
    schema: sheetForm,
    write: (tx, form) => saveSheet(tx, form, null),
  });
  const codes = hand.book.all(
    hand.book.db.selectFrom('piece').select('code').where('on_hand_ticks', '>', 0).orderBy('id').limit(5),
  );
  const batch = hand.book.first(hand.book.db.selectFrom('batch').select('code').orderBy('id', 'desc'));
  const things = [...codes.map(({ code }) => code), batch?.code ?? '', 'Rack A'].join('\n');
  hand.fillsIn(
    hand.minutesAgo(10),
    'Oda',
    { things, sheet_id: '1', first_place: '3' },
    { schema: () => RUN_FORM, write: startRun },
  );
  writeAddress(hand, 9, 'http://192.0.2.20:8040');
}

/** Addresses of 192.0.2.0/24 are kept for examples (RFC 5737). */
function writeAddress(hand: Hand, minutesAgo: number, address: string): void {
  hand.fillsIn(
    hand.minutesAgo(minutesAgo),
    'Oda',
    { address },
    { schema: () => ADDRESS_FORM, write: changeAddress },
  );
}

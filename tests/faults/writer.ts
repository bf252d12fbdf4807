import { openBook } from '../../server/database/open.ts';
import { post } from '../../server/ledger/post.ts';
import { receivePiece } from '../../server/ledger/verbs.ts';
import { makeStock } from '../server/support.ts';

// Receives a bolt a request, as fast as the disk allows, and tells each key once it is written. Told to, it
// tells the key before: the control, which the reader must find out.
const [folder = '', tellFirst] = process.argv.slice(2);
const book = await openBook(folder, { clock: () => new Date() });

let lotId = book.first(book.db.selectFrom('lot').select('id'))?.id ?? 0;
if (lotId === 0) {
  book.write({ key: `stock-${process.pid}`, asked: null, personId: 1 }, (tx) => {
    lotId = makeStock(tx).lotId;
    return { location: '/', said: 'Stocked.' };
  });
}

for (let at = 0; ; at += 1) {
  const key = `bolt-${process.pid}-${at}`;
  if (tellFirst) process.stdout.write(`${key}\n`);
  book.write({ key, asked: null, personId: 1 }, (tx) => {
    const bolt = receivePiece(tx, {
      kind: 'bolt',
      lotId,
      usableWidthTicks: 235_200,
      placeId: null,
      lengthTicks: 1_600_000,
      typed: '10 m',
      costMinor: 5000,
    });
    // A second entry in the same transaction: half of a request must never be found.
    post(
      tx,
      bolt.id,
      { kind: 'written-off', lengthTicks: -160_000, heldTicks: 0, costMinor: -500 },
      { why: 'End' },
    );
    return { location: '/', said: 'Received.' };
  });
  if (!tellFirst) process.stdout.write(`${key}\n`);
}

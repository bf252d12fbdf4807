import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { FILE } from '../../server/database/folder.ts';
import { writeNetwork } from '../../server/network/settings.ts';
import { HAND, KEEPER, openNetworkHouse } from '../server/network/house.ts';
import { makeBolt, makeStock } from '../server/support.ts';
import { MACHINE_ADDRESS } from './two-machines.ts';

interface GateBook {
  readonly folder: string;
  readonly port: number;
  /** the code of a bolt of 50 m */
  readonly piece: string;
  /** by who holds them */
  readonly tokens: Readonly<Record<Holder, string>>;
}

export type Holder =
  | 'nobody'
  | 'a made-up token'
  | 'a device that was sent away'
  | 'a device without a person'
  | 'a hand'
  | 'a keeper without the passphrase'
  | 'a keeper'
  | 'a hand at the machine'
  | 'a keeper at the machine';

/** Puts a book down in a folder of its own: a bolt, devices and people, its network on or off. */
export async function putGateBook(
  folder: string,
  port: number,
  { isOn = true, ownCertificate = false } = {},
): Promise<GateBook> {
  // The tokens are for the hours to come.
  const house = await openNetworkHouse({ clock: () => new Date(), isOn: false });
  const { book, device, signed } = house;
  let piece = '';
  book.write({ key: 'test-gate-book', asked: null, personId: KEEPER.id }, (tx) => {
    writeNetwork(tx, { isOn, subnets: ['10.77.0.0/24'], wifiName: '', ownCertificate });
    const address = `http://${MACHINE_ADDRESS}:${port}`;
    tx.run(tx.db.insertInto('label_address').values({ address, at: tx.at, person_id: KEEPER.id }));
    piece = makeBolt(tx, makeStock(tx).lotId, '50 m').code;
    return { location: '/', said: 'Done.' };
  });
  const shared = device('Tablet');
  const gone = device('Lost phone');
  book.writeAside((run) =>
    run(book.db.updateTable('device').set({ sent_away_at: book.now() }).where('id', '=', gone.id)),
  );
  const tokens = {
    nobody: '',
    'a made-up token': 'made-up',
    'a device that was sent away': gone.token,
    'a device without a person': shared.token,
    'a hand': signed(shared.id, HAND.id),
    'a keeper without the passphrase': signed(shared.id, KEEPER.id),
    'a keeper': signed(shared.id, KEEPER.id, true),
    'a hand at the machine': signed(1, HAND.id),
    'a keeper at the machine': signed(1, KEEPER.id, true),
  };
  mkdirSync(folder, { mode: 0o700 });
  writeFileSync(join(folder, FILE), book.connection.serialize(), { mode: 0o600 });
  await house.shut();
  return { folder, port, piece, tokens };
}

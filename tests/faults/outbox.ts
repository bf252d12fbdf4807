import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { FILE } from '../../server/database/folder.ts';
import { keyPrefix } from '../../server/kit/request-key.ts';
import { writeNetwork } from '../../server/network/settings.ts';
import { MACHINE_ADDRESS, runOn, TABLET } from '../browser/two-machines.ts';
import { HAND, KEEPER, openNetworkHouse } from '../server/network/house.ts';
import { makeBolt, makeStock } from '../server/support.ts';

/** What the page of a device sends by. */
export interface Outbox {
  readonly cookie: string;
  /** what its keys begin with: person, device and book */
  readonly prefix: string;
}

/** A form that is sent until somebody answers it. */
export interface Sent {
  readonly key: string;
  readonly path: string;
  readonly fields: Readonly<Record<string, string>>;
  /** how many entries of the ledger it makes */
  readonly entries: number;
}

export const MACHINE_DEVICE = 1;

/** Puts down a book with three bolts, its network on, and as many devices of a hand. */
export async function putOutboxBook(
  folder: string,
  { count, port, atMachine }: { readonly count: number; readonly port: number; readonly atMachine: boolean },
) {
  const house = await openNetworkHouse({ clock: () => new Date(), isOn: false });
  const { book, device, signed } = house;
  let pieces: string[] = [];
  book.write({ key: 'test-outbox-book', asked: null, personId: KEEPER.id }, (tx) => {
    writeNetwork(tx, { isOn: true, subnets: ['10.77.0.0/24'], wifiName: '', ownCertificate: false });
    const address = `http://${MACHINE_ADDRESS}:${port}`;
    tx.run(tx.db.insertInto('label_address').values({ address, at: tx.at, person_id: KEEPER.id }));
    const { lotId } = makeStock(tx);
    pieces = [1, 2, 3].map(() => makeBolt(tx, lotId, '5000 m').code);
    return { location: '/', said: 'Done.' };
  });
  const mark = book.first(book.db.selectFrom('workroom').select('mark'))?.mark ?? '';
  const outboxes = Array.from({ length: count }, (_, at): Outbox => {
    const deviceId = atMachine ? MACHINE_DEVICE : device(`Phone ${at + 1}`, HAND.id).id;
    return {
      cookie: `clothroom-${port}=${signed(deviceId, HAND.id)}`,
      prefix: keyPrefix({ personId: HAND.id, deviceId, mark }),
    };
  });
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  writeFileSync(join(folder, FILE), book.connection.serialize(), { mode: 0o600 });
  await house.shut();
  return { pieces, outboxes };
}

/** People at their devices who send until they are told to end. */
export class Outboxes {
  readonly answered: Sent[] = [];
  /** where a form was answered with, the first time and every time after */
  readonly wrong: string[] = [];
  sentAgain = 0;
  readonly #child: ChildProcess;
  readonly #ended: Promise<void>;

  /** @param onTablet whether they are on the other machine of the network, or at the machine itself */
  constructor(
    origin: string,
    outboxes: readonly Outbox[],
    pieces: readonly string[],
    { onTablet }: { readonly onTablet: boolean },
  ) {
    const script = fileURLToPath(new URL('outboxes.child.ts', import.meta.url));
    const command = [script, origin, JSON.stringify(outboxes), ...pieces];
    this.#child = onTablet ? runOn(TABLET, command) : spawn(process.execPath, command);
    let told = '';
    this.#child.stderr?.on('data', (text) => {
      told += text;
    });
    createInterface({ input: this.#child.stdout as NodeJS.ReadableStream }).on('line', (line) => {
      const said = JSON.parse(line) as Partial<Sent> & { wrong?: string; sentAgain?: number };
      if (said.wrong !== undefined) this.wrong.push(said.wrong);
      else if (said.sentAgain !== undefined) this.sentAgain = said.sentAgain;
      else this.answered.push(said as Sent);
    });
    this.#ended = new Promise<void>((resolve) => this.#child.once('close', () => resolve())).then(() => {
      if (told !== '') this.wrong.push(told);
    });
  }

  /** Waits until so many were answered. */
  async until(count: number): Promise<void> {
    while (this.answered.length < count) {
      if (this.#child.exitCode !== null) throw new Error(this.wrong.join('\n') || 'the outboxes ended');
      await new Promise((resolve) => setTimeout(resolve, 2));
    }
  }

  /** Each sees its last form through, and stops. */
  async end(): Promise<void> {
    this.#child.stdin?.end();
    await this.#ended;
  }
}

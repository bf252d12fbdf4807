import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { seedDemo } from '../../seed-demo/seed.ts';
import { FILE, PHOTOS } from '../../server/database/folder.ts';
import { keepSecret } from '../../server/let-in/secrets.ts';
import { addressesOf } from '../seed-demo/addresses.ts';
import { holdLays } from '../server/cutting-table/lay/hold-lays.ts';
import { putOnTable } from '../server/cutting-table/tier/tier.ts';
import { nextName } from '../server/names.ts';
import { CHEAP } from '../server/network/house.ts';
import { length, makeBolt, openTestBook, type TestHouse } from '../server/support.ts';
import { PASSPHRASE } from './two-machines.ts';

/** The invented workroom has lots and garments of the first numbers. */
const FIRST_NAME = 500;

const cm = (n: number) => length(`${n} cm`);

export interface SceneBook {
  /** of the first keeper, who has a passphrase */
  readonly keeper: string;
  /** of a hand */
  readonly hand: string;
  /** the address of the bench at which four lays of two strips are held, and the bolt that they come off */
  readonly bench: string;
  readonly bolt: string;
  /** every page that is for a hand */
  readonly pages: readonly string[];
}

/**
 * Puts the invented workroom down in a folder, with four lays to cut and some photos beside it.
 *
 * @param handRoutes the routes that are for a hand
 */
export async function putSceneBook(
  folder: string,
  handRoutes: readonly string[],
  photos: number,
): Promise<SceneBook> {
  const now = new Date();
  const opened = await openTestBook(() => now);
  const { book } = opened;
  seedDemo(book, now);
  const people = book.all(book.db.selectFrom('person').selectAll().orderBy('id'));
  const [keeper, hand] = ['keeper', 'hand'].map((role) => people.find((one) => one.role === role));
  if (!keeper || !hand) throw new Error('the invented workroom has a keeper and a hand');
  await keepSecret(book, CHEAP, { personId: keeper.id, kind: 'passphrase', secret: PASSPHRASE });
  while (nextName('thing') < FIRST_NAME);
  const table = putOnTable(opened as TestHouse, { strip: '49 cm' });
  const bolt = opened.write((tx) => makeBolt(tx, table.stock.lotId, '5 m'));
  holdLays(
    opened as TestHouse,
    table,
    [0, 1, 2, 3].map((at) => ({
      pieceId: bolt.id,
      from: at * cm(32),
      height: cm(32),
      runs: [{ tierId: table.tierId, depth: cm(32), length: cm(49), left: 0, columns: 2 }],
      parts: [cm(32)],
    })),
  );
  const pages = handRoutes.flatMap((route) => addressesOf(route, book));
  mkdirSync(join(folder, PHOTOS), { recursive: true, mode: 0o700 });
  for (let at = 0; at < photos; at += 1) {
    const bytes = Buffer.alloc(20_000, `photo ${at} `);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    writeFileSync(join(folder, PHOTOS, `${sha256}.jpg`), bytes);
  }
  writeFileSync(join(folder, FILE), book.connection.serialize(), { mode: 0o600 });
  opened.close();
  const bench = `/cutting-table/${table.code}/bench`;
  return { keeper: keeper.name, hand: hand.name, bench, bolt: bolt.code, pages };
}

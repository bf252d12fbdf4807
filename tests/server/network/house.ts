import type { FastifyInstance } from 'fastify';
import inject, { type Response } from 'light-my-request';
import { buildApp } from '../../../server/app.ts';
import type { Book } from '../../../server/database/book.ts';
import { invite, useInvitation } from '../../../server/let-in/devices.ts';
import { Hasher } from '../../../server/let-in/hashing.ts';
import { keepSecret } from '../../../server/let-in/secrets.ts';
import { signIn } from '../../../server/let-in/sign-ins.ts';
import type { Interfaces } from '../../../server/network/interfaces.ts';
import type { Certificates } from '../../../server/network/listener.ts';
import { writeNetwork } from '../../../server/network/settings.ts';
import { NOON, newKey, openTestBook } from '../support.ts';

/** Cheap to hash: what the real costs are for is tested once, where hashing is. */
export const CHEAP_COST = { N: 2, r: 1, p: 1 };
export const CHEAP = new Hasher({ pin: CHEAP_COST, passphrase: CHEAP_COST });

export const ADDRESS = '192.168.1.20';
export const PHONE = '192.168.1.77';

/** A computer on one network, at the address given. */
export function on(address: string): Interfaces {
  const card = { family: 'IPv4', internal: false, netmask: '255.255.255.0', mac: '', cidr: null } as const;
  return () => ({ eth0: address === '' ? [] : [{ ...card, address }] });
}

/** How a request comes: at the machine, over plain http, or over TLS. */
export type WayIn = 'machine' | 'http' | 'tls';

export interface Sent {
  readonly method?: 'GET' | 'POST' | 'HEAD' | 'OPTIONS' | 'PUT';
  readonly path: string;
  readonly way?: WayIn;
  readonly token?: string;
  readonly fields?: Record<string, string>;
  readonly headers?: Record<string, string>;
  readonly from?: string;
  /** our own address that it comes in at, where that is not the poster's */
  readonly at?: string;
}

export interface NetworkHouse {
  readonly book: Book;
  readonly app: FastifyInstance;
  readonly ask: ReturnType<typeof askOf>;
  /** A device let in, and the token it holds; of a person where one is named. */
  device(name: string, personId?: number | null): { readonly id: number; readonly token: string };
  /** The token of a person on a device; as a keeper where said. */
  signed(deviceId: number, personId: number | null, isKeeper?: boolean): string;
  /** A cookie that an answer gave. */
  tokenIn(answer: Response): string;
  shut(): Promise<void>;
}

export interface NetworkOptions {
  readonly clock?: () => Date;
  readonly interfaces?: Interfaces;
  readonly certificates?: Certificates;
  readonly isOn?: boolean;
  readonly hasher?: Hasher;
}

/** People of the test: the first keeper, and a hand. */
export const KEEPER = { id: 1, name: 'Maker', passphrase: 'velvet canal onion drift' };
export const HAND = { id: 2, name: 'Ben', pin: '40271' };

export async function openNetworkHouse(options: NetworkOptions = {}): Promise<NetworkHouse> {
  const { clock = () => NOON, interfaces = on(ADDRESS), certificates, isOn = true, hasher = CHEAP } = options;
  const opened = await openTestBook(clock);
  const { book } = opened;
  opened.write((tx) => {
    tx.run(
      tx.db
        .insertInto('person')
        .values({ name: HAND.name, length_system: null, left_at: null, role: 'hand' }),
    );
    writeNetwork(tx, {
      isOn,
      subnets: ['192.168.1.0/24'],
      wifiName: 'Workroom',
      ownCertificate: certificates !== undefined,
    });
    // Without a port that anything listens on: nothing of this test leaves the program.
    tx.run(
      tx.db.insertInto('label_address').values({ address: `http://${ADDRESS}:0`, at: tx.at, person_id: 1 }),
    );
  });
  await keepSecret(book, hasher, { personId: KEEPER.id, kind: 'passphrase', secret: KEEPER.passphrase });
  await keepSecret(book, hasher, { personId: HAND.id, kind: 'pin', secret: HAND.pin });
  const app = buildApp(book, false, { hasher, interfaces, ...(certificates && { certificates }) });
  await app.ready();
  await app.network.look();
  return {
    book,
    app,
    ask: askOf(app),
    device(name, personId = null) {
      const tx = { db: book.db, at: book.now() };
      return book.writeAside((run) => {
        const code = invite({ ...tx, run }, { deviceName: name, personId }, KEEPER.id);
        const { id } = useInvitation(book, run, code, book.now());
        const token = signIn(book.db, run, book.now(), null, { deviceId: id, personId, isKeeper: false });
        return { id, token };
      });
    },
    signed: (deviceId, personId, isKeeper = false) =>
      book.writeAside((run) => signIn(book.db, run, book.now(), null, { deviceId, personId, isKeeper })),
    tokenIn,
    async shut() {
      await app.close();
      opened.close();
    },
  };
}

/** Sends requests to an app on their way, as browsers on that way do. */
export function askOf(app: FastifyInstance): (sent: Sent) => Promise<Response> {
  const portOf = (way: WayIn) => (way === 'tls' ? 1 : 0);
  const hostOf = (way: WayIn) => `${way === 'machine' ? '127.0.0.1' : ADDRESS}:${portOf(way)}`;
  return ({
    method = 'GET',
    path,
    way = 'http',
    token,
    fields,
    headers = {},
    from = PHONE,
    at = ADDRESS,
  }) => {
    const origin = `${way === 'tls' ? 'https' : 'http'}://${hostOf(way)}`;
    const cookie = token && { cookie: `${way === 'tls' ? '__Host-' : ''}clothroom-0=${token}` };
    return inject(
      (req, res) => {
        const { socket } = req as unknown as { socket: Record<string, unknown> };
        socket.localAddress = way === 'machine' ? '127.0.0.1' : at;
        if (way === 'tls') socket.encrypted = true;
        app.routing(req as never, res as never);
      },
      {
        method,
        url: path,
        remoteAddress: way === 'machine' ? '127.0.0.1' : from,
        headers: {
          host: hostOf(way),
          accept: 'application/json',
          ...(method !== 'GET' && { origin }),
          ...cookie,
          ...(fields && { 'content-type': 'application/x-www-form-urlencoded' }),
          ...headers,
        },
        ...(fields && { payload: new URLSearchParams({ request_key: newKey(), ...fields }).toString() }),
      },
    );
  };
}

/** The token that an answer gives a browser to hold. */
export function tokenIn(answer: Response): string {
  return answer.cookies.find(({ name }) => name.includes('clothroom-0'))?.value ?? '';
}

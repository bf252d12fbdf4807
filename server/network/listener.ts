import type { Server } from 'node:http';
import { createServer as createTlsServer, type Server as TlsServer } from 'node:https';
import { networkInterfaces } from 'node:os';
import { dirname, join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import type { Door } from '../web/door.ts';
import { limitConnections, TIME_LIMITS } from '../web/limits.ts';
import { CertificateStore } from './certificate/store.ts';
import { type Interfaces, isNeighbour, type OwnAddress, ownAddresses } from './interfaces.ts';
import { readKnownAddress, readNetwork } from './settings.ts';

// An import of node:http reads everything that it exports, the engine's whole client among it: 5 MB and 15 ms of a start.
const { createServer } = process.getBuiltinModule('node:http');

/** How often the addresses of the machine are looked at. */
const LOOK_EVERY_MS = 60_000;
/** How long answers that are under way may take when a way is closed. */
const CLOSE_MS = 2000;

/** Where the own certificate comes from. */
export type Certificates = Pick<CertificateStore, 'root' | 'certify'>;

/** What differs in tests. */
export interface ListenerOptions {
  readonly interfaces?: Interfaces;
  readonly certificates?: Certificates;
  /** serves the network as long as this program runs, whatever the book says */
  readonly always?: boolean;
}

/** What the network is like now. */
export interface NetworkState {
  readonly isOn: boolean;
  /** our own addresses at which it is served */
  readonly addresses: readonly string[];
  /** where a phone reaches it now, as "http://192.168.1.20:8737"; '' while it is off */
  readonly origin: string;
  /** what failed when it was last opened; '' where nothing did */
  readonly failure: string;
}

/**
 * The listeners of the workroom's network, beside the one on the loopback, which stays as it is whatever happens here. One
 * for each of our own addresses in the subnets in which the network was switched on: a machine that is carried elsewhere
 * answers nobody there.
 */
export class NetworkListener {
  readonly #app: FastifyInstance;
  readonly #door: Door;
  readonly #interfaces: Interfaces;
  readonly #certificates: Certificates;
  #used = '';
  readonly #always: boolean;
  readonly #startedIn: readonly string[];
  readonly #servers = new Map<string, Server | TlsServer>();
  #failure = '';
  #turn: Promise<void> = Promise.resolve();

  constructor(app: FastifyInstance, door: Door, options: ListenerOptions = {}) {
    this.#app = app;
    this.#door = door;
    this.#interfaces = options.interfaces ?? networkInterfaces;
    this.#certificates =
      options.certificates ??
      new CertificateStore(join(dirname(door.book.file), 'certificate'), () => new Date(door.book.now()));
    this.#always = options.always ?? false;
    this.#startedIn = this.#always ? this.own().map(({ subnet }) => subnet) : [];
    // From the first request on: until the network is looked at nobody is taken for a keeper.
    if (this.isOn) door.served = { host: '', isHere: false, tlsPort: null, notice: '' };
    let timer: NodeJS.Timeout | undefined;
    app.addHook('onListen', async () => {
      await this.look();
      timer = setInterval(() => void this.look(), LOOK_EVERY_MS).unref();
    });
    app.addHook('preClose', async () => {
      clearInterval(timer);
      await Promise.all([...this.#servers.keys()].map((at) => this.#close(at)));
    });
  }

  /** The root of the own certificate as PEM text; null where it is not used. */
  root(): string | null {
    return readNetwork(this.#door.book).ownCertificate ? this.#certificates.root() : null;
  }

  /** Our own addresses on private networks. */
  own(): OwnAddress[] {
    return ownAddresses(this.#interfaces);
  }

  get isOn(): boolean {
    return this.#always || readNetwork(this.#door.book).isOn;
  }

  get state(): NetworkState {
    const { served } = this.#door;
    const addresses = [...new Set([...this.#servers.keys()].map((at) => at.split(' ')[1] ?? ''))];
    // Where the known number is another machine's now, only our own leads here.
    const host = served?.isHere ? served.host : (addresses[0] ?? served?.host);
    const origin = served ? this.originOf({ ...served, host: host ?? '' }) : '';
    return { isOn: this.isOn, addresses, origin, failure: this.#failure };
  }

  originOf({ host, tlsPort }: { readonly host: string; readonly tlsPort: number | null }): string {
    return tlsPort === null ? `http://${host}:${this.#door.port()}` : `https://${host}:${tlsPort}`;
  }

  /** Opens and closes what the settings and the machine's addresses ask for now; one after the other. */
  look(): Promise<void> {
    this.#turn = this.#turn.then(() => this.#adjust());
    return this.#turn;
  }

  async #adjust(): Promise<void> {
    const { book } = this.#door;
    if (!this.isOn) {
      this.#door.served = null;
      await Promise.all([...this.#servers.keys()].map((at) => this.#close(at)));
      return;
    }
    const settings = readNetwork(book);
    const subnets = [...settings.subnets, ...this.#startedIn];
    const addresses = this.own()
      .filter(({ subnet }) => subnets.includes(subnet))
      .map(({ address }) => address);
    const isTls = settings.ownCertificate;
    const wanted = addresses.flatMap((address) => [
      `http ${address}`,
      ...(isTls ? [`https ${address}`] : []),
    ]);
    const port = this.#door.port();
    const known = readKnownAddress(book);
    const host = known?.host ?? addresses[0] ?? '';
    const isNumber = /^[\d.]+$/.test(host);
    const isHere = host !== '' && (!isNumber || addresses.includes(host));
    // Set before anybody is let in, so that nobody is taken for the machine's own keeper meanwhile.
    this.#door.served = {
      host,
      isHere,
      tlsPort: isTls ? port + 1 : null,
      notice: sayNotice({ known, port, host, isHere, addresses }),
    };
    await Promise.all(
      [...this.#servers.keys()].filter((at) => !wanted.includes(at)).map((at) => this.#close(at)),
    );
    this.#failure = '';
    for (const at of wanted.filter((one) => !this.#servers.has(one)))
      await this.#open(at, [...addresses, host]);
    if (isTls) await this.#renew([...addresses, host]);
  }

  async #open(at: string, hosts: readonly string[]): Promise<void> {
    const [scheme = '', address = ''] = at.split(' ');
    try {
      const server =
        scheme === 'https' ? await this.#makeTls(hosts) : createServer(TIME_LIMITS, this.#app.routing);
      server.setTimeout(TIME_LIMITS.connectionTimeout);
      server.on('connection', (socket) => {
        if (!isNeighbour(this.#interfaces, socket.remoteAddress)) socket.destroy();
      });
      limitConnections(server);
      const port = this.#door.port() + (scheme === 'https' ? 1 : 0);
      await new Promise<void>((resolve, reject) => {
        server.once('error', reject);
        server.listen(port, address, () => {
          server.off('error', reject);
          resolve();
        });
      });
      this.#servers.set(at, server);
    } catch (error) {
      this.#failure = `The network cannot be served at ${address}: ${(error as Error).message}.`;
      this.#app.log.warn({ err: error }, 'the network cannot be served');
    }
  }

  async #makeTls(hosts: readonly string[]): Promise<TlsServer> {
    const { key, cert } = await this.#certificates.certify(hosts);
    this.#used = cert;
    return createTlsServer({ ...TIME_LIMITS, key, cert, minVersion: 'TLSv1.2' }, this.#app.routing);
  }

  /** Takes a certificate that was made anew into use, without closing anything. */
  async #renew(hosts: readonly string[]): Promise<void> {
    try {
      const { key, cert } = await this.#certificates.certify(hosts);
      if (cert === this.#used) return;
      this.#used = cert;
      for (const server of this.#servers.values())
        if ('setSecureContext' in server) server.setSecureContext({ key, cert, minVersion: 'TLSv1.2' });
    } catch (error) {
      this.#failure = `The certificate cannot be made: ${(error as Error).message}.`;
    }
  }

  async #close(at: string): Promise<void> {
    const server = this.#servers.get(at);
    if (!server) return;
    this.#servers.delete(at);
    const hurry = setTimeout(() => server.closeAllConnections(), CLOSE_MS);
    await new Promise<void>((resolve) => server.close(() => resolve()));
    clearTimeout(hurry);
  }
}

interface Noticed {
  readonly known: { readonly host: string; readonly port: number } | null;
  readonly port: number;
  readonly host: string;
  readonly isHere: boolean;
  readonly addresses: readonly string[];
}

function sayNotice({ known, port, host, isHere, addresses }: Noticed): string {
  if (addresses.length === 0)
    return 'This computer is not on the network in which it was switched on, so no phone reaches it. It answers at this computer only.';
  if (!isHere)
    return `Phones and labels look for ${host}, but this computer is now ${addresses.join(' and ')}. Bring the old address back to fetch what phones still hold.`;
  if (known && known.port !== port)
    return `Phones and labels look for port ${known.port}, but Clothroom runs at ${port}. Start it with --port ${known.port}.`;
  return '';
}

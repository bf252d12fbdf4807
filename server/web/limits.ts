import type { Server } from 'node:http';

// What one who sends slowly, much or often may take of the server: all its limits in one place.

/** Of heads and bodies, ms, for the server's constructor. Its own time limits are 0, that is none. */
export const TIME_LIMITS = {
  /** a whole request, photos over weak Wi-Fi among them */
  requestTimeout: 30_000,
  /** a head that comes a byte a second */
  headersTimeout: 8000,
  /** how often both are looked at: at Node's own half minute a body a byte a second lives a minute longer than it may */
  connectionsCheckingInterval: 2000,
  /** a socket on which nothing moves */
  connectionTimeout: 60_000,
} as const;

/** The longest list that anybody pastes; files that are sent have limits of their own. */
export const MOST_BODY_BYTES = 256 * 1024;

/** Connections at once, over all and from one address: a second router can hide ten phones behind one. */
export const MOST_CONNECTIONS = 200;
export const MOST_AN_ADDRESS = 64;

/** Requests that let somebody in, from one address in a minute. */
export const MOST_TRIES_A_MINUTE = 10;

/** Bounds the connections of a server from the moment that they are made. */
export function limitConnections(server: Server): void {
  server.maxConnections = MOST_CONNECTIONS;
  const counts = new Map<string, number>();
  server.on('connection', (socket) => {
    const from = socket.remoteAddress ?? '';
    const count = (counts.get(from) ?? 0) + 1;
    counts.set(from, count);
    socket.once('close', () => {
      const left = (counts.get(from) ?? 1) - 1;
      if (left > 0) counts.set(from, left);
      else counts.delete(from);
    });
    if (count > MOST_AN_ADDRESS) socket.destroy();
  });
}

/** Counts tries by address over the last minute. The clock comes in, as everywhere. */
export class Tries {
  readonly #made = new Map<string, number[]>();

  /** Seconds until this address may try again; 0 where it may now, which counts as a try. */
  take(address: string, nowMs: number): number {
    const since = nowMs - 60_000;
    for (const [from, times] of this.#made) if ((times.at(-1) ?? 0) <= since) this.#made.delete(from);
    const recent = (this.#made.get(address) ?? []).filter((time) => time > since);
    const [oldest = nowMs] = recent;
    if (recent.length >= MOST_TRIES_A_MINUTE) return Math.ceil((oldest - since) / 1000);
    this.#made.set(address, [...recent, nowMs]);
    return 0;
  }
}

import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { Socket } from 'node:net';

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

interface Open {
  readonly socket: Socket;
  /** requests on it that are not answered yet */
  answering: number;
}

/**
 * Bounds the connections of a server from the moment that they are made. An address that opens one too many loses the one
 * that it used least recently, so that nobody is turned away for connections that a phone left behind with its Wi-Fi;
 * where all of them are being answered, it is the new one that goes.
 */
export function limitConnections(server: Server): void {
  server.maxConnections = MOST_CONNECTIONS;
  /** those of an address, what was used last at the end */
  const byAddress = new Map<string, Set<Open>>();
  const bySocket = new Map<string, Open>();
  server.on('connection', (socket: Socket) => {
    const [from, name] = [socket.remoteAddress ?? '', nameOf(socket)];
    const open: Open = { socket, answering: 0 };
    const theirs = byAddress.get(from) ?? new Set();
    byAddress.set(from, theirs.add(open));
    bySocket.set(name, open);
    socket.once('close', () => {
      theirs.delete(open);
      if (bySocket.get(name) === open) bySocket.delete(name);
      if (theirs.size === 0 && byAddress.get(from) === theirs) byAddress.delete(from);
    });
    if (theirs.size <= MOST_AN_ADDRESS) return;
    const leaving = [...theirs].find(({ answering }) => answering === 0) ?? open;
    // It is closed in its own time, and counts no more from now on.
    theirs.delete(leaving);
    leaving.socket.destroy();
  });
  server.on('request', ({ socket }: IncomingMessage, reply: ServerResponse) => {
    const open = bySocket.get(nameOf(socket));
    if (!open) return;
    const theirs = byAddress.get(socket.remoteAddress ?? '');
    if (theirs?.delete(open)) theirs.add(open);
    open.answering += 1;
    reply.once('close', () => {
      open.answering -= 1;
    });
  });
}

/** Over TLS requests come on a socket that wraps the one that was connected; both have the other end's address. */
function nameOf({ remoteAddress, remotePort }: Socket): string {
  return `${remoteAddress} ${remotePort}`;
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

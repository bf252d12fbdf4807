import type { FastifyRequest } from 'fastify';
import type { Book } from '../database/book.ts';
import type { Hasher } from '../let-in/hashing.ts';
import type { Tries } from './limits.ts';
import type { RuleBook } from './rules.ts';

/** How the workroom's network is served while it is. */
export interface Served {
  /** the name or number that phones look for, without scheme and port */
  readonly host: string;
  /** whether that is this machine now, as far as it can tell: a number may have gone to another */
  readonly isHere: boolean;
  /** where the own certificate is used; plain http is then a way to it only */
  readonly tlsPort: number | null;
  /** what a keeper at the machine should see to; '' where all is well */
  readonly notice: string;
}

/** The ways in: the machine itself always, and the workroom's network while it is switched on. */
export interface Door {
  /** the port of plain http, once the server listens */
  readonly port: () => number;
  readonly hasher: Hasher;
  readonly tries: Tries;
  readonly rules: RuleBook;
  served: Served | null;
  readonly book: Book;
}

/** The way that a request came, read off its socket, which nobody at the other end can choose. */
export interface Way {
  /** over the loopback, so from the machine itself */
  readonly atMachine: boolean;
  readonly isSecure: boolean;
  /** our own address on that way */
  readonly address: string;
}

export function wayOf(request: FastifyRequest): Way {
  const { socket } = request.raw;
  const address = plainAddress(socket.localAddress);
  // Requests that tests make within the program have no address of ours.
  const atMachine = isLoopback(plainAddress(socket.remoteAddress)) && (address === '' || isLoopback(address));
  return { atMachine, isSecure: 'encrypted' in socket && socket.encrypted === true, address };
}

function plainAddress(address: string | undefined): string {
  return (address ?? '').replace(/^::ffff:/, '');
}

function isLoopback(address: string): boolean {
  return address === '::1' || /^127\.\d+\.\d+\.\d+$/.test(address);
}

import '@fastify/cookie';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { MACHINE_ID } from '../database/device-tables.ts';
import type { Device } from '../let-in/devices.ts';
import { noteUse, readSignIn, type SignedPerson, type SignIn } from '../let-in/sign-ins.ts';
import { type Door, wayOf } from './door.ts';
import { RULES, type Rule } from './rules.ts';

/** Where somebody who asks stands: the highest rule that lets them in, on which device, and as whom. */
export interface Admission {
  readonly rank: Rule;
  readonly device: Device | null;
  /** null where nobody was chosen; without the network the house asks its own cookie */
  readonly person: SignedPerson | null;
  readonly signIn: SignIn | null;
}

const MACHINE: Device = { id: MACHINE_ID, name: 'Workroom computer', personId: null, isMachine: true };
/** Without the network there is one way in, the machine itself, and whoever sits there does everything. */
const AT_HOME: Admission = { rank: 'machine', device: MACHINE, person: null, signIn: null };
const STRANGER: Admission = { rank: 'open', device: null, person: null, signIn: null };

const KNOWN = new WeakMap<FastifyRequest, Admission>();

/** Read once a request. */
export function admissionOf(door: Door, request: FastifyRequest): Admission {
  const known = KNOWN.get(request) ?? readAdmission(door, request);
  KNOWN.set(request, known);
  return known;
}

export function allows(rule: Rule, { rank }: Admission): boolean {
  return RULES.indexOf(rule) <= RULES.indexOf(rank);
}

function readAdmission(door: Door, request: FastifyRequest): Admission {
  if (door.served === null) return AT_HOME;
  const { atMachine, isSecure } = wayOf(request);
  const token = tokenIn(door, request);
  const signIn = token === null ? undefined : readSignIn(door.book, token, door.book.now());
  // A token of the machine that turns up on the network was carried off, and so was one of a tablet at the machine.
  if (!signIn || signIn.device.isMachine !== atMachine)
    return atMachine ? { ...STRANGER, rank: 'paired', device: MACHINE } : STRANGER;
  noteUse(door.book, signIn);
  return { rank: rankOf(signIn, atMachine, isSecure), device: signIn.device, person: signIn.person, signIn };
}

// Whoever reads the air over plain http sees, and could enter, what a hand can: so nobody is more there.
function rankOf({ person, isKeeper }: SignIn, atMachine: boolean, isSecure: boolean): Rule {
  if (person === null) return 'paired';
  if (!isKeeper || !(atMachine || isSecure)) return 'hand';
  return atMachine ? 'machine' : 'keeper';
}

function tokenIn(door: Door, request: FastifyRequest): string | null {
  const { cookie } = request.headers;
  return (cookie && request.server.parseCookie(cookie)[cookieName(door, request)]) || null;
}

// Over http a browser shares cookies among all ports and both schemes of a host, and drops the guarded ones: hence a
// name a port and transport. The value is looked up, never believed.
function cookieName(door: Door, request: FastifyRequest): string {
  return wayOf(request).isSecure ? `__Host-clothroom-${door.port()}` : `clothroom-${door.port()}`;
}

const YEAR_SECONDS = 365 * 24 * 3600;

/** Gives a browser its token to hold. Lax: a code that a phone's scanner opens must find the token too. */
export function giveToken(door: Door, request: FastifyRequest, reply: FastifyReply, token: string): void {
  const { isSecure } = wayOf(request);
  const cookie = {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure: isSecure,
    maxAge: YEAR_SECONDS,
  } as const;
  reply.setCookie(cookieName(door, request), token, cookie);
}

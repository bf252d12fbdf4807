import { prepared } from '../database/statements.ts';
import type { KeptPages } from './kept.ts';
import type { Page, PageFrame } from './page-frame.ts';
import '@fastify/cookie';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Book, Reader } from '../database/book.ts';
import { MACHINE_ID } from '../database/device-tables.ts';
import { keyPrefix, mintKey } from '../kit/request-key.ts';
import { showMoment } from '../kit/when.ts';
import { readUnits, readWorkroom } from '../kit/workroom.ts';
import { canUndo } from '../ledger/undo.ts';
import { type Admission, admissionOf, allows } from './admission.ts';
import { ASSET_LINKS } from './assets.ts';
import type { Door } from './door.ts';
import type { Rule } from './rules.ts';
import { type PersonName, ROOMS, type Room, type Shell } from './shell-data.ts';

/** What every room is given: the book, and who is asking. */
export interface House {
  readonly book: Book;
  /** the port the server listens on, once it does */
  readonly port: () => number;
  readonly keptPages: KeptPages;
  readonly door: Door;
}

export interface Asker {
  readonly personId: number;
  readonly deviceId: number;
  /** of the book */
  readonly mark: string;
  /** prices are told to keepers only */
  readonly seesPrices: boolean;
  /** whether they may take back what somebody else did */
  readonly undoesOthers: boolean;
  readonly units: Units;
  readonly currency: string;
}

const COOKIE = 'clothroom-who';

/**
 * The person who asks: over the network whoever is signed in, without it the one chosen on this device, else the first
 * of the workroom.
 */
export function whoAsks(house: House, request: FastifyRequest): Asker {
  return factsOf(house, request).asker;
}

type Facts = ReturnType<typeof readFacts>;
const FACTS = new WeakMap<FastifyRequest, Facts>();

/** What is asked several times on the way to an answer is read once a request. */
function factsOf(house: House, request: FastifyRequest): Facts {
  const known = FACTS.get(request) ?? readFacts(house, request);
  FACTS.set(request, known);
  return known;
}

function readFacts(house: House, request: FastifyRequest) {
  const admission = admissionOf(house.door, request);
  const workroom = readWorkroom(house.book);
  const { people, who } =
    admission.signIn || house.door.served ? signedIn(admission) : chosenHere(house, request);
  const asker = {
    ...readAsker(house.book, who?.id ?? NOBODY, workroom),
    deviceId: admission.device?.id ?? NOBODY,
    seesPrices: allows('keeper', admission),
    undoesOthers: allows('keeper', admission),
  };
  return { admission, people, who, workroom, asker };
}

/** No row has this number, so that nothing is ever written by nobody. */
const NOBODY = 0;

function signedIn({ person }: Admission): { people: PersonName[]; who: PersonName | null } {
  return { people: [], who: person && { id: person.id, name: person.name } };
}

function chosenHere(house: House, request: FastifyRequest): { people: PersonName[]; who: PersonName | null } {
  const people = readPeople(house);
  const chosen = Number(request.cookies[cookieName(house)]);
  const who = people.find(({ id }) => id === chosen) ?? people[0];
  if (!who) throw new Error('the workroom has no people');
  return { people, who };
}

/** What the pages of a person at the machine are written in. */
export function readAsker(reader: Reader, personId: number, workroom = readWorkroom(reader)): Asker {
  const units = readUnits(reader, personId, workroom);
  return {
    personId,
    deviceId: MACHINE_ID,
    mark: workroom.mark,
    seesPrices: true,
    undoesOthers: true,
    units,
    currency: workroom.currency,
  };
}

/** Keeps on this device who works at it. The name of the cookie has the port, as cookies do not keep ports apart. */
export function rememberWho(house: House, reply: FastifyReply, personId: number): void {
  reply.setCookie(cookieName(house), String(personId), {
    path: '/',
    httpOnly: true,
    // Strict would be left out where a phone's code scanner opens a page, and the first person would seem to work here.
    sameSite: 'lax',
    maxAge: 400 * 24 * 3600,
  });
}

const peopleHere = prepared((db) =>
  db.selectFrom('person').select(['id', 'name']).where('left_at', 'is', null).orderBy('id'),
);

export function readPeople(house: House): PersonName[] {
  return house.book.all(peopleHere());
}

/** A page, or the frame of one that is drawn in another way. */
type Framed = PageFrame & { readonly data?: Page['data'] };

/** What the layout needs around a page. */
export function shapeShell(house: House, request: FastifyRequest, frame: Framed): Shell {
  try {
    return shapeWholeShell(house, request, frame);
  } catch (error) {
    // Of a damaged book the very row that names the workroom may be gone; the page is shown all the same.
    if (!house.book.trouble) throw error;
    return shapeBareShell(house, frame);
  }
}

function shapeWholeShell(house: House, request: FastifyRequest, frame: Framed): Shell {
  // Strangers are told nothing of the workroom, not even its name.
  if (admissionOf(house.door, request).rank === 'open') return shapeBareShell(house, frame);
  const { admission, workroom, people, who, asker } = factsOf(house, request);
  return {
    rooms: ROOMS.filter(({ key }) => allows(RULE_OF_ROOM[key] ?? 'hand', admission)),
    signed: house.door.served && shapeSigned(admission),
    notice: allows('machine', admission) ? (house.door.served?.notice ?? '') : '',
    title: frame.title,
    room: frame.room,
    path: request.method === 'GET' ? withoutDone(request.url) : request.url,
    workroomName: workroom.name,
    invented: workroom.invented,
    who,
    keyPrefix: who ? keyPrefix(asker) : '',
    people,
    done: request.method === 'GET' ? readDone(house, request) : null,
    asOf: showMoment(house.book.now()),
    problems: [...(frame.problems ?? [])],
    saves: frame.saves ?? request.method !== 'GET',
    wayOn: frame.wayOn ?? null,
    sentForm: frame.sentForm ?? null,
    savedBefore: frame.savedBefore ?? null,
    trouble: house.book.trouble?.said ?? null,
    ...waitingOf(frame),
    assets: ASSET_LINKS,
  };
}

/** The rooms of which a hand can open no page. */
const RULE_OF_ROOM: Partial<Record<Room, Rule>> = { orders: 'keeper', setup: 'keeper' };

function shapeSigned({ person, device, rank }: Admission): Shell['signed'] {
  return {
    name: person?.name ?? '',
    device: device?.name ?? '',
    isKeeper: rank === 'keeper' || rank === 'machine',
    canHandBack: person !== null && device?.personId !== person.id,
  };
}

/** A page with figures that are not all there yet has their number as `waiting`. */
function waitingOf({ data = {} }: Framed): Pick<Shell, 'waiting' | 'drawsAgain'> {
  const waiting = 'waiting' in data && typeof data.waiting === 'number' ? data.waiting : 0;
  return { waiting, drawsAgain: waiting > 0 && !('requestKey' in data) };
}

/** The same with nothing in it that comes out of the book. */
function shapeBareShell(house: House, frame: PageFrame): Shell {
  return {
    title: frame.title,
    room: frame.room,
    path: '/',
    rooms: house.door.served ? [] : ROOMS,
    signed: null,
    notice: '',
    workroomName: '',
    invented: false,
    who: null,
    keyPrefix: '',
    people: [],
    done: null,
    asOf: showMoment(house.book.now()),
    problems: [...(frame.problems ?? [])],
    saves: false,
    wayOn: frame.wayOn ?? null,
    sentForm: null,
    savedBefore: null,
    trouble: house.book.trouble?.said ?? null,
    waiting: 0,
    drawsAgain: false,
    assets: ASSET_LINKS,
  };
}

function readDone(house: House, request: FastifyRequest): Shell['done'] {
  const query = request.query as Record<string, unknown> | null;
  const key = query?.done;
  if (typeof key !== 'string') return null;
  const answer = house.book.answerOf(key);
  if (!answer) return null;
  const said = [answer.said, answer.after ?? ''].filter((text) => text !== '').join(' ');
  return { said, key, canUndo: canUndo(house.book, key, whoAsks(house, request)), undoKey: mintKey() };
}

function withoutDone(url: string): string {
  const [path = '/', query] = url.split('?');
  const kept = new URLSearchParams(query);
  kept.delete('done');
  return kept.size === 0 ? path : `${path}?${kept}`;
}

function cookieName(house: House): string {
  return `${COOKIE}-${house.port()}`;
}

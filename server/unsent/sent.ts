import { isKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { conflict, Refusal } from '../refusal.ts';
import { readWaited, withinWeek } from '../web/bench-work.ts';
import { type Body, readBody, withoutKey } from '../web/body.ts';

/** Work that a device kept and that was refused, as the device tells of it. */
export interface SentWork {
  /** the request key that it was sent under */
  readonly key: string;
  /** where it was sent to */
  readonly path: string;
  /** the fields as they were sent, in one text */
  readonly fields: string;
  readonly body: Body;
  /** what it was, in the words of its form */
  readonly what: string;
  /** why it was refused */
  readonly reason: string;
  readonly doneAt: string;
}

const MOST_TEXT = 20_000;
const MOST_WORDS = 500;

/** @throws {Refusal} malformed, where it is nothing that a page of ours kept */
export function readSentWork(typed: Typed, now: string): SentWork {
  const { key = '', path = '', fields = '', what = '', reason = '' } = typed;
  if (!isKey(key) || !path.startsWith('/') || fields.length > MOST_TEXT)
    throw new Refusal('malformed', 'This is nothing that a device kept.');
  const { body } = readBody(Object.fromEntries(new URLSearchParams(fields)));
  return {
    key,
    path: path.split('?')[0] ?? path,
    fields,
    body: withoutKey(body),
    what: what.slice(0, MOST_WORDS),
    reason: reason.slice(0, MOST_WORDS),
    doneAt: readDoneAt(typed, now),
  };
}

/** The device says how many seconds it kept it; a form that was drawn for it since then says when that was. */
function readDoneAt({ waited = '', done_at: told = '' }: Typed, now: string): string {
  const seconds = readWaited(waited);
  const at = seconds === null ? Date.parse(told) : Date.parse(now) - seconds * 1000;
  return Number.isNaN(at) ? now : withinWeek(at, now);
}

/** What work gives, or null where what was sent is of nothing that is there, or cannot be read. */
export function ifReadable<T>(read: () => T): T | null {
  try {
    return read();
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

/** What is saved in the meantime is not told otherwise. @throws {Refusal} conflict */
export function refuseSaved(answer: { readonly said: string; readonly location: string } | undefined): void {
  if (!answer) return;
  throw conflict(`This is in the book already: ${answer.said} Nothing more was entered.`, {
    text: 'See what was saved',
    href: answer.location,
  });
}

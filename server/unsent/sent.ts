import { isKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { conflict, Refusal } from '../refusal.ts';
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
const WEEK_MS = 7 * 24 * 3_600_000;

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
  const at = /^[0-9]{1,12}$/.test(waited) ? Date.parse(now) - Number(waited) * 1000 : Date.parse(told);
  const latest = Date.parse(now);
  if (Number.isNaN(at)) return now;
  return new Date(Math.min(latest, Math.max(latest - WEEK_MS, at))).toISOString();
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

import type { Typed } from '../kit/typed.ts';
import { Refusal } from '../refusal.ts';

/** A body as rows and fields, the way a script sends it and a schema reads it. */
export interface Body {
  readonly [name: string]: unknown;
}

/** Fields without the key of their request: it says nothing of what is asked, and nothing at all where nothing is written. */
export function withoutKey<T>({ request_key: _, ...asked }: Readonly<Record<string, T>>): Record<string, T> {
  return asked;
}

const MOST_FIELDS = 4000;
const MOST_ROWS = 1000;
const MOST_DEPTH = 4;
const MOST_NAME = 200;
const SEGMENT = /^[a-z][a-z0-9_]*$|^[0-9]{1,4}$/;

/**
 * Reads a body: dotted names of an HTML form become rows and fields (`pieces.0.length`), a JSON body is taken
 * as it is. Names that are no field names, fields given twice and lists beyond all use are refused.
 */
export function readBody(raw: unknown): { body: Body; typed: Typed } {
  if (raw === undefined || raw === null) return { body: {}, typed: {} };
  if (typeof raw !== 'object' || Array.isArray(raw))
    throw malformed('The body must be a form or a JSON object.');
  const typed: Record<string, string> = Object.create(null);
  const counted = { fields: 0 };
  flatten(raw, '', typed, counted);
  return { body: nest(typed), typed };
}

function flatten(
  value: object,
  path: string,
  typed: Record<string, string>,
  counted: { fields: number },
): void {
  for (const [name, item] of Object.entries(value)) {
    const full = path === '' ? name : `${path}.${name}`;
    refuseImpossible(full);
    if (item !== null && typeof item === 'object') {
      if (Array.isArray(item) && item.some((one) => typeof one !== 'object')) {
        throw malformed(`The field ${full} was given more than once.`);
      }
      flatten(item, full, typed, counted);
    } else {
      counted.fields += 1;
      if (counted.fields > MOST_FIELDS) throw malformed('The form has too many fields.');
      typed[full] = text(item);
    }
  }
}

/** A name is looked at as a whole before it is taken apart: its dots decide how deep the body goes. */
function refuseImpossible(name: string): void {
  if (name.length <= MOST_NAME) {
    const segments = name.split('.');
    if (segments.length <= MOST_DEPTH + 1 && segments.every((segment) => SEGMENT.test(segment))) return;
  }
  throw malformed('A field has an impossible name.');
}

function text(item: unknown): string {
  if (item === null || item === undefined || item === false) return '';
  if (item === true) return 'yes';
  const plain = String(item);
  if (!plain.isWellFormed()) throw malformed('The text holds characters that are not whole.');
  return plain;
}

function nest(typed: Typed): Body {
  const body: Record<string, unknown> = Object.create(null);
  for (const [full, value] of Object.entries(typed)) put(body, full.split('.'), value);
  return body;
}

function put(target: Record<string, unknown>, path: string[], value: string): void {
  const [name, ...rest] = path;
  if (name === undefined) return;
  if (rest.length === 0) {
    target[name] = value;
    return;
  }
  const inner = target[name] ?? (isRowNumber(rest[0]) ? [] : Object.create(null));
  if (typeof inner !== 'object') throw malformed(`The field ${name} is both a text and a list.`);
  target[name] = inner;
  if (Array.isArray(inner)) {
    const row = Number(rest[0]);
    if (!isRowNumber(rest[0]) || row >= MOST_ROWS)
      throw malformed(`The list ${name} is too long or misnamed.`);
    if (rest.length === 1) throw malformed(`The field ${name} was given more than once.`);
    const fields = (inner[row] ?? Object.create(null)) as Record<string, unknown>;
    inner[row] = fields;
    put(fields, rest.slice(1), value);
  } else put(inner as Record<string, unknown>, rest, value);
}

function isRowNumber(segment: string | undefined): boolean {
  return segment !== undefined && /^[0-9]+$/.test(segment);
}

function malformed(message: string): Refusal {
  return new Refusal('malformed', message);
}

import type { Multipart } from '@fastify/multipart';
import type { FastifyRequest } from 'fastify';
import { Refusal } from '../../refusal.ts';
import { readBody } from '../../web/body.ts';
import { type HandedIn, MOST_FILE_MB } from './new-list.ts';

const MB = 1024 * 1024;
const MOST_PASTED_BYTES = 4 * MB;

/** Limits of a list's form. They count within its parts; `readParts` counts what comes before and between them too. */
export const PART_LIMITS = {
  fileSize: MOST_FILE_MB * MB,
  files: 1,
  fields: 10,
  fieldSize: MOST_PASTED_BYTES,
} as const;

const MOST_BODY_BYTES = PART_LIMITS.fileSize + MOST_PASTED_BYTES;

export interface Sent {
  readonly key: string;
  readonly pasted: string;
  readonly file: HandedIn | null;
}

/**
 * The parts of the form, or the same fields as JSON.
 * @throws {Refusal} too-large, and malformed where the parts are not whole
 */
export async function readMultipart(request: FastifyRequest): Promise<Sent> {
  if (!request.isMultipart()) {
    const { typed } = readBody(request.body);
    return { key: typed.request_key ?? '', pasted: typed.pasted ?? '', file: null };
  }
  try {
    return await Promise.race([tooMuch(request), gatherParts(request)]);
  } catch (error) {
    throw refusalOf(error);
  }
}

async function gatherParts(request: FastifyRequest): Promise<Sent> {
  const fields: Record<string, string> = {};
  let file: HandedIn | null = null;
  for await (const part of request.parts() as AsyncIterable<Multipart>) {
    if (part.type === 'file')
      file = { name: part.filename ?? 'A file', bytes: new Uint8Array(await part.toBuffer()) };
    else fields[part.fieldname] = String(part.value);
  }
  return { key: fields.request_key ?? '', pasted: fields.pasted ?? '', file };
}

/** Fails once more has come than the largest form has, whether or not it is in any part. */
function tooMuch({ raw }: FastifyRequest): Promise<never> {
  return new Promise((_, reject) => {
    let bytes = 0;
    raw.on('data', (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes > MOST_BODY_BYTES) reject(tooLarge());
    });
  });
}

/** Whatever ends the reading of parts is in what was sent: nothing else is done meanwhile. */
function refusalOf(error: unknown): Refusal {
  if (error instanceof Refusal) return error;
  if ((error as { statusCode?: number }).statusCode === 413) return tooLarge();
  return new Refusal('malformed', 'The file did not come whole. Choose it again and hand it in once more.');
}

function tooLarge(): Refusal {
  return new Refusal(
    'too-large',
    `A list is at most ${MOST_FILE_MB} MB: save the one sheet as CSV, or divide it.`,
  );
}

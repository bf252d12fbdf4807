import type { Multipart } from '@fastify/multipart';
import type { FastifyRequest } from 'fastify';
import type { Typed } from '../kit/typed.ts';
import { Refusal } from '../refusal.ts';
import { readBody } from './body.ts';

/** What a form with files may bring. */
export interface PartLimits {
  /** of one file, and how many there may be */
  readonly fileSize: number;
  readonly files: number;
  /** how many fields there may be, and what one may hold */
  readonly fields: number;
  readonly fieldSize: number;
  /** what all parts may come to, with what stands before and between them */
  readonly mostBytes: number;
  /** what is said of more */
  readonly tooLarge: string;
}

export interface SentFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface SentForm {
  readonly typed: Typed;
  /** by the name of the field; one that was left empty is not among them */
  readonly files: Readonly<Partial<Record<string, SentFile>>>;
}

/**
 * The parts of a form, or the same fields as JSON.
 * @throws {Refusal} too-large, and malformed where the parts are not whole
 */
export async function readMultipart(request: FastifyRequest, limits: PartLimits): Promise<SentForm> {
  if (!request.isMultipart()) return { typed: readBody(request.body).typed, files: {} };
  try {
    return await Promise.race([tooMuch(request, limits), gatherParts(request, limits)]);
  } catch (error) {
    throw refusalOf(error, limits);
  }
}

async function gatherParts(request: FastifyRequest, limits: PartLimits): Promise<SentForm> {
  const { fileSize, files: mostFiles, fields: mostFields, fieldSize } = limits;
  const fields: Record<string, string> = Object.create(null);
  const files: Record<string, SentFile> = Object.create(null);
  const parts = request.parts({ limits: { fileSize, files: mostFiles, fields: mostFields, fieldSize } });
  for await (const part of parts as AsyncIterable<Multipart>) {
    if (part.type === 'file') {
      const bytes = new Uint8Array(await part.toBuffer());
      if (bytes.length > 0) files[part.fieldname] = { name: part.filename ?? 'A file', bytes };
    } else fields[part.fieldname] = String(part.value);
  }
  return { typed: readBody(fields).typed, files };
}

/** Fails once more has come than the largest form has, whether or not it is in any part. */
function tooMuch({ raw }: FastifyRequest, limits: PartLimits): Promise<never> {
  return new Promise((_, reject) => {
    let bytes = 0;
    raw.on('data', (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes > limits.mostBytes) reject(new Refusal('too-large', limits.tooLarge));
    });
  });
}

/** Whatever ends the reading of parts is in what was sent: nothing else is done meanwhile. */
function refusalOf(error: unknown, { tooLarge }: PartLimits): Refusal {
  if (error instanceof Refusal) return error;
  if ((error as { statusCode?: number }).statusCode === 413) return new Refusal('too-large', tooLarge);
  return new Refusal('malformed', 'The file did not arrive complete. Choose it and send it again.');
}

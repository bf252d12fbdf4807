import { describe, expect, it } from 'vitest';
import { readCsv, Unreadable } from '../../server/lists/in/reading/csv.ts';
import { Refusal } from '../../server/refusal.ts';
import { readBody } from '../../server/web/body.ts';
import { readLength } from '../../src/quantity/length.ts';
import { callsDuring } from '../calls.ts';
import { newKey, openTestHouse } from '../server/support.ts';
import { PATIENCE_MS, report, seededChance, times } from './scale.ts';

const INPUTS = times(500, 33_000);
const MULTIPARTS = times(20, 1000);

/** What a reader's inputs are put together from. */
const PIECES = {
  length: [
    '1',
    '3/4',
    '⅞',
    ' ',
    'm',
    'cm',
    'yd',
    "'",
    '"',
    '.',
    ',',
    '-',
    '+',
    'e9',
    'ft',
    '\u00a0',
    '½',
    '٣',
    'in',
  ],
  csv: ['a', ',', ';', '\t', '"', '""', '\n', '\r\n', '\r', "'", '=', '\ufeff', '|', '1.5', '\u0000'],
  json: [
    '{',
    '}',
    '[',
    ']',
    '"a"',
    ':',
    ',',
    '1',
    '"pieces.0.x"',
    '"__proto__"',
    'null',
    'true',
    '"b.c"',
    '""',
  ],
} as const;

function made(pieces: readonly string[], count: number, chance: () => number): string {
  return Array.from({ length: count }, () => pieces[Math.floor(chance() * pieces.length)]).join('');
}

/** Steps that a reader makes for as many inputs of so many pieces: calls of the project's functions. */
async function stepsFor(
  read: (text: string) => void,
  pieces: readonly string[],
  inputs: number,
  count: number,
) {
  const chance = seededChance(count);
  const texts = Array.from({ length: inputs }, () => made(pieces, count, chance));
  const calls = await callsDuring(async () => {
    for (const text of texts) read(text);
  });
  return calls.reduce((sum, { times: called }) => sum + called, 0) / inputs;
}

function readJson(text: string): void {
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch {
    return;
  }
  try {
    readBody(raw);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
  }
}

const READERS = {
  length: (text: string) => {
    const reading = readLength(text, 'm');
    if (reading.ok) expect(Number.isSafeInteger(reading.value)).toBe(true);
    else expect(reading.reason).not.toBe('');
  },
  csv: (text: string) => {
    try {
      readCsv(text);
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
    }
  },
  json: (text: string) => readJson(`{"a":${text || '1'}}`),
} as const;

describe('a reader', () => {
  it.each(Object.keys(READERS) as (keyof typeof READERS)[])(
    'of %s takes anything, and its steps grow no faster than its input',
    async (name) => {
      const steps: number[] = [];
      for (const count of [1, 4, 16, 64, 256])
        steps.push(await stepsFor(READERS[name], PIECES[name], Math.floor(INPUTS / 5), count));
      report(`fuzz of ${name}`, {
        inputs: Math.floor(INPUTS / 5) * 5,
        'steps by size': steps.map((n) => n.toFixed(1)).join(' '),
      });
      // From 64 pieces to four times as many: four times the steps, and something for chance.
      expect(steps[4]).toBeLessThan(6 * Math.max(1, steps[3] ?? 0) + 20);
    },
    PATIENCE_MS,
  );

  it(
    'of forms in parts takes anything',
    async () => {
      const house = await openTestHouse();
      const chance = seededChance(3);
      const counts: Record<number, number> = {};
      const line = () =>
        made(
          [
            '--b',
            '\r\n',
            '\r\n\r\n',
            'Content-Disposition: form-data; name="pasted"',
            '; filename="a.csv"',
            'a,b',
            '--',
            '"',
            '\u0000',
            'Content-Type: x',
          ],
          1 + Math.floor(chance() * 30),
          chance,
        );
      for (let at = 0; at < MULTIPARTS; at += 1) {
        const key = `--b\r\nContent-Disposition: form-data; name="request_key"\r\n\r\n${newKey()}\r\n`;
        const reply = await fetch(`${house.origin}/setup/lists`, {
          method: 'POST',
          headers: {
            accept: 'application/json',
            origin: house.origin,
            'content-type': 'multipart/form-data; boundary=b',
          },
          body: `${chance() < 0.5 ? key : ''}${line()}${chance() < 0.5 ? '\r\n--b--\r\n' : ''}`,
        });
        await reply.text();
        counts[reply.status] = (counts[reply.status] ?? 0) + 1;
      }
      report('fuzz of parts', { inputs: MULTIPARTS, answers: JSON.stringify(counts) });
      expect(Object.keys(counts).filter((status) => Number(status) >= 500)).toEqual([]);
      await house.shut();
    },
    PATIENCE_MS,
  );
});

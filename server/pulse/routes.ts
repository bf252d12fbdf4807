import type { FastifyInstance } from 'fastify';
import { queryText } from '../kit/address.ts';
import { PULSE_PATH, type Pulse, readPulse, readSince, type Shown } from '../ledger/pulse.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { readChanges } from './changes.ts';

const MOST_SAID = 3;

/**
 * Pages at the cutting table and the pot ask every quarter of a minute whether somebody else changed what they show: 204
 * where nobody did, else who did what. Most asks end at the numbers.
 */
export function pulseRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  answering(app, house).answer(PULSE_PATH, ({ asker, query, reply }) => {
    const shown = shownIn(query);
    const since = readSince(queryText(query, 'since'));
    if (!shown || !since || isSame(since, readPulse(book, shown))) return reply.code(204).send();
    const said = readChanges(book, shown, since, asker);
    if (said.length === 0) return reply.code(204).send();
    return reply.send({ said: said.slice(0, MOST_SAID), more: Math.max(0, said.length - MOST_SAID) });
  });
}

function shownIn(query: unknown): Shown | null {
  const garment = queryText(query, 'garment');
  const batch = queryText(query, 'batch');
  if (garment !== '') return { garment };
  return batch === '' ? null : { batch };
}

function isSame(a: Pulse, b: Pulse): boolean {
  return (Object.keys(a) as (keyof Pulse)[]).every((name) => a[name] === b[name]);
}

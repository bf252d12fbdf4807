import type { FastifyInstance, FastifyRequest } from 'fastify';
import { address } from '../kit/address.ts';
import { Refusal } from '../refusal.ts';
import { type Admission, admissionOf, allows } from './admission.ts';
import { type Door, wayOf } from './door.ts';
import { wantsJson } from './page.ts';
import { RULES, type Rule } from './rules.ts';

/** Where a device that was let in says who works at it. */
export const WHO_PATH = '/who';

/**
 * Asks of every request whether the rule of its route lets it in; a route without a rule lets nobody in. To be called
 * after the guard, which has looked at the host and the site by then.
 */
export function keepRules(app: FastifyInstance, door: Door): void {
  app.addHook('onRequest', async (request, reply) => {
    const admission = admissionOf(door, request);
    if (request.is404) return refuseStrangers(admission);
    const { rule } = request.routeOptions.config;
    if (!RULES.some((known) => known === rule))
      throw new Refusal('forbidden', 'No rule says who may ask for this.');
    if (allows(rule as Rule, admission)) return;
    if (admission.rank === 'paired' && isBrowsing(request))
      return reply.redirect(address(WHO_PATH, { back: request.url }), 303);
    throw refusalFor(rule as Rule, admission, wayOf(request));
  });
}

function isBrowsing(request: FastifyRequest): boolean {
  return request.method === 'GET' && !wantsJson(request);
}

/** Strangers are told of no address whether it is there. */
function refuseStrangers({ rank }: Admission): void {
  if (rank === 'open') throw notLetIn();
}

function notLetIn(): Refusal {
  return new Refusal('not-let-in', 'This device was not let in. A keeper of the workroom can let it in.');
}

/** Says what a rule asks for. @throws never: the refusal is returned */
export function refusalFor(
  rule: Rule,
  { rank, signIn }: Admission,
  { atMachine, isSecure }: { readonly atMachine: boolean; readonly isSecure: boolean },
): Refusal {
  if (rank === 'open') return notLetIn();
  if (rank === 'paired') return new Refusal('not-let-in', 'Say first who works at this device.');
  if (signIn?.person?.role === 'hand')
    return new Refusal('not-yours', 'This is for keepers of the workroom.');
  if (rule === 'machine')
    return new Refusal('not-yours', 'This is done by a keeper at the workroom’s computer only.');
  if (atMachine || isSecure)
    return new Refusal('not-yours', 'This is for keepers. Sign in with your passphrase first.', undefined, {
      text: 'Sign in as keeper',
      href: '/who/keeper',
    });
  return new Refusal(
    'not-yours',
    'This is for keepers, at the workroom’s computer: over this network everybody is a hand.',
  );
}

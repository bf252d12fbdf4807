import type { FastifyReply, FastifyRequest } from 'fastify';
import { keyIn, mintKey } from '../kit/request-key.ts';

/**
 * Sends a browser on to the same address with a request key in it, so that Back to the first page of a form finds the
 * key that the form was saved under. False where the address has one, or where it is no browser that asks.
 */
export function goToKeyedAddress(request: FastifyRequest, reply: FastifyReply): boolean {
  if (request.headers['sec-fetch-mode'] !== 'navigate' || keyIn(request)) return false;
  const join = request.url.includes('?') ? '&' : '?';
  reply.redirect(`${request.url}${join}request_key=${mintKey()}`, 303);
  return true;
}

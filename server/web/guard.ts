import type { IncomingMessage, Server } from 'node:http';
import type {
  FastifyError,
  FastifyHttpOptions,
  FastifyInstance,
  FastifyReply,
  FastifyRequest,
} from 'fastify';
import { Refusal } from '../refusal.ts';
import { type Door, type Served, type Way, wayOf } from './door.ts';
import { limitConnections, MOST_BODY_BYTES, TIME_LIMITS } from './limits.ts';
import { hearOut } from './unread.ts';

// form-action and the rest are named one by one: default-src does not cover them.
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self'",
  "connect-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

// No Strict-Transport-Security: the workroom is served over plain http on the machine itself.
// Referrer-Policy is not no-referrer, with which the browser sends `Origin: null` from our own forms.
const HEADERS = {
  'content-security-policy': POLICY,
  'referrer-policy': 'same-origin',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'cross-origin-resource-policy': 'same-origin',
  // Nothing of the workroom uses what a page could ask a device for, nor lets a part from elsewhere use it.
  'permissions-policy': [
    'camera=()',
    'microphone=()',
    'geolocation=()',
    'payment=()',
    'usb=()',
    'serial=()',
    'midi=()',
    'display-capture=()',
    'publickey-credentials-get=()',
  ].join(', '),
  'cache-control': 'no-store',
  vary: 'HX-Request-Type, Accept',
};

const { headersTimeout, connectionsCheckingInterval, requestTimeout, connectionTimeout } = TIME_LIMITS;

/**
 * A HEAD is answered as the GET of the same address is; Node leaves the body out by itself, since it looked at the
 * method before. A route of its own for each HEAD would double what the router builds at every start.
 */
function headAsGet(request: IncomingMessage): string {
  if (request.method === 'HEAD') request.method = 'GET';
  return request.url ?? '/';
}

/**
 * Limits of the server, for the Fastify constructor. An address that cannot be decoded or is too long never reaches
 * the guard's hook, so it is answered here, with nothing of what was asked.
 */
export const SERVER_LIMITS = {
  bodyLimit: MOST_BODY_BYTES,
  requestTimeout,
  connectionTimeout,
  http: { headersTimeout, connectionsCheckingInterval },
  routerOptions: { maxParamLength: 100 },
  exposeHeadRoutes: false,
  rewriteUrl: headAsGet,
  trustProxy: false,
  frameworkErrors: (error: FastifyError, _request: FastifyRequest, reply: FastifyReply) => {
    reply
      .code(error.statusCode ?? 400)
      .headers(HEADERS)
      .type('text/plain; charset=utf-8')
      .send('This address cannot be read.');
  },
} as const satisfies FastifyHttpOptions<Server>;

/**
 * Puts the guard before every route of `app`, known or not: security headers, the names that we
 * answer to, and no writing on behalf of another site. To be called before any route is added.
 * @param door the ports that the server listens on, asked at each request (one may be picked at start)
 */
export function addGuard(app: FastifyInstance, door: Pick<Door, 'port' | 'served'>): void {
  // A form of another site can send text/plain without asking the browser's leave first.
  app.removeContentTypeParser('text/plain');
  limitConnections(app.server);
  hearOut(app);
  app.addHook('onRequest', async (request, reply) => {
    const way = wayOf(request);
    setHeaders(request, reply, way);
    refuseOtherHosts(request, door, way);
    if (request.method !== 'GET') refuseOtherSites(request, way);
    if (request.method !== 'GET') refusePlain(door.served, way);
    const elsewhere = door.served && leadTo(request, door.port(), door.served, way);
    if (elsewhere) return reply.redirect(elsewhere, 303);
  });
}

// Over plain http a browser heeds the opener's policy on the machine itself alone; elsewhere it logs an error a page.
function setHeaders(request: FastifyRequest, reply: FastifyReply, { isSecure }: Way): void {
  reply.headers(HEADERS);
  if (isSecure || LOOPBACK.test(request.headers.host ?? ''))
    reply.header('cross-origin-opener-policy', 'same-origin');
}

const LOOPBACK = /^(127\.0\.0\.1|localhost|\[::1\])(:\d+)?$/;

// A page of another site can let its own name point to this machine and then read our answers; the
// name in Host gives it away. Compared as text: a parser of hosts would be one more thing to fool.
function refuseOtherHosts(request: FastifyRequest, door: Pick<Door, 'port' | 'served'>, way: Way): void {
  const hosts = rawValues(request.raw.rawHeaders, 'host');
  const [host] = hosts;
  if (hosts.length === 1 && host !== undefined && ownHosts(door, way).includes(host)) return;
  const known = way.atMachine || !door.served ? '127.0.0.1' : door.served.host;
  throw new Refusal(
    'misdirected',
    way.atMachine
      ? `Clothroom answers on this machine as http://${known}:${door.port()} only.`
      : `Clothroom answers here as http://${known}:${door.port()} only.`,
  );
}

/** The hosts that a way is asked by: over the network the number that it was reached at, and the name on the poster. */
function ownHosts({ port, served }: Pick<Door, 'port' | 'served'>, way: Way): string[] {
  const { atMachine, isSecure, address } = way;
  if (atMachine) return withPort(['127.0.0.1', 'localhost', '[::1]'], port(), 80);
  if (!served) return [];
  return withPort([address, served.host], isSecure ? (served.tlsPort ?? 0) : port(), isSecure ? 443 : 80);
}

// Browsers leave the port out of Host where it is the usual one.
function withPort(names: readonly string[], port: number, usual: number): string[] {
  return [...names.map((name) => `${name}:${port}`), ...(port === usual ? names : [])];
}

/** What plain http still answers where the own certificate is used: how to come to trust it, and nothing of the book. */
const PLAIN = /^\/(certificate|assets|ping)(\/|$)/;
/** What the codes of labels hold. */
const LABEL = /^\/[PpDdRr]\//;

/**
 * Where a reading request is to go instead: cookies and unsent work belong to one address, so every other leads to it
 * before a device is let in there. Null where it is right.
 */
function leadTo(
  { method, headers, url }: FastifyRequest,
  port: number,
  served: Served,
  way: Way,
): string | null {
  if (way.atMachine || method !== 'GET') return null;
  const { host, isHere, tlsPort } = served;
  if (tlsPort !== null && !way.isSecure && !PLAIN.test(url))
    return LABEL.test(url) ? `https://${host}:${tlsPort}${url}` : '/certificate';
  const asked = headers.host?.replace(/:\d+$/, '');
  if (!isHere || asked === host) return null;
  return way.isSecure ? `https://${host}:${tlsPort}${url}` : `http://${host}:${port}${url}`;
}

// Node keeps the first of two Host headers and hides the second, so the raw list is counted.
function rawValues(rawHeaders: readonly string[], name: string): string[] {
  return rawHeaders.filter((_, place) => place % 2 === 1 && rawHeaders[place - 1]?.toLowerCase() === name);
}

// With the own certificate plain http is a way to it, and takes nothing.
function refusePlain(served: Served | null, { atMachine, isSecure }: Way): void {
  if (!served?.tlsPort || atMachine || isSecure) return;
  throw new Refusal('forbidden', `This is sent to https://${served.host}:${served.tlsPort} only.`);
}

// Browsers say where a request comes from in Sec-Fetch-Site; where they leave it out (plain http to
// another machine), they still send Origin with every POST. A request with neither is not a browser's.
function refuseOtherSites(request: FastifyRequest, { isSecure }: Way): void {
  const site = request.headers['sec-fetch-site'];
  const { origin, host } = request.headers;
  const ours = `${isSecure ? 'https' : 'http'}://${host}`;
  const own = site === undefined ? origin === ours : site === 'same-origin' || site === 'none';
  if (own) return;
  throw new Refusal(
    'forbidden',
    `This was sent from somewhere else than a page of Clothroom. A script must send "Origin: ${ours}".`,
  );
}

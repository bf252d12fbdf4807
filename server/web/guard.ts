import type { Server } from 'node:http';
import type {
  FastifyError,
  FastifyHttpOptions,
  FastifyInstance,
  FastifyReply,
  FastifyRequest,
} from 'fastify';
import { Refusal } from '../refusal.ts';
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

/** Connections at once, over all and from one address: a second router can hide ten phones behind one. */
const MOST_CONNECTIONS = 200;
const MOST_AN_ADDRESS = 64;

/**
 * Limits of the server, for the Fastify constructor. Its own time limits are 0, that is none; a body
 * of 256 kB holds the longest list anybody pastes. The time of heads and bodies is looked at every two seconds: at
 * Node's own half minute a body a byte a second lives a minute longer than it may. An address that cannot be decoded or is too long never reaches
 * the guard's hook, so it is answered here, with nothing of what was asked.
 */
export const SERVER_LIMITS = {
  bodyLimit: 256 * 1024,
  requestTimeout: 30_000,
  connectionTimeout: 60_000,
  http: { headersTimeout: 8000, connectionsCheckingInterval: 2000 },
  routerOptions: { maxParamLength: 100 },
  trustProxy: false,
  frameworkErrors: (error: FastifyError, _request: FastifyRequest, reply: FastifyReply) => {
    reply
      .code(error.statusCode ?? 400)
      .headers(HEADERS)
      .type('text/plain; charset=utf-8')
      .send('This address cannot be read.');
  },
} as const satisfies FastifyHttpOptions<Server>;

const READING_METHODS = ['GET', 'HEAD'];

/**
 * Puts the guard before every route of `app`, known or not: security headers, the names that we
 * answer to, and no writing on behalf of another site. To be called before any route is added.
 * @param port the port that the server listens on, asked at each request (it may be picked at start)
 */
export function addGuard(app: FastifyInstance, port: () => number): void {
  // A form of another site can send text/plain without asking the browser's leave first.
  app.removeContentTypeParser('text/plain');
  limitConnections(app.server);
  hearOut(app);
  app.addHook('onRequest', async (request, reply) => {
    setHeaders(request, reply);
    refuseOtherHosts(request, port());
    if (!READING_METHODS.includes(request.method)) refuseOtherSites(request);
  });
}

function limitConnections(server: FastifyInstance['server']): void {
  server.maxConnections = MOST_CONNECTIONS;
  const open = new Map<string, number>();
  server.on('connection', (socket) => {
    const from = socket.remoteAddress ?? '';
    const count = (open.get(from) ?? 0) + 1;
    open.set(from, count);
    socket.once('close', () => {
      const left = (open.get(from) ?? 1) - 1;
      if (left > 0) open.set(from, left);
      else open.delete(from);
    });
    if (count > MOST_AN_ADDRESS) socket.destroy();
  });
}

// Over plain http a browser heeds the opener's policy on the machine itself alone; elsewhere it logs an error a page.
function setHeaders(request: FastifyRequest, reply: FastifyReply): void {
  reply.headers(HEADERS);
  if (LOOPBACK.test(request.headers.host ?? '')) reply.header('cross-origin-opener-policy', 'same-origin');
}

const LOOPBACK = /^(127\.0\.0\.1|localhost|\[::1\])(:\d+)?$/;

// A page of another site can let its own name point to this machine and then read our answers; the
// name in Host gives it away. Compared as text: a parser of hosts would be one more thing to fool.
function refuseOtherHosts(request: FastifyRequest, port: number): void {
  const hosts = rawValues(request.raw.rawHeaders, 'host');
  const [host] = hosts;
  if (hosts.length === 1 && host !== undefined && ownHosts(port).includes(host)) return;
  throw new Refusal('misdirected', `Clothroom answers on this machine as http://127.0.0.1:${port} only.`);
}

// Browsers leave the port out of Host where it is the usual one of http.
function ownHosts(port: number): string[] {
  const names = ['127.0.0.1', 'localhost', '[::1]'];
  return [...names.map((name) => `${name}:${port}`), ...(port === 80 ? names : [])];
}

// Node keeps the first of two Host headers and hides the second, so the raw list is counted.
function rawValues(rawHeaders: readonly string[], name: string): string[] {
  return rawHeaders.filter((_, place) => place % 2 === 1 && rawHeaders[place - 1]?.toLowerCase() === name);
}

// Browsers say where a request comes from in Sec-Fetch-Site; where they leave it out (plain http to
// another machine), they still send Origin with every POST. A request with neither is not a browser's.
function refuseOtherSites(request: FastifyRequest): void {
  const site = request.headers['sec-fetch-site'];
  const { origin, host } = request.headers;
  const own = site === undefined ? origin === `http://${host}` : site === 'same-origin' || site === 'none';
  if (own) return;
  throw new Refusal(
    'forbidden',
    `This was sent from somewhere else than a page of Clothroom. A script must send "Origin: http://${host}".`,
  );
}

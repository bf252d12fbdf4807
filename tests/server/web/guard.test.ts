import { connect } from 'node:net';
import formbody from '@fastify/formbody';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { Refusal } from '../../../server/refusal.ts';
import { addGuard, SERVER_LIMITS } from '../../../server/web/guard.ts';
import { FOREIGN_HOSTS } from './foreign-hosts.ts';

// Requests are written byte by byte: a client library would put the headers right.
// What each header must hold: OWASP ASVS 5.0.0, 3.4 (browser security headers), 3.5 (origins), 14.3.2 (caching).

let app: FastifyInstance;
let port: number;
let writes = 0;

beforeAll(async () => {
  app = Fastify(SERVER_LIMITS);
  addGuard(app, { port: () => port, served: null });
  await app.register(formbody);
  app.setErrorHandler((error, _request, reply) => {
    const status =
      error instanceof Refusal ? error.status : ((error as { statusCode?: number }).statusCode ?? 500);
    return reply.code(status).send({ message: (error as Error).message });
  });
  app.get('/', () => 'page');
  app.get('/pieces/:code', () => 'piece');
  app.post('/cuts', () => {
    writes += 1;
    return 'cut';
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  const address = app.server.address();
  port = typeof address === 'object' && address !== null ? address.port : 0;
});
beforeEach(() => {
  writes = 0;
});
afterAll(() => app.close());

interface Reply {
  status: number;
  headers: Record<string, string>;
  body: string;
}

/** Sends the lines as they are and reads one answer to its end. */
function ask(lines: string[], body = ''): Promise<Reply> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1');
    const chunks: Buffer[] = [];
    socket.on('data', (chunk: Buffer) => chunks.push(chunk));
    socket.on('error', reject);
    socket.on('close', () => resolve(readReply(Buffer.concat(chunks).toString())));
    socket.write(Buffer.from(`${[...lines, 'Connection: close', '', ''].join('\r\n')}${body}`));
  });
}

function readReply(text: string): Reply {
  const [head = '', ...body] = text.split('\r\n\r\n');
  const [first = '', ...lines] = head.split('\r\n');
  const pairs = lines.map((line) => [
    line.slice(0, line.indexOf(':')).toLowerCase(),
    line.slice(line.indexOf(':') + 2),
  ]);
  return {
    status: Number(first.split(' ')[1]),
    headers: Object.fromEntries(pairs),
    body: body.join('\r\n\r\n'),
  };
}

const get = (host: string) => ask(['GET / HTTP/1.1', `Host: ${host}`]);

function post(headers: string[], body = 'a=1', type = 'application/x-www-form-urlencoded') {
  const own = [
    `Host: 127.0.0.1:${port}`,
    `Content-Type: ${type}`,
    `Content-Length: ${Buffer.byteLength(body)}`,
  ];
  return ask(['POST /cuts HTTP/1.1', ...own, ...headers], body);
}

describe('HEAD', () => {
  it('is answered as GET is, without the body', async () => {
    const [page, head] = await Promise.all([
      get(`127.0.0.1:${port}`),
      ask(['HEAD / HTTP/1.1', `Host: 127.0.0.1:${port}`]),
    ]);
    expect(page.body).toBe('page');
    expect(head).toEqual({ ...page, body: '', headers: { ...page.headers, date: head.headers.date } });
  });

  it('is refused where GET is', async () => {
    expect((await ask(['HEAD / HTTP/1.1', 'Host: example.com'])).status).toBe(421);
    expect((await ask(['HEAD /nowhere HTTP/1.1', `Host: 127.0.0.1:${port}`])).status).toBe(404);
  });
});

describe('the name in Host', () => {
  it.each(['127.0.0.1', 'localhost', '[::1]'])('is answered as %s with the port', async (name) => {
    expect((await get(`${name}:${port}`)).status).toBe(200);
  });

  it('is refused as any other of many, on reading too', async () => {
    expect(FOREIGN_HOSTS.length).toBeGreaterThanOrEqual(60);
    const answers = await Promise.all(
      FOREIGN_HOSTS.map(async (host) => [host, (await get(host.replaceAll('PORT', String(port)))).status]),
    );
    expect(answers.filter(([, status]) => status !== 421)).toEqual([]);
  });

  it('is refused when it is empty, left out, or holds control characters', async () => {
    expect((await ask(['GET / HTTP/1.1', 'Host:'])).status).toBe(421);
    expect((await ask(['GET / HTTP/1.1'])).status).toBe(400);
    expect((await ask(['GET / HTTP/1.0'])).status).toBe(421);
    expect((await get(`127.0.0.1:${port}\u0000`)).status).toBe(400);
  });

  it('is refused when it is given twice, whichever of the two is ours', async () => {
    const ours = `Host: 127.0.0.1:${port}`;
    for (const pair of [
      [ours, 'Host: evil.example'],
      ['Host: evil.example', ours],
      [ours, ours],
      [ours, `hOsT: localhost:${port}`],
    ]) {
      expect((await ask(['GET / HTTP/1.1', ...pair])).status).toBe(421);
    }
  });

  it('counts, not the one in the address or in a forwarding header', async () => {
    expect((await ask([`GET http://127.0.0.1:${port}/ HTTP/1.1`, 'Host: evil.example'])).status).toBe(421);
    expect(
      (await ask(['GET / HTTP/1.1', 'Host: evil.example', `X-Forwarded-Host: 127.0.0.1:${port}`])).status,
    ).toBe(421);
    expect((await ask(['GET /no-such-page HTTP/1.1', 'Host: evil.example'])).status).toBe(421);
  });

  it('may leave out port 80, and only that', async () => {
    const usual = Fastify();
    addGuard(usual, { port: () => 80, served: null });
    usual.get('/', () => 'page');
    const status = async (host: string) => (await usual.inject({ url: '/', headers: { host } })).statusCode;
    expect(await status('localhost')).toBe(200);
    expect(await status('localhost:80')).toBe(200);
    expect(await status('localhost:8080')).toBe(421);
    await usual.close();
  });
});

describe('a form from another site', () => {
  const own = () => `http://127.0.0.1:${port}`;
  const origins = (): (string | null)[] => [
    ...[
      null,
      own(),
      'null',
      '',
      `https://127.0.0.1:${port}`,
      `http://localhost:${port}`,
      `http://127.0.0.1:${port + 1}`,
    ],
    ...[
      'http://127.0.0.1',
      `http://127.0.0.1:${port}/`,
      `${own()}, ${own()}`,
      own().toUpperCase(),
      'http://evil.example',
    ],
  ];
  const sites = [
    null,
    'same-origin',
    'none',
    'same-site',
    'cross-site',
    '',
    'Same-Origin',
    'same-origin, cross-site',
    'other',
  ];
  // Where the browser names the site, that decides; else Origin must be our own address to the letter.
  const allowed = (site: string | null, origin: string | null) =>
    site === 'same-origin' || site === 'none' || (site === null && origin === own());

  it('writes nothing, in every pairing of Sec-Fetch-Site and Origin', async () => {
    let expected = 0;
    for (const site of sites) {
      for (const origin of origins()) {
        const headers = [
          site === null ? '' : `Sec-Fetch-Site: ${site}`,
          origin === null ? '' : `Origin: ${origin}`,
        ];
        const { status } = await post(headers.filter((line) => line !== ''));
        expect([site, origin, status]).toEqual([site, origin, allowed(site, origin) ? 200 : 403]);
        if (allowed(site, origin)) expected += 1;
      }
    }
    expect(expected).toBe(25);
    expect(writes).toBe(expected);
  });

  it.each(['PUT', 'PATCH', 'DELETE', 'OPTIONS', 'QUERY', 'PROPFIND'])(
    'is refused with the method %s too',
    async (method) => {
      const { status } = await ask([
        `${method} / HTTP/1.1`,
        `Host: 127.0.0.1:${port}`,
        'Content-Length: 0',
        'Origin: http://evil.example',
      ]);
      expect(status).toBe(403);
    },
  );

  it('may only read', async () => {
    const { status } = await ask([
      'GET / HTTP/1.1',
      `Host: 127.0.0.1:${port}`,
      'Sec-Fetch-Site: cross-site',
      'Origin: http://evil.example',
    ]);
    expect(status).toBe(200);
  });
});

describe('a body', () => {
  const own = () => `Origin: http://127.0.0.1:${port}`;

  it('is read as a form or JSON, never as plain text', async () => {
    expect((await post([own()])).status).toBe(200);
    expect((await post([own()], '{"a":1}', 'application/json')).status).toBe(200);
    expect((await post([own()], 'a=1', 'text/plain')).status).toBe(415);
    expect(writes).toBe(2);
  });

  it('may be 256 kB long and no longer, said or unsaid', async () => {
    expect((await post([own()], `a=${'x'.repeat(256 * 1024 - 2)}`)).status).toBe(200);
    expect((await post([own()], `a=${'x'.repeat(256 * 1024 - 1)}`)).status).toBe(413);
    const chunk = 'x'.repeat(300_000);
    const chunked = `${chunk.length.toString(16)}\r\n${chunk}\r\n0\r\n\r\n`;
    const lines = [
      'POST /cuts HTTP/1.1',
      `Host: 127.0.0.1:${port}`,
      own(),
      'Content-Type: application/x-www-form-urlencoded',
    ];
    expect((await ask([...lines, 'Transfer-Encoding: chunked'], chunked)).status).toBe(413);
    expect(writes).toBe(1);
  });
});

describe('the headers of an answer', () => {
  const wanted = {
    'content-security-policy':
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    'referrer-policy': 'same-origin',
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    'cross-origin-resource-policy': 'same-origin',
    'cache-control': 'no-store',
    vary: 'HX-Request-Type, Accept',
  };

  it('are the same on pages, unknown addresses and refusals', async () => {
    const host = `Host: 127.0.0.1:${port}`;
    const answers = {
      200: await get(`127.0.0.1:${port}`),
      404: await ask(['GET /no-such-page HTTP/1.1', host]),
      403: await post([]),
      421: await get('evil.example'),
      415: await post([`Origin: http://127.0.0.1:${port}`], 'a', 'text/plain'),
    };
    for (const [status, answer] of Object.entries(answers)) {
      expect(answer.status).toBe(Number(status));
      expect(answer.headers).toMatchObject(wanted);
      // Over plain http only an answer of the machine itself may set it; elsewhere the browser logs an error.
      const opener = answer.headers['cross-origin-opener-policy'];
      expect(opener, status).toBe(status === '421' ? undefined : 'same-origin');
    }
  });

  it('keep a page from the senses and ports of the device', async () => {
    const policy = (await get(`127.0.0.1:${port}`)).headers['permissions-policy'] ?? '';
    for (const feature of ['camera', 'microphone', 'geolocation', 'usb', 'serial', 'payment'])
      expect(policy.split(', ')).toContain(`${feature}=()`);
  });

  it('stand on an address that cannot be read too, which is not repeated', async () => {
    for (const path of ['/%E0%A4%A', '/%', '/pieces/%ff%fe']) {
      const answer = await ask([`GET ${path} HTTP/1.1`, 'Host: evil.example']);
      expect(answer.status).toBe(400);
      expect(answer.headers).toMatchObject(wanted);
      expect(answer.body).toContain('This address cannot be read.');
      expect(answer.body).not.toContain('%');
    }
    const long = await ask([`GET /pieces/${'x'.repeat(101)} HTTP/1.1`, `Host: 127.0.0.1:${port}`]);
    expect(long.status).toBe(414);
    expect(long.headers).toMatchObject(wanted);
  });

  it('promise no https, which the workroom does not have, and say nothing of the program', async () => {
    const { headers } = await get(`127.0.0.1:${port}`);
    expect(headers).not.toHaveProperty('strict-transport-security');
    expect(headers).not.toHaveProperty('server');
    expect(headers).not.toHaveProperty('x-powered-by');
    expect(headers['content-security-policy']).not.toContain('upgrade-insecure-requests');
  });
});

import { connect, type Socket } from 'node:net';
import formbody from '@fastify/formbody';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addGuard, SERVER_LIMITS } from '../../../server/web/guard.ts';

let app: FastifyInstance;
let port: number;
let writes = 0;

beforeAll(async () => {
  app = Fastify(SERVER_LIMITS);
  addGuard(app, () => port);
  await app.register(formbody);
  app.get('/', () => 'page');
  app.post('/cuts', () => {
    writes += 1;
    return 'cut';
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  port = Number(new URL(app.listeningOrigin).port);
});
afterAll(() => app.close());

describe('a connection', () => {
  const quiet = (from: string) =>
    new Promise<{ closed: Promise<number>; socket: Socket }>((resolve) => {
      const begun = performance.now();
      const socket = connect({ port, host: '127.0.0.1', localAddress: from });
      socket.on('error', () => undefined);
      const closed = new Promise<number>((end) => socket.once('close', () => end(performance.now() - begun)));
      socket.once('connect', () => resolve({ closed, socket }));
    });

  it('is one of 64 from an address at most, and others are served beside them', async () => {
    const many = await Promise.all(Array.from({ length: 80 }, () => quiet('127.0.0.9')));
    const refused = await Promise.race([
      Promise.all(many.slice(64).map(({ closed }) => closed)).then((closed) => closed.length),
      new Promise<string>((resolve) => setTimeout(resolve, 10_000, 'still open')),
    ]);
    expect(refused).toBe(16);
    expect(many.slice(0, 64).filter(({ socket }) => socket.closed)).toEqual([]);
    expect((await fetch(`http://127.0.0.1:${port}/`)).status).toBe(200);
    for (const { socket } of many) socket.destroy();
    await Promise.all(many.map(({ closed }) => closed));
    const [again] = await Promise.all([quiet('127.0.0.9')]);
    again?.socket.end(`GET / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`);
    let answer = '';
    again?.socket.on('data', (chunk) => {
      answer += chunk;
    });
    await again?.closed;
    expect(answer).toContain('200 OK');
  });

  // A head may take 8 s and a whole request 30 s; Node looks every 2 s. Twice that and a busy machine are allowed for.
  it('is closed where a head or a body comes a byte a second', async () => {
    const [head, body] = await Promise.all([quiet('127.0.0.1'), quiet('127.0.0.1')]);
    body?.socket.write(
      `POST /cuts HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nOrigin: http://127.0.0.1:${port}\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 1000\r\n\r\n`,
    );
    head?.socket.write('GET / HTTP/1.1\r\nX-Slow: ');
    const drip = setInterval(() => {
      for (const each of [head, body]) if (each?.socket.writable) each.socket.write('a');
    }, 1000);
    const [headMs, bodyMs] = await Promise.all([head?.closed, body?.closed]);
    clearInterval(drip);
    expect(headMs).toBeLessThan(15_000);
    expect(bodyMs).toBeLessThan(42_000);
    expect(writes).toBe(0);
  });
});

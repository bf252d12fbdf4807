import { connect, type Socket } from 'node:net';
import formbody from '@fastify/formbody';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addGuard, SERVER_LIMITS } from '../../../server/web/guard.ts';

let app: FastifyInstance;
let port: number;
let writes = 0;
let answerSlow: (said: string) => void;
const slow = new Promise<string>((resolve) => {
  answerSlow = resolve;
});

beforeAll(async () => {
  app = Fastify(SERVER_LIMITS);
  addGuard(app, { port: () => port, served: null });
  await app.register(formbody);
  app.get('/', () => 'page');
  app.get('/slow', () => slow);
  app.post('/cuts', () => {
    writes += 1;
    return 'cut';
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  port = Number(new URL(app.listeningOrigin).port);
});
afterAll(() => app.close());

const REFUSED = expect.stringContaining('413 Payload Too Large');

describe('a connection', () => {
  const quiet = (from: string) =>
    new Promise<{ closed: Promise<number>; socket: Socket }>((resolve) => {
      const begun = performance.now();
      const socket = connect({ port, host: '127.0.0.1', localAddress: from });
      socket.on('error', () => undefined);
      const closed = new Promise<number>((end) => socket.once('close', () => end(performance.now() - begun)));
      socket.once('connect', () => resolve({ closed, socket }));
    });

  const connections = () =>
    new Promise<number>((resolve) => app.server.getConnections((_, count) => resolve(count)));

  it('is one of 64 from an address at most: those used least recently go, and others are served beside them', async () => {
    const many: Awaited<ReturnType<typeof quiet>>[] = [];
    for (let at = 0; at < 80; at += 1) many.push(await quiet('127.0.0.9'));
    const closed = await Promise.race([
      Promise.all(many.slice(0, 16).map((one) => one.closed)).then((all) => all.length),
      new Promise<string>((resolve) => setTimeout(resolve, 10_000, 'still open')),
    ]);
    expect(closed).toBe(16);
    expect(many.slice(16).filter(({ socket }) => socket.closed)).toEqual([]);
    expect((await fetch(`http://127.0.0.1:${port}/`)).status).toBe(200);
    for (const { socket } of many) socket.destroy();
    await Promise.all(many.map(({ closed }) => closed));
    // An end of ours is closed before the server's is: the server counts them gone in its own time.
    await expect.poll(connections).toBeLessThanOrEqual(1);
    const [again] = await Promise.all([quiet('127.0.0.9')]);
    again?.socket.end(`GET / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`);
    let answer = '';
    again?.socket.on('data', (chunk) => {
      answer += chunk;
    });
    await again?.closed;
    expect(answer).toContain('200 OK');
  });

  /** Asks on a connection and gives all that came on it. */
  const asked = ({ socket, closed }: Awaited<ReturnType<typeof quiet>>, path: string) => {
    let answer = '';
    socket.on('data', (chunk) => {
      answer += chunk;
    });
    socket.write(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`);
    return closed.then(() => answer);
  };

  it('is there for who left 50 behind, as phones do that lose their Wi-Fi, and opens 50 again', async () => {
    const answered = ({ socket }: Awaited<ReturnType<typeof quiet>>) =>
      new Promise<string>((resolve) => {
        socket.once('data', (chunk) => resolve(String(chunk)));
        socket.once('close', () => resolve('closed'));
        socket.write(`GET / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n\r\n`);
      });
    for (let round = 0; round < 4; round += 1) {
      const lanes = await Promise.all(Array.from({ length: 50 }, () => quiet('127.0.0.7')));
      const answers = await Promise.all(lanes.map(answered));
      expect([round, answers.filter((answer) => !answer.includes('200 OK'))]).toEqual([round, []]);
    }
  });

  it('stays where it is being answered: then the new one goes', async () => {
    const many = await Promise.all(Array.from({ length: 64 }, () => quiet('127.0.0.8')));
    const answers = many.map((one) => asked(one, '/slow'));
    await new Promise((resolve) => setTimeout(resolve, 200));
    const late = await quiet('127.0.0.8');
    expect(await late.closed).toBeLessThan(5000);
    answerSlow('page');
    expect((await Promise.all(answers)).filter((answer) => !answer.includes('200 OK'))).toEqual([]);
  });

  it('hears its answer though it sends on, and is cut off where it sends without end', async () => {
    const MB = 1024 * 1024;
    const post = async (bytes: number) => {
      const { socket, closed } = await quiet('127.0.0.1');
      let [answer, sent] = ['', 0];
      socket.on('data', (chunk) => {
        answer += chunk;
      });
      const head = [
        'POST /cuts HTTP/1.1',
        `Host: 127.0.0.1:${port}`,
        `Origin: http://127.0.0.1:${port}`,
        'Content-Type: application/x-www-form-urlencoded',
        'Connection: close',
        `Content-Length: ${bytes}`,
      ];
      socket.write(`${head.join('\r\n')}\r\n\r\n`);
      const goOn = () => {
        if (socket.destroyed || sent === bytes) return;
        sent += MB;
        if (socket.write('a'.repeat(MB))) setImmediate(goOn);
        else socket.once('drain', goOn);
      };
      goOn();
      await closed;
      return { answer, sent };
    };
    for (const size of [MB, 8 * MB]) expect(await post(size)).toEqual({ answer: REFUSED, sent: size });
    expect((await post(400 * MB)).sent).toBeLessThan(110 * MB);
    expect(writes).toBe(0);
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

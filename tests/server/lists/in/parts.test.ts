import { connect } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { newKey, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const MB = 1024 * 1024;
const LIST = 'Cloth,Width,Colour,Length\nNet,280 cm,Foam,3 m\n';

/** Sends a body as multipart, byte by byte as given, and gives what was answered and how much of it was read. */
function post(
  type: string,
  body: Iterable<string>,
  isDeaf = false,
): Promise<{ status: number; text: string; sent: number }> {
  return new Promise((resolve) => {
    const socket = connect(Number(new URL(house.origin).port), '127.0.0.1');
    let [text, sent] = ['', 0];
    socket.on('data', (chunk) => {
      text += chunk;
    });
    socket.on('error', () => undefined);
    socket.once('close', () => resolve({ status: Number(text.split(' ')[1] ?? 0), text, sent }));
    const head = [
      'POST /setup/lists HTTP/1.1',
      `Host: ${new URL(house.origin).host}`,
      `Origin: ${house.origin}`,
      `Content-Type: ${type}`,
      'Transfer-Encoding: chunked',
      'Connection: close',
    ];
    socket.write(`${head.join('\r\n')}\r\n\r\n`);
    const parts = body[Symbol.iterator]();
    const goOn = () => {
      if (socket.destroyed) return;
      if (text !== '' && !isDeaf) return void socket.destroy();
      const { value, done } = parts.next();
      if (done) return void socket.write('0\r\n\r\n');
      sent += value.length;
      const chunk = `${Buffer.byteLength(value).toString(16)}\r\n${value}\r\n`;
      if (socket.write(chunk)) setImmediate(goOn);
      else socket.once('drain', goOn);
    };
    goOn();
  });
}

const part = (name: string, content: string) =>
  `--x\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${content}\r\n`;
const file = (name: string, content: string) =>
  `--x\r\nContent-Disposition: form-data; name="file"; filename="${name}"\r\nContent-Type: text/csv\r\n\r\n${content}\r\n`;
const TYPE = 'multipart/form-data; boundary=x';

describe('a file handed in', () => {
  it('is asked for again, not a fault, where its parts are not whole', async () => {
    const key = part('request_key', newKey());
    const bodies: [string, string][] = [
      ['multipart/form-data', key],
      [TYPE, `${key}${file('a.csv', LIST)}`],
      [TYPE, key.slice(0, 30)],
      [TYPE, 'nothing of the kind'],
      [TYPE, '\r\n'],
    ];
    for (const [type, body] of bodies) {
      const { status, text } = await post(type, [body]);
      expect([400, 422], `${type} ${body}`).toContain(status);
      expect(text).toMatch(/did not arrive complete|no request key|Choose a file/);
    }
    expect((await house.data('/setup/lists')).body.lists ?? []).toEqual([]);
  });

  it('keeps a name whose 200th letter is a pair', async () => {
    for (const at of [198, 199, 200]) {
      const name = `${'a'.repeat(at)}\u{1D49C}b`;
      const { status } = await post(TYPE, [part('request_key', newKey()), file(name, LIST), '--x--\r\n']);
      expect(status).toBe(303);
    }
    expect((await house.page('/setup/lists').expect(200)).text).toContain(`${'a'.repeat(199)}\u{1D49C}`);
  });

  it('is read no further than the largest list, whatever is before its first part, in a head or between parts', async () => {
    const filler = 'a'.repeat(MB / 4);
    function* endless(before: string) {
      // A chunk of nothing would end the body, and all that follows would be no request at all.
      if (before !== '') yield before;
      for (let at = 0; at < 800; at += 1) yield filler;
    }
    const starts = ['', '--x\r\nContent-Disposition: form-data; name="', `${file('a.csv', LIST)}--x--\r\n`];
    for (const start of starts) {
      const { status, sent } = await post(TYPE, endless(start));
      expect([400, 413, 422], start).toContain(status);
      // What lies in the buffers of the machine between is sent, though not read.
      expect(sent, start).toBeLessThan(60 * MB);
    }
    const { sent } = await post(TYPE, endless(''), true);
    expect(sent).toBeLessThan(110 * MB);
  });
});

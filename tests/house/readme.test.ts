import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../server/support.ts';

// What the README tells scripts to send is sent, word by word, to this house instead of the usual port.
const README = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
const CURLS = [...README.matchAll(/^curl .*$/gm)].map(([line]) => line);

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

describe('the calls that the README shows', () => {
  it('are four', () => {
    expect(CURLS).toHaveLength(4);
  });

  it.each(CURLS)('%s', async (line) => {
    const [, path = ''] = /http:\/\/127\.0\.0\.1:8737(\/[^' ]*)'?$/.exec(line) ?? [];
    const [, body] = /-d '([^']*)'/.exec(line) ?? [];
    const answer = body === undefined ? await house.data(path) : await house.send(path, JSON.parse(body));
    expect(answer.status).toBe(200);
    expect(answer.body.result).toBeTruthy();
  });

  it('come to what they say', async () => {
    const band = await house.data(pathOf(0)).expect(200);
    // 285 in over 57 in a strip are five strips exactly, where a closing allowance would ask for six.
    expect(band.body.result.strips).toBe(5);
  });
});

function pathOf(at: number): string {
  return /8737(\/[^' ]*)'?$/.exec(CURLS[at] ?? '')?.[1] ?? '';
}

import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { newKey, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const list = (rows: number) =>
  `Cloth,Width,Shade,Lot,Length\n${Array.from({ length: rows }, (_, n) => `Organza,150,Moss,${n % 7},${1 + (n % 50)}`).join('\n')}`;

/** Hands a file in as a browser does. */
async function handIn(name: string, content: string | Uint8Array) {
  const { port } = house.app.server.address() as { port: number };
  const form = new FormData();
  form.set('request_key', newKey());
  form.set('pasted', '');
  form.set('file', new Blob([content as BlobPart]), name);
  const origin = `http://127.0.0.1:${port}`;
  return fetch(`${origin}/setup/lists`, {
    method: 'POST',
    body: form,
    redirect: 'manual',
    headers: { origin },
  });
}

const stateOf = async (path: string) => (await house.data(path).expect(200)).body;

async function until(path: string, wanted: (page: { state: string; working: boolean }) => boolean) {
  for (let tries = 0; tries < 3000; tries += 1) {
    const page = await stateOf(path);
    if (wanted(page)) return page;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error('the list came to no end');
}

describe('a long list', () => {
  it('stopped while it is taken in, is taken back whole', async () => {
    const answer = await handIn('long.csv', list(6000));
    expect(answer.status).toBe(303);
    const path = (answer.headers.get('location') ?? '').split('?')[0] ?? '';
    const ready = await until(path, ({ state, working }) => state === 'ready' && !working);
    expect(ready).toMatchObject({ counts: { all: 6000, wrong: 0 } });
    const taking = house
      .submit(`${path}/takings`, { skip_twins: 'yes' })
      .expect(303)
      .then(({ status }) => status);
    await until(path, ({ state }) => state === 'taking in');
    // Other pages are answered meanwhile.
    await house.page('/shelf').expect(200);
    await house.submit(`${path}/stops`, {}).expect(303);
    await taking;
    await until(path, ({ state, working }) => state === 'taken back' && !working);
    const left = house.book.all(
      house.book.db.selectFrom('piece').select('id').where('on_hand_ticks', '>', 0),
    );
    expect(left).toEqual([]);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('of more than 32 MB is refused before it is read', async () => {
    const answer = await handIn('huge.csv', new Uint8Array(33 * 1024 * 1024).fill(65));
    expect(answer.status).toBe(413);
    expect(await answer.text()).toContain('A list is at most 32 MB');
  });
});

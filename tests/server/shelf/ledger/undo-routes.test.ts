import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { holdLength } from '../../../../server/ledger/verbs.ts';
import {
  length,
  makeBolt,
  makeStock,
  makeTier,
  newKey,
  openTestHouse,
  type TestHouse,
} from '../../support.ts';

describe('the form that undoes', () => {
  let house: TestHouse;
  beforeAll(async () => {
    house = await openTestHouse();
  });
  afterAll(() => house.shut());

  function holdSome(): string {
    const key = newKey();
    house.book.write({ key, asked: null, personId: 1 }, (tx) => {
      const stock = makeStock(tx);
      const { id, code } = makeBolt(tx, stock.lotId, '10 m');
      const tierId = makeTier(tx, stock);
      holdLength(tx, id, tierId, { lengthTicks: length('1 m'), typed: '1 m' });
      return { location: `/shelf/pieces/${code}`, said: `1 m of ${code} is held.` };
    });
    return key;
  }

  it('goes back to where the work was told, and says that it is undone', async () => {
    const undoes = holdSome();
    const told = await house.page(`/shelf?done=${undoes}`);
    expect(told.text).toContain('<button type="submit" accesskey="z">Undo</button>');
    const answer = await house.submit('/undo', { undoes });
    expect(answer.status).toBe(303);
    expect(answer.headers.location).toMatch(/^\/shelf\/pieces\/B\d+\?done=test-key-/);
    const page = await house.page(answer.headers.location ?? '');
    expect(page.status).toBe(200);
    expect(page.text).toMatch(/Undone: 1 m of B\d+ is held\./);
  });

  it('undoes once, however often it is sent', async () => {
    const [undoes, request_key] = [holdSome(), newKey()];
    const entries = () => house.book.connection.prepare('SELECT count(*) FROM entry').pluck().get();
    const first = await house.send('/undo', { undoes, request_key });
    const after = entries();
    const second = await house.send('/undo', { undoes, request_key });
    expect(first.status).toBe(200);
    expect(second.body).toEqual(first.body);
    expect(entries()).toBe(after);
    const third = await house.send('/undo', { undoes });
    expect(third.status).toBe(409);
    expect(third.body.error.message).toMatch(/^This was undone already by Maker, /);
  });

  it('shows on a page of its own why nothing was undone', async () => {
    const answer = await house.submit('/undo', { undoes: 'never-sent-key' });
    expect(answer.status).toBe(409);
    expect(answer.text).toContain('There is nothing in the ledger to undo for this.');
  });

  it('refuses what names no request', async () => {
    expect((await house.send('/undo', {})).status).toBe(422);
    expect((await house.send('/undo', { undoes: 'x'.repeat(81) })).status).toBe(422);
  });
});

import { afterEach, beforeEach, expect, it } from 'vitest';
import { addList, usualWriting } from '../../../../server/lists/in/new-list.ts';
import { ListRunner } from '../../../../server/lists/in/runner.ts';
import { readList } from '../../../../server/lists/in/store.ts';
import { Refusal } from '../../../../server/refusal.ts';
import { asker, openTestBook, type TestBook } from '../../support.ts';

let opened: TestBook;
beforeEach(async () => {
  opened = await openTestBook();
});
afterEach(() => opened.close());

it('a disk that refuses every write while a list is read ends the reading, not the program, and the list can be gone on with', async () => {
  const { book, write } = opened;
  const logged: unknown[] = [];
  const runner = new ListRunner(book, (error) => logged.push(error));
  const listId = write((tx) => addList(tx, 'old stock', usualWriting(asker)));
  const rows = Array.from({ length: 3_000 }, (_, at) => `C${at},Net ${at},280 cm,Foam,3 m`);
  const bytes = new TextEncoder().encode(`Code,Cloth,Width,Colour,Length\n${rows.join('\n')}`);
  book.connection.pragma('query_only = ON');
  runner.read(listId, bytes);
  await runner.waitFor(listId, 30_000);
  expect(runner.progressOf(listId)).toBeUndefined();
  expect(logged).toEqual([expect.any(Refusal)]);
  expect(String(logged[0])).toContain('cannot be written');
  expect(readList(book, listId).state).toBe('reading');

  book.connection.pragma('query_only = OFF');
  runner.read(listId, bytes);
  await runner.waitFor(listId, 30_000);
  expect(readList(book, listId).state).toBe('ready');
  await runner.close();
});

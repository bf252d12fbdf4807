import { existsSync, mkdirSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Copier, copierOf } from '../../../server/copies/copier.ts';
import { fingerprintOf } from '../../../server/copies/proof.ts';
import { putBack } from '../../../server/copies/put-back.ts';
import { readRecord, writeRecord } from '../../../server/copies/record.ts';
import { carry, takeSecondPlace } from '../../../server/copies/second-place.ts';
import { sayWrongCopies } from '../../../server/copies/words.ts';
import type { Book } from '../../../server/database/book.ts';
import { copiesIn } from '../../../server/database/folder.ts';
import { folderWith, newFolder, serveFolder } from '../../faults/door.ts';
import { newKey } from '../support.ts';
import { AT, copiesOf, exported, folderWithBolt, open, time } from './opened.ts';

const days = (count: number) => count * 86_400_000;

afterEach(() => {
  vi.useRealTimers();
});

function addPerson(book: Book, name: string): void {
  book.write({ key: newKey(), asked: name, personId: 1 }, (tx) => {
    tx.run(tx.db.insertInto('person').values({ name }));
    return { location: '/', said: 'Done.' };
  });
}

describe('a copy of an open book', () => {
  it('is made while the book is written to, proven, and put back is the same workroom', async () => {
    const folder = await folderWithBolt();
    const book = await open(folder);
    const copier = new Copier(book);
    const copying = copier.copy();
    let written = 0;
    while (copier.isWorking && written < 200) {
      addPerson(book, `Person ${written}`);
      written += 1;
      await new Promise((resolve) => setImmediate(resolve));
    }
    await copying;
    await copier.close();
    expect(written).toBeGreaterThan(0);
    const [copy = ''] = copiesOf(folder);
    expect(statSync(copy).mode & 0o777).toBe(0o400);
    expect(copier.record).toMatchObject({ made: { at: AT, failure: '' }, drilled: { at: AT, failure: '' } });
    expect(copier.record.proofs).toEqual([
      { name: copy.split('/').at(-1), how: 'whole', ...fingerprintOf(copy) },
    ]);
    book.close();
    const other = newFolder();
    putBack(copy, other, AT);
    const back = await open(other);
    // The copy has all that was written by some instant, and nothing after it.
    const people = back
      .all(back.db.selectFrom('person').select('name').orderBy('id'))
      .map(({ name }) => name);
    expect(people.slice(1)).toEqual(Array.from({ length: people.length - 1 }, (_, i) => `Person ${i}`));
    expect(back.all(back.db.selectFrom('piece').select('on_hand_ticks'))).toEqual([
      { on_hand_ticks: 12 * 160_000 },
    ]);
  });

  it('put back exports what the book exports', async () => {
    const folder = await folderWithBolt();
    const book = await open(folder);
    const copier = new Copier(book);
    await copier.copy();
    await copier.close();
    book.close();
    const other = newFolder();
    const { file, setAside } = putBack(copiesOf(folder)[0] ?? '', other, AT);
    expect([file, setAside]).toEqual([join(other, 'clothroom.db'), null]);
    expect(exported(other)).toBe(exported(folder));
    expect(readdirSync(other).sort()).toEqual(['clothroom.db', 'lock.db']);
  });

  it('that does not agree with itself is not kept, and Today says so', async () => {
    const folder = await folderWithBolt();
    const book = await open(folder);
    const copier = copierOf(book);
    copier.begin();
    await copier.copy();
    const before = copiesOf(folder);
    // A balance that no entry gave: the book was spoilt by some other program since it was opened.
    book.connection.exec('DROP TRIGGER piece_never_goes');
    time.now += days(8);
    await copier.copy();
    expect(copiesOf(folder)).toEqual(before);
    expect(readdirSync(join(folder, 'copies')).filter((name) => name.includes('.part'))).toEqual([]);
    expect(sayWrongCopies(book)).toEqual([
      'No copy was made on 10 Mar 2026, 12:00: the copy did not agree: The file has lost the trigger piece_never_goes, which it was made with.',
      'The last copy is 8 days old.',
    ]);
    await copier.close();
  });

  it('is not made of a book that is in trouble', async () => {
    const folder = await folderWithBolt();
    const book = await open(folder);
    const copier = new Copier(book);
    rmSync(book.file);
    await copier.copy();
    expect(copiesOf(folder)).toEqual([]);
    await copier.close();
  });

  it('is told where the disk refuses, and what was half made goes', async () => {
    const folder = await folderWithBolt();
    const book = await open(folder);
    const copier = new Copier(book);
    const full = Object.assign(new Error('database or disk is full'), { code: 'SQLITE_FULL' });
    const backup = vi.spyOn(book.connection, 'backup').mockImplementation(async (part) => {
      writeFileSync(String(part), 'half');
      writeFileSync(`${part}-journal`, '');
      throw full;
    });
    await copier.copy();
    expect(copier.record.made).toEqual({ at: AT, failure: 'the disk is full' });
    expect(readdirSync(join(folder, 'copies'))).toEqual(['copies.json']);
    addPerson(book, 'Jonas');
    backup.mockRestore();
    await copier.copy();
    expect(copier.record.made).toEqual({ at: AT, failure: '' });
    await copier.close();
  });

  it('takes away what a killed program left half made', async () => {
    const folder = await folderWithBolt();
    const book = await open(folder);
    const copier = new Copier(book);
    const left = join(folder, 'copies', 'copy-2026-03-01T03-00-00Z.db.part');
    mkdirSync(join(folder, 'copies'));
    for (const end of ['', '-journal']) writeFileSync(`${left}${end}`, 'half');
    await copier.copy();
    await copier.close();
    expect(existsSync(left) || existsSync(`${left}-journal`)).toBe(false);
    expect(copiesOf(folder)).toHaveLength(1);
  });
});

describe('copies make themselves', () => {
  it('soon after a start where the last is old, at their hour, and when the book was written to', async () => {
    const folder = await folderWithBolt();
    const book = await open(folder);
    vi.useFakeTimers({ toFake: ['setInterval', 'setTimeout', 'clearInterval'] });
    const copier = new Copier(book);
    const made = vi.spyOn(copier, 'copy').mockResolvedValue();
    copier.begin();
    vi.advanceTimersByTime(29_000);
    expect(made).not.toHaveBeenCalled();
    vi.advanceTimersByTime(2000);
    expect(made).toHaveBeenCalledTimes(1);
    // Nothing was written in this run.
    await copier.close();
    expect(made).toHaveBeenCalledTimes(1);
    addPerson(book, 'Jonas');
    await copier.close();
    expect(made).toHaveBeenCalledTimes(2);
    expect(made).toHaveBeenLastCalledWith(true);
  });

  it('at the hour that was chosen, once a day', async () => {
    const folder = await folderWithBolt();
    mkdirSync(join(folder, 'copies'));
    const at = new Date(2026, 2, 2, 14, 5);
    time.now = at.getTime();
    writeFileSync(join(folder, 'copies', 'copy-2026-03-01T18-00-00Z.db'), '');
    const book = await open(folder);
    vi.useFakeTimers({ toFake: ['setInterval', 'setTimeout', 'clearInterval'] });
    const copier = new Copier(book);
    copier.setRules({ hour: 14, second: null });
    const made = vi.spyOn(copier, 'copy').mockImplementation(async () => {
      writeFileSync(join(folder, 'copies', 'copy-2026-03-02T14-05-00Z.db'), '');
    });
    copier.begin();
    time.now -= 3_600_000;
    vi.advanceTimersByTime(600_000);
    const early = made.mock.calls.length;
    time.now += 3_600_000;
    vi.advanceTimersByTime(600_000);
    expect(made.mock.calls.length).toBe(early + 1);
    vi.advanceTimersByTime(1_200_000);
    expect(made.mock.calls.length).toBe(early + 1);
    await copier.close();
  });
});

describe('the second place', () => {
  it('is another folder that is there and can be written to, and no other book’s', async () => {
    const folder = newFolder();
    const book = join(folder, 'clothroom.db');
    expect(takeSecondPlace('copies', book)).toMatch(/^Write the whole path/);
    expect(takeSecondPlace(join(folder, 'copies'), book)).toMatch(/^That folder lies with the book/);
    expect(takeSecondPlace(folder, book)).toMatch(/^That folder lies with the book/);
    const place = newFolder();
    expect(takeSecondPlace(join(place, 'none'), book)).toMatch(/^There is no such folder now/);
    writeFileSync(join(place, 'file'), '');
    expect(takeSecondPlace(join(place, 'file'), book)).toMatch(/^That is a file/);
    expect(takeSecondPlace(place, book)).toBe('');
    expect(takeSecondPlace(place, book)).toBe('');
    expect(takeSecondPlace(place, '/another/clothroom.db')).toMatch(/is the second place of another book/);
  });

  it('gets each copy, is told as absent where the drive is pulled, and gets the next', async () => {
    const folder = await folderWithBolt();
    const place = newFolder();
    const book = await open(folder);
    const copier = copierOf(book);
    copier.begin();
    expect(takeSecondPlace(place, book.file)).toBe('');
    copier.setRules({ hour: 3, second: place });
    await copier.copy();
    const [copy = ''] = copiesOf(folder);
    expect(fingerprintOf(join(place, copiesIn(place)[0]?.name ?? ''))).toEqual(fingerprintOf(copy));
    expect(sayWrongCopies(book)).toEqual([]);
    // The folder in which a drive is found stays when the drive is pulled.
    rmSync(place, { recursive: true });
    mkdirSync(place);
    time.now += days(2);
    await copier.copy();
    expect(copier.record.carried?.failure).toBe('the drive or folder is not there');
    expect(readdirSync(place)).toEqual([]);
    expect(sayWrongCopies(book)).toEqual([]);
    time.now += days(1);
    await copier.copy();
    expect(sayWrongCopies(book)).toEqual([
      `Since 2 Mar 2026, 12:00 no copy came to the second place, ${place}: the drive or folder is not there.`,
    ]);
    expect(copiesOf(folder)).toHaveLength(3);
    takeSecondPlace(place, book.file);
    await copier.copy();
    expect(sayWrongCopies(book)).toEqual([]);
    expect(copiesIn(place)).toHaveLength(1);
    await copier.close();
  });

  it('gets a copy of its own where it was named after the one that is being made had been carried', async () => {
    const folder = await folderWithBolt();
    const place = newFolder();
    const book = await open(folder);
    const copier = copierOf(book);
    const first = copier.copy();
    // By now it was carried by the former rule, and its trial goes on.
    await vi.waitUntil(() => copier.record.made, { interval: 1, timeout: 60_000 });
    takeSecondPlace(place, book.file);
    copier.setRules({ hour: 3, second: place });
    time.now += 1000;
    const asked = copier.copy();
    expect(copier.copy()).toBe(asked);
    await first;
    expect([copier.isWorking, copiesIn(place)]).toEqual([true, []]);
    await asked;
    expect([copier.isWorking, copiesIn(place).length]).toEqual([false, 1]);
    await copier.close();
  });

  it('keeps nothing that was read back otherwise', async () => {
    const place = newFolder();
    takeSecondPlace(place, '/a/clothroom.db');
    const copy = join(newFolder(), 'copy-2026-03-02T12-00-00Z.db');
    writeFileSync(copy, 'what was written');
    expect(() => carry(copy, 'another hash', place)).toThrow('the drive may be failing');
    expect(copiesIn(place)).toEqual([]);
    expect(readdirSync(place)).toHaveLength(1);
  });
});

describe('what is known of the copies', () => {
  it('is kept beside them, and begins anew where it was spoilt', () => {
    const folder = newFolder();
    expect(readRecord(folder)).toMatchObject({ hour: 3, second: null, proofs: [] });
    writeRecord(folder, { ...readRecord(folder), hour: 22 });
    expect(readRecord(folder).hour).toBe(22);
    writeFileSync(join(folder, 'copies.json'), '{"hour": 99}');
    expect(readRecord(folder).hour).toBe(3);
  });
});

describe('the page of the copies', () => {
  it('makes a copy when asked, takes the rules, and refuses a place that cannot be', async () => {
    const folder = await folderWith('Jonas');
    const one = await serveFolder(folder);
    const origin = `http://127.0.0.1:${new URL(one.origin).port}`;
    const post = (path: string, fields: object) =>
      fetch(`${origin}${path}`, {
        method: 'POST',
        headers: { accept: 'application/json', 'content-type': 'application/json', origin },
        body: JSON.stringify({ request_key: newKey(), ...fields }),
      });
    expect((await one.page('/setup/copies')).text).toContain('There is no copy yet.');
    const wrong = await post('/setup/copies', { hour: '4', second: folder });
    expect(wrong.status).toBe(422);
    expect(JSON.stringify(await wrong.json())).toContain('That folder lies with the book');
    const place = newFolder();
    expect((await post('/setup/copies', { hour: '4', second: place })).status).toBe(200);
    expect((await post('/setup/copies/made', {})).status).toBe(200);
    await copierOf(one.book).copy();
    const { text } = await one.page('/setup/copies');
    expect(text).toContain(place);
    expect(text).toMatch(/copy-2\d{3}-.*\.db/);
    expect(text).toContain('all that “check” proves');
    expect(text).toContain('in the invented workroom copies are made by the button only');
    expect(text).toContain('it opened, and everything agreed');
  });
});

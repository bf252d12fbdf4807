import { chmodSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { drill } from '../../../server/copies/drill.ts';
import { backUp } from '../../../server/copies/from-terminal.ts';
import { putBack } from '../../../server/copies/put-back.ts';
import { CannotOpen, lastCopy } from '../../../server/database/folder.ts';
import { folderWith, newFolder, ruinPages, serveFolder } from '../../faults/door.ts';
import { AT, exported, folderWithBolt, open } from './opened.ts';

describe('a copy that is put back', () => {
  it('sets the former book aside with all that belongs to it', async () => {
    const folder = await folderWith('Jonas');
    const { path } = await backUp(folder, null, AT);
    const one = await serveFolder(folder);
    await one.addPerson('Mira');
    await one.stop();
    const later = exported(folder);
    const { setAside } = putBack(path, folder, AT);
    expect(setAside).toBe(join(folder, 'set-aside-2026-03-02T12-00-00Z'));
    expect(exported(setAside ?? '')).toBe(later);
    const text = exported(folder);
    expect(text).toContain('Jonas');
    expect(text).not.toContain('Mira');
    expect(statSync(join(folder, 'clothroom.db')).mode & 0o777).toBe(0o600);
    // It opens as any book does.
    const back = await serveFolder(folder);
    expect((await back.addPerson('Mira')).status).toBe(200);
  });

  it('is refused where it is none, damaged, of a newer program, or the book is open; nothing changes then', async () => {
    const folder = await folderWith('Jonas');
    const { path } = await backUp(folder, null, AT);
    const before = exported(folder);
    const other = newFolder();
    const refused = (file: string, message: RegExp) => {
      expect(() => putBack(file, folder, AT)).toThrow(CannotOpen);
      expect(() => putBack(file, folder, AT)).toThrow(message);
    };
    refused(join(other, 'none.db'), /^there is no file/);
    writeFileSync(join(other, 'text.db'), 'text '.repeat(400));
    refused(join(other, 'text.db'), /is not a Clothroom book$/);
    const bytes = readFileSync(path);
    bytes.writeUInt32BE(9999, 60);
    writeFileSync(join(other, 'newer.db'), bytes);
    refused(join(other, 'newer.db'), /made by a newer Clothroom/);
    chmodSync(path, 0o600);
    const flipped = readFileSync(path);
    const at = flipped.indexOf('Jonas');
    flipped[at] = (flipped[at] ?? 0) ^ 1;
    writeFileSync(path, flipped);
    refused(path, /its bytes are not those that it was made with/);
    rmSync(`${path}.sha256`);
    ruinPages(path, [2]);
    refused(path, /is damaged and was not put back .* take an older copy$/);
    expect(exported(folder)).toBe(before);
    expect(readdirSync(folder).filter((name) => name.includes('put-back'))).toEqual([]);
    const book = await open(folder);
    expect(() => putBack(path, folder, AT)).toThrow(/stop it first|damaged/);
    await expect(backUp(folder, null, AT)).rejects.toThrow('stop it first');
    expect(book.trouble).toBeNull();
  });

  it('is tried once a month, and a spoilt one is told', async () => {
    const folder = await folderWithBolt();
    const { path } = await backUp(folder, null, AT);
    expect(drill(path, AT)).toEqual([]);
    chmodSync(path, 0o600);
    ruinPages(path, [3]);
    expect(drill(path, AT)[0]).toMatch(/its bytes are not those that it was made with/);
    rmSync(`${path}.sha256`);
    expect(drill(path, AT)[0]).toMatch(/is damaged and was not put back/);
  });
});

describe('a copy from the terminal', () => {
  it('goes into a folder that is named and there', async () => {
    const folder = await folderWithBolt();
    const to = newFolder();
    const { path, bytes } = await backUp(folder, to, AT);
    expect(path).toBe(join(to, 'copy-2026-03-02T12-00-00Z.db'));
    expect(statSync(path).size).toBe(bytes);
    await expect(backUp(folder, join(to, 'none'), AT)).rejects.toThrow('there is no folder');
    await expect(backUp(to, null, AT)).rejects.toThrow('there is no book in');
    expect(lastCopy(folder)).toBeNull();
  });
});

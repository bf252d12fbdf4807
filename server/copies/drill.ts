import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openCopy } from '../database/open-copy.ts';
import { checkBook } from '../ledger/check.ts';
import { exportWorkroom } from '../ledger/whole-workroom.ts';
import { putBack } from './put-back.ts';

/**
 * Tries whether a copy would serve: puts it back into a folder of its own with its photos, opens it as a book is opened,
 * checks all that "check" does and exports it. What failed, a sentence each; nothing where the copy is good.
 */
export function drill(copy: string, at: string): string[] {
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-drill-'));
  try {
    const { photos } = putBack(copy, folder, at);
    const opened = openCopy(folder, { clock: () => new Date(at) });
    try {
      const hash = createHash('sha256');
      for (const part of exportWorkroom(opened.book)) hash.update(part);
      return [...opened.damage, ...checkBook(opened.book).findings, ...photos];
    } finally {
      opened.close();
    }
  } catch (error) {
    return [(error as Error).message];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

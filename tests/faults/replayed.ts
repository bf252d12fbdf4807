import { closeSync, ftruncateSync, mkdirSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';

/** The calls of one thread by which it changes a folder, and what it tells. */
export const REPLAYED_CALLS =
  'openat,write,pwrite64,ftruncate,fsync,fdatasync,?rename,?renameat,?renameat2,?unlink,?unlinkat,?mkdir,?mkdirat';
/** What `strace` is to write so that each call can be done again. */
export const AS_REPLAYED = ['-xx', '-y', '-s', '10000000', '-e', `trace=${REPLAYED_CALLS}`];

const TEXT = /<((?:\\x[0-9a-f]{2})*)>|"((?:\\x[0-9a-f]{2})*)"/g;

/**
 * Does in a replica what a recorded program did to its folder, a call after the other; told after each, with the lines
 * that the program had told by then. So a replica stands as a kill at the next call would leave the folder, since what was
 * written stays with the system. Memory that is mapped, as of the index beside a write-ahead file, is left out: whoever
 * opens the book next makes it anew.
 */
export function* replay(
  log: string,
  folder: string,
  replica: string,
): Generator<{ readonly call: string; readonly told: readonly string[] }> {
  const told: string[] = [];
  /** how far a file was written that is written from its beginning on */
  const ends = new Map<string, number>();
  for (const line of log.split('\n')) {
    const found = /^(\w+)\((.*)\) += (-?\d+)/.exec(line);
    if (!found || Number(found[3]) < 0) continue;
    const [, call = '', args = ''] = found;
    const texts = [...args.matchAll(TEXT)].map(([, ofHandle, given]) => bytesOf(ofHandle ?? given ?? ''));
    if (call === 'write' && /^1</.test(args)) {
      told.push((texts[1] ?? Buffer.alloc(0)).toString().trim());
      continue;
    }
    const paths = texts.map(String).filter((path) => path === folder || path.startsWith(`${folder}/`));
    const [path, to] = paths.map((one) => join(replica, one.slice(folder.length))) as [string?, string?];
    if (path === undefined) continue;
    const number = Number(/, (\d+)$/.exec(args)?.[1]);
    if (call === 'openat') {
      if (!/O_CREAT|O_TRUNC/.test(args)) continue;
      change(path, /O_TRUNC/.test(args) ? 'w' : 'a', () => undefined);
      ends.set(path, 0);
    } else if (call === 'pwrite64') {
      change(path, 'r+', (handle) => writeWhole(handle, texts.at(-1), number));
    } else if (call === 'write') {
      const end = ends.get(path) ?? 0;
      change(path, 'r+', (handle) => writeWhole(handle, texts.at(-1), end));
      ends.set(path, end + Number(found[3]));
    } else if (call === 'ftruncate') {
      change(path, 'r+', (handle) => ftruncateSync(handle, number));
    } else if (call.startsWith('rename') && to !== undefined) {
      renameSync(path, to);
    } else if (call.startsWith('unlink')) {
      rmSync(path);
    } else if (call.startsWith('mkdir')) {
      mkdirSync(path);
    }
    yield { call, told };
  }
}

function bytesOf(escaped: string): Buffer {
  return Buffer.from(escaped.replaceAll('\\x', ''), 'hex');
}

function change(path: string, flags: 'w' | 'a' | 'r+', write: (handle: number) => void): void {
  const handle = openSync(path, flags);
  try {
    write(handle);
  } finally {
    closeSync(handle);
  }
}

function writeWhole(handle: number, bytes: Buffer | undefined, at: number): void {
  if (bytes === undefined || Number.isNaN(at)) throw new Error('a call of the recording was misread');
  writeSync(handle, bytes, 0, bytes.length, at);
}

import { basename, dirname } from 'node:path';

/** One call by which a program changed its folder, or told of what it had done. */
export type Op =
  | { readonly kind: 'write'; readonly name: string; readonly at: number; readonly bytes: Buffer }
  | { readonly kind: 'size'; readonly name: string; readonly size: number }
  | { readonly kind: 'made' | 'gone'; readonly name: string }
  /** what was written to a file is on the disk; of the folder (an empty name): which files it holds */
  | { readonly kind: 'synced'; readonly name: string }
  | { readonly kind: 'told'; readonly line: string };

const SECTOR = 512;

/**
 * Reads what `strace -xx -y` wrote of one thread: the calls that concern files in a folder, in their order. Those of a
 * file that is not named are left out.
 */
export function readRecording(log: string, folder: string, names: readonly string[]): Op[] {
  const ops: Op[] = [];
  const nameOf = (path: string) =>
    path === folder ? '' : dirname(path) === folder && names.includes(basename(path)) ? basename(path) : null;
  const text = (escaped: string) => bytesOf(escaped).toString();
  for (const line of log.split('\n')) {
    const call = /^(\w+)\((.*)\) += (-?\d+)/.exec(line);
    if (!call || Number(call[3]) < 0) continue;
    const [, what, args = ''] = call;
    const [opened = '', ...others] = [...args.matchAll(/"((?:\\x[0-9a-f]{2})*)"/g)].map(
      (found) => found[1] ?? '',
    );
    const handle = /^(\d+)<((?:\\x[0-9a-f]{2})*)>/.exec(args);
    const name = nameOf(text(handle?.[2] ?? ''));
    if (what === 'write' && handle?.[1] === '1') {
      ops.push({ kind: 'told', line: text(opened).trim() });
    } else if (what === 'pwrite64' && name) {
      const at = Number(/, \d+, (\d+)$/.exec(args)?.[1]);
      ops.push({ kind: 'write', name, at, bytes: bytesOf(opened) });
    } else if (what === 'ftruncate' && name) {
      ops.push({ kind: 'size', name, size: Number(/, (\d+)$/.exec(args)?.[1]) });
    } else if ((what === 'fsync' || what === 'fdatasync') && name !== null) {
      ops.push({ kind: 'synced', name });
    } else if (what === 'openat' && /O_CREAT/.test(args)) {
      const made = nameOf(text(opened));
      if (made) ops.push({ kind: 'made', name: made });
    } else if (what === 'unlink') {
      const gone = nameOf(text(opened));
      if (gone) ops.push({ kind: 'gone', name: gone });
    }
    if (others.length > 0 && what === 'pwrite64')
      throw new Error(`a line of the recording was misread: ${line.slice(0, 200)}`);
  }
  return ops;
}

function bytesOf(escaped: string): Buffer {
  return Buffer.from(escaped.replaceAll('\\x', ''), 'hex');
}

/**
 * A disk that promises no more than a disk must: what was written since a file was last synced may be there or not, each
 * write by itself and each sector by itself, in any order; and so may be a file that was made or removed since its
 * folder was synced.
 */
export class Disk {
  readonly #synced: Map<string, Buffer>;
  readonly #listed: Set<string>;
  #pending: Op[] = [];

  constructor(files: ReadonlyMap<string, Buffer>) {
    this.#synced = new Map(files);
    this.#listed = new Set(files.keys());
  }

  do(op: Op): void {
    if (op.kind === 'told') return;
    if (op.kind !== 'synced') {
      this.#pending.push(op);
      return;
    }
    const settles = (one: Op) =>
      op.name === '' ? one.kind === 'made' || one.kind === 'gone' : isContent(one) && one.name === op.name;
    const settled = this.#pending.filter(settles);
    for (const one of settled) {
      if (one.kind === 'made') this.#listed.add(one.name);
      else if (one.kind === 'gone') this.#listed.delete(one.name);
    }
    if (op.name !== '')
      this.#synced.set(op.name, changed(this.#synced.get(op.name), settled.filter(isContent)));
    this.#pending = this.#pending.filter((one) => !settles(one));
  }

  /** How many changes a power cut may still take. */
  get unsettled(): number {
    return this.#pending.length;
  }

  /** The files as a power cut might leave them now. */
  afterCut(chance: () => number): Map<string, Buffer> {
    const listed = new Set(this.#listed);
    const reached = new Map<string, Content[]>();
    // Some cuts take nearly all, some nearly nothing, some all from one moment on.
    const share = [0, 0.1, 0.5, 0.9, 1][Math.floor(chance() * 5)] ?? 0;
    const from = chance() < 0.5 ? Math.floor(chance() * (this.#pending.length + 1)) : this.#pending.length;
    for (const [at, op] of this.#pending.entries()) {
      if (at >= from || chance() >= share) continue;
      if (op.kind === 'made') listed.add(op.name);
      else if (op.kind === 'gone') listed.delete(op.name);
      else if (isContent(op)) reached.set(op.name, [...(reached.get(op.name) ?? []), ...torn(op, chance)]);
    }
    const file = (name: string) => changed(this.#synced.get(name), reached.get(name) ?? []);
    return new Map([...listed].map((name) => [name, file(name)]));
  }
}

type Content = Extract<Op, { kind: 'write' | 'size' }>;

function isContent(op: Op): op is Content {
  return op.kind === 'write' || op.kind === 'size';
}

function changed(before: Buffer | undefined, ops: readonly Content[]): Buffer {
  let file = before ?? Buffer.alloc(0);
  if (ops.length === 0) return file;
  let size = file.length;
  file = Buffer.concat(
    [file],
    Math.max(size, ...ops.map((op) => (op.kind === 'write' ? op.at + op.bytes.length : op.size))),
  );
  for (const op of ops) {
    if (op.kind === 'write') {
      op.bytes.copy(file, op.at);
      size = Math.max(size, op.at + op.bytes.length);
    } else {
      size = op.size;
      file.fill(0, size);
    }
  }
  return file.subarray(0, size);
}

/** One write in five reaches the disk in some of its sectors only. */
function torn(op: Content, chance: () => number): Content[] {
  if (op.kind === 'size' || chance() >= 0.2) return [op];
  const parts: Content[] = [];
  for (let at = op.at; at < op.at + op.bytes.length; ) {
    const end = Math.min(op.at + op.bytes.length, (Math.floor(at / SECTOR) + 1) * SECTOR);
    if (chance() < 0.5) parts.push({ ...op, at, bytes: op.bytes.subarray(at - op.at, end - op.at) });
    at = end;
  }
  return parts;
}

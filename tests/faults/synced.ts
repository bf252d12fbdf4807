import { basename, dirname } from 'node:path';

/** The calls that write to a file, give it a name, or have either on the disk. */
export const SYNC_CALLS =
  'openat,write,pwrite64,ftruncate,copy_file_range,sendfile,fsync,fdatasync,?rename,?renameat,?renameat2,?unlink,?unlinkat';

/** What SQLite looks after by itself, or makes anew where it is lost. */
const OF_SQLITE = /(-wal|-shm|-journal)$|^lock\.db$/;

const PATHS = /<([^<>]*)>|"([^"]*)"/g;

/**
 * What a power cut may take of what a program did to a folder, by what `strace -f -y` wrote of it: files that got a name
 * before their bytes were on the disk, names that were never synced, and files that were written and left so. A sentence
 * each.
 */
export function leftToChance(log: string, folder: string): string[] {
  const unsynced = new Set<string>();
  const names = new Map<string, string>();
  const found: string[] = [];
  for (const line of log.split('\n')) {
    const call = /^(?:\d+ +)?(\w+)\((.*)/.exec(line);
    if (!call || / = -1 /.test(line)) continue;
    const [, what = '', args = ''] = call;
    const paths = [...args.matchAll(PATHS)]
      .map(([, ofHandle, told]) => ofHandle ?? told ?? '')
      .filter((path) => path.startsWith(folder) && !OF_SQLITE.test(basename(path)));
    const [first = '', second = ''] = paths;
    if (paths.length === 0) continue;
    if (what === 'openat') {
      if (/O_CREAT|O_TRUNC/.test(args) && !/O_DIRECTORY/.test(args)) unsynced.add(paths.at(-1) ?? '');
    } else if (what.endsWith('sync')) {
      unsynced.delete(first);
      for (const [name, place] of names) if (place === first) names.delete(name);
    } else if (what.startsWith('rename')) {
      const [from, to] = paths.slice(-2) as [string, string];
      if (unsynced.delete(from)) found.push(`${basename(to)} got its name before it was on the disk`);
      unsynced.delete(to);
      names.delete(from);
      names.set(to, dirname(to));
    } else if (what.startsWith('unlink')) {
      unsynced.delete(paths.at(-1) ?? '');
      names.delete(paths.at(-1) ?? '');
    } else if (what === 'copy_file_range') {
      unsynced.add(second || first);
    } else {
      unsynced.add(first);
    }
  }
  return [
    ...found,
    ...[...names.keys()].map((name) => `the name of ${basename(name)} was never synced`),
    ...[...unsynced].map((path) => `${basename(path)} was written and never synced`),
  ];
}

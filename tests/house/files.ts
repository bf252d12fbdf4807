import { readdirSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { fileURLToPath } from 'node:url';

/** One text file of the repository; `path` is relative to its root, with forward slashes. */
export interface File {
  path: string;
  text: string;
}

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const FOLDERS = ['src', 'server', 'views', 'migrations', 'tests', 'seed-demo'];
const KINDS = ['.ts', '.eta', '.css', '.js', '.sql'];

/** Every text file that people write, of all folders. */
export function readFiles(): File[] {
  return FOLDERS.flatMap((folder) =>
    readdirSync(`${ROOT}${folder}`, { recursive: true, encoding: 'utf8' })
      .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
      .filter((path) => KINDS.some((kind) => path.endsWith(kind)))
      .map((path) => ({ path, text: readFileSync(`${ROOT}${path}`, 'utf8') })),
  ).sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** What stands at the top of the repository, dotfiles and installed packages left out. */
export function topLevel(): string[] {
  return readdirSync(ROOT)
    .filter((name) => !name.startsWith('.') && name !== 'node_modules')
    .sort();
}

const IMPORT =
  /^(?:import|export)\b[\w\s{},*$]*?\bfrom\s+['"]([^'"]+)['"]|^import\s+['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]/gm;

/** The modules that a file names in its imports, as written. */
export function importsOf(file: File): string[] {
  return [...file.text.matchAll(IMPORT)].map(([, from, bare, late]) => from ?? bare ?? late ?? '');
}

/** A relative import as a path of the repository; the name of a package as it is. */
export function resolveImport(from: string, named: string): string {
  return named.startsWith('.') ? posix.normalize(posix.join(posix.dirname(from), named)) : named;
}

/** The package that an import names, whichever part of it; undefined where a file of ours or a part of Node is named. */
export function packageOf(named: string): string | undefined {
  if (named.startsWith('.') || named.startsWith('node:')) return undefined;
  return named
    .split('/')
    .slice(0, named.startsWith('@') ? 2 : 1)
    .join('/');
}

/** Every file that can be reached by imports from `roots`, the roots included. */
export function reachable(files: readonly File[], roots: readonly string[]): Set<string> {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const seen = new Set<string>();
  const waiting = [...roots];
  for (let path = waiting.pop(); path !== undefined; path = waiting.pop()) {
    const file = byPath.get(path);
    if (!file || seen.has(path)) continue;
    seen.add(path);
    waiting.push(...importsOf(file).map((named) => resolveImport(file.path, named)));
  }
  return seen;
}

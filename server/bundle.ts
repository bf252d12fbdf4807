import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { accessSync, constants, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { SourceMap } from 'node:module';
import { fileURLToPath } from 'node:url';

const ROOT = new URL('../', import.meta.url);
/** Kept with the program, where only who may change it can write; it may be deleted at any time. */
export const CACHE = new URL('.cache/', ROOT);
export const MAIN = new URL('server/main.ts', ROOT);
/** The program and its packages in one file: a thousand small ones take twice the time to read. */
export const BUNDLE = new URL('program.js', CACHE);
export const BUNDLE_MAP = new URL('program.js.map', CACHE);
/** What the bundle was made of. */
export const BUNDLE_KEY = new URL('program.key', CACHE);

const SOURCES = ['server', 'src', 'seed-demo'];
/** npm writes it whenever it changes a package. */
const PACKAGES = 'node_modules/.package-lock.json';

/**
 * The address of a bundle of the sources as they are, made first where there is none; null where none can be kept or
 * made, and the sources themselves are to be run.
 */
export function bundled(): string | null {
  if (keyOfBundle() !== keyOfSources() && !(canKeep() && makeBundle())) return null;
  tellPlacesInSources(keyOfBundle());
  return BUNDLE.href;
}

/** Changes with every change of a source or package, and where the program is moved: the bundle names its folder. */
export function keyOfSources(): string {
  const hash = createHash('sha256').update(ROOT.href);
  const sources = SOURCES.flatMap((folder) =>
    readdirSync(new URL(folder, ROOT), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => `${folder}/${name}`),
  ).sort();
  for (const path of [...sources, PACKAGES]) {
    const stat = statSync(fileURLToPath(ROOT) + path, { throwIfNoEntry: false });
    // Sizes and times: where the disk has just woken, reading them all is what the bundle saves. `ctime` cannot be set back.
    hash.update(`\n${path} ${stat?.size} ${stat?.mtimeMs} ${stat?.ctimeMs}`);
  }
  return hash.digest('hex');
}

function keyOfBundle(): string | null {
  try {
    return readFileSync(BUNDLE_KEY, 'utf8');
  } catch {
    return null;
  }
}

function canKeep(): boolean {
  try {
    mkdirSync(CACHE, { recursive: true });
    accessSync(CACHE, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

/** In a process of its own, whose memory goes with it. */
function makeBundle(): boolean {
  const script = fileURLToPath(new URL('make-bundle.ts', import.meta.url));
  const made = spawnSync(process.execPath, [script], { encoding: 'utf8', windowsHide: true });
  if (made.status === 0) return true;
  const why = /^\w*Error.*$/m.exec(made.stderr)?.[0] ?? made.stderr.trim();
  process.stderr.write(`clothroom: the program could not be put into one file and starts slower: ${why}\n`);
  return false;
}

/** Stack traces name files and lines of the sources. The map is read only where a trace is. */
function tellPlacesInSources(key: string | null): void {
  Error.prepareStackTrace = (error, frames) => {
    // Another bundle may have taken the place of the one that runs.
    const map = keyOfBundle() === key ? new SourceMap(JSON.parse(readFileSync(BUNDLE_MAP, 'utf8'))) : null;
    const told = frames.map((frame) =>
      String(frame).replace(/(file:\S+):(\d+):(\d+)/, (here, file, line, column) => {
        const from = file === BUNDLE.href && map?.findOrigin(Number(line), Number(column));
        return from && 'fileName' in from
          ? `${new URL(from.fileName, BUNDLE)}:${from.lineNumber}:${from.columnNumber}`
          : here;
      }),
    );
    return [Error.prototype.toString.call(error), ...told].join('\n    at ');
  };
}

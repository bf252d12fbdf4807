import { type File, importsOf, resolveImport } from './files.ts';

/** A rule says what is wrong with a file, a sentence each; nothing when all is well. */
export type Rule = (file: File) => string[];

// A guide rather than a limit: files have about 100 lines, and a longer one says why at its top.
const MOST_LINES = 400;
const WHY_LONG = /^\/\/ Long because \S+ \S+ \S+/m;
const PURE_PACKAGES = ['zod', 'culori/require'];
// Server modules that belong to no room; everything on the server may use them.
const COMMON = /^server\/(refusal|process)\.ts$/;
const WIRING = /^server\/(app|bundle|make-bundle|main|command-line|stopping)\.ts$|^server\/start\.js$/;

/** The rooms of the server in the order in which they stand on each other: a room imports those before it only. */
export const ROOM_ORDER = [
  'database',
  'kit',
  'ledger',
  'let-in',
  'web',
  'copies',
  'setup',
  'shelf',
  'garments',
  'labels',
  'network',
  'supplies',
  'lists',
  'orders',
  'dye-bench',
  'cut-plans',
  'short',
  'take',
  'buying',
  'cutting-table',
  'unsent',
  'pulse',
  'cost',
  'by-when',
  'today',
  'garment-book',
  'help',
  'sampler',
];

export const sizeRule: Rule = ({ path, text }) => {
  const lines = text.split('\n').length - 1;
  return lines > MOST_LINES && !WHY_LONG.test(text)
    ? [`${path} has ${lines} lines, more than ${MOST_LINES}`]
    : [];
};

export const importRule: Rule = (file) =>
  importsOf(file)
    .map((named) => resolveImport(file.path, named))
    .filter((target) => !mayImport(file.path, target))
    .map((target) => `${file.path} imports ${target}`);

function mayImport(path: string, target: string): boolean {
  if (path.startsWith('src/')) return target.startsWith('src/') || PURE_PACKAGES.includes(target);
  if (path.startsWith('tests/')) return true;
  if (path.startsWith('views/') || path.startsWith('migrations/')) return false;
  if (path.startsWith('seed-demo/')) return /^(src|server|seed-demo)\//.test(target) && !WIRING.test(target);
  if (!/^(src|server|seed-demo|tests|views|migrations)\//.test(target)) return true;
  if (WIRING.test(path))
    return target.startsWith('server/') || (path === 'server/main.ts' && target.startsWith('seed-demo/'));
  if (target.startsWith('src/') || COMMON.test(target)) return true;
  return target.startsWith('server/') && !WIRING.test(target) && roomMayImport(roomOf(path), target);
}

// A room takes from those that it stands on what reads and writes, never what answers.
function roomMayImport(room: string, target: string): boolean {
  const other = roomOf(target);
  if (room === other) return true;
  if (!ROOM_ORDER.includes(room) || !ROOM_ORDER.includes(other)) return false;
  return ROOM_ORDER.indexOf(other) < ROOM_ORDER.indexOf(room) && !/(^|[/-])routes\.ts$/.test(target);
}

function roomOf(path: string): string {
  return /^server\/([a-z-]+)\//.exec(path)?.[1] ?? '';
}

/** A file says what it holds; what it is of, its folder has said. */
export const nameRule: Rule = ({ path }) => {
  const [, folder = '', name = ''] = /^(?:src|server)\/(?:.*\/)?([^/]+)\/([^/]+)\.ts$/.exec(path) ?? [];
  const isRepeated = name !== '' && (name === folder || `${name}s` === folder || name === `${folder}s`);
  return isRepeated ? [`${path} only repeats the name of its folder`] : [];
};

/** Who asks is looked up by what answers for all rooms. */
export const answeringRule: Rule = ({ path, text }) =>
  path.startsWith('server/') && !path.startsWith('server/web/') && /\b(whoAsks|handlePost)\(/.test(text)
    ? [`${path} answers by itself and not through answering()`]
    : [];

/** Files that reach themselves by their imports, a circle each. */
export function circlesIn(files: readonly File[]): string[][] {
  const imports = new Map(
    files.map((file) => [file.path, importsOf(file).map((named) => resolveImport(file.path, named))]),
  );
  const circles: string[][] = [];
  const state = new Map<string, 'open' | 'done'>();
  const trail: string[] = [];
  const visit = (path: string) => {
    state.set(path, 'open');
    trail.push(path);
    for (const next of imports.get(path) ?? []) {
      if (state.get(next) === 'open') circles.push(trail.slice(trail.indexOf(next)));
      else if (imports.has(next) && !state.has(next)) visit(next);
    }
    trail.pop();
    state.set(path, 'done');
  };
  for (const path of imports.keys()) if (!state.has(path)) visit(path);
  return circles;
}

export const impurityRule: Rule = ({ path, text }) => {
  if (!/^(src|server|seed-demo)\//.test(path) || path === 'server/main.ts') return [];
  const words = ['Date.now(', 'new Date()', 'Math.random(', 'process.env', 'process.argv', 'process.exit('];
  return words
    .filter((word) => text.includes(word))
    .map((word) => `${path} has ${word}: it comes in as an argument`);
};

export const exemptionRule: Rule = ({ path, text }) => {
  const findings: string[] = [];
  for (const [line] of text.matchAll(/[b]iome-ignore.*/g)) {
    if (!/^[b]iome-ignore\S* [\w/]+: \S+ \S+/.test(line))
      findings.push(`${path} exempts itself without a reason: ${line}`);
  }
  if (/@ts-(ignore|nocheck|expect-error)/.test(text)) findings.push(`${path} silences the type checker`);
  return findings;
};

export const leftoverRule: Rule = ({ path, text }) => {
  const found = [
    ...text.matchAll(/\b([T]ODO|[F]IXME|[X]XX)\b|\b(?:it|test|describe)\.(?:only|skip|todo|fails)\b\(/g),
  ];
  return found.map(([word]) => `${path} has left ${word} behind`);
};

/** The runner would set it for the first file of a worker that imports the helper, and for no other. */
export const hookRule: Rule = ({ path, text }) =>
  /^tests\/.*(?<!\.test)\.ts$/.test(path) &&
  path !== 'tests/each-file.ts' &&
  /^(before|after)(Each|All)\(/m.test(text)
    ? [`${path} sets a hook as it is imported: see tests/after-each.ts`]
    : [];

export const sqlRule: Rule = ({ path, text }) =>
  /^(server|seed-demo)\//.test(path) && /\bsql\.(raw|lit)\(/.test(text)
    ? [`${path} puts text into SQL unbound`]
    : [];

export const templateRule: Rule = ({ path, text }) => {
  if (!path.endsWith('.eta')) return [];
  const code = text.replace(/\/\*[\s\S]*?\*\//g, '');
  const markup = code.replace(/<%[\s\S]*?%>/g, '');
  const checks: [RegExp, string, string][] = [
    [/<%[-_]?\s*~(?!\s*(?:include\(|block\(|it\.body\b))/, code, 'prints unescaped'],
    [/=\s*<%[-_]?\s*[=~]/, code, 'has an attribute without quotes'],
    [/\binclude\(\s*['"`](?!\/)/, code, 'includes by a path that does not begin with /'],
    [/<%[-_]?\s*[([`]/, code, 'begins a tag with a bracket, which the line before would take for its own'],
    [/<style\b|\sstyle\s*=/i, markup, 'has inline style'],
    [/<script\b(?![^>]*\ssrc=)/i, markup, 'has an inline script'],
    [/\son[a-z]+\s*=|hx-on|javascript:/i, markup, 'has an inline handler'],
    [/hx-[a-z:]+\s*=\s*(["'])js:|hx-trigger\s*=\s*(["'])[^"']*\[/i, markup, 'needs eval'],
    [/(?:src|href|action)\s*=\s*["']?(?:https?:)?\/\//i, markup, 'leads off the machine'],
  ];
  return checks.filter(([wrong, where]) => wrong.test(where)).map(([, , what]) => `${path} ${what}`);
};

// What a form changes, it changes once. These change nothing that the book tells of: who works here is kept on the
// device, a device is let in by a code that works once, a delivery is only looked over before it is put on the shelf, and
// a quick plan saves nothing.
const KEYLESS = [
  'action="/setup/working-as"',
  'action="/who"',
  'action="/who/keeper"',
  'action="/who/done"',
  'action="/join"',
  'action="/shelf/receive"',
  'action="/cutting-table/quick"',
];

export const requestKeyRule: Rule = ({ path, text }) => {
  if (!path.endsWith('.eta')) return [];
  const forms = [...text.matchAll(/<form\b[\s\S]*?<\/form>/gi)].map(([form]) => form);
  return forms
    .filter((form) => /\smethod="post"/i.test(form) && !KEYLESS.some((action) => form.includes(action)))
    .filter(
      (form) => !/include\('\/partials\/(bench-)?key'/.test(form) && !form.includes('name="request_key"'),
    )
    .map((form) => `${path} has a form without a request key: ${form.slice(0, 80)}`);
};

export const scriptRule: Rule = ({ path, text }) => {
  if (!path.startsWith('views/') || !path.endsWith('.js')) return [];
  const words = ['eval(', 'new Function', 'innerHTML', 'outerHTML =', 'document.write', 'insertAdjacentHTML'];
  return words.filter((word) => text.includes(word)).map((word) => `${path} has ${word}`);
};

/** The classes that a template names in full; parts that it puts together are left out. */
export function classesOf({ text }: File): string[] {
  const fixed = text.replace(/<%[\s\S]*?%>/g, ' ');
  const names = [...fixed.matchAll(/\sclass="([^"]*)"/g)].flatMap(([, list]) => (list ?? '').split(/\s+/));
  return names.filter((name) => name !== '' && !name.endsWith('-'));
}

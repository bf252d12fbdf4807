import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type File, readFiles } from './files.ts';

// Checks every template against the type of its data: each becomes a function of `it`, which the compiler reads.
// What a template takes stands in its first comment, behind "Data:":
//   Data: PiecePageData of server/shelf/piece/page.ts.        a page: its data, and the shell
//   Data: piecePage of server/shelf/piece/page.ts.            the same, by the function that shapes it
//   Data: { chart: StripChart of server/garments/drawing/strip-chart.ts; name: string }    a part: what it is handed
// A template that says nothing takes the shell only.

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const SHELL = `import('${ROOT}server/web/shell-data.ts').Shell`;

/** One template, as code or as text between code. */
export type Part = { kind: 'text' | 'code' | 'print'; text: string };

/** Takes a template apart as the engine does: strings and comments may hold the closing sign. */
export function partsOf(template: string): Part[] {
  const parts: Part[] = [];
  let at = 0;
  for (;;) {
    const open = template.indexOf('<%', at);
    if (open < 0) return [...parts, { kind: 'text', text: template.slice(at) }];
    parts.push({ kind: 'text', text: template.slice(at, open) });
    const head = /^<%[-_]?\s*([=~]?)/.exec(template.slice(open)) as RegExpExecArray;
    const from = open + head[0].length;
    const end = codeEnd(template, from, '%>');
    if (end < 0) throw new Error('a tag is not closed');
    const lead = head[0].replace(/[^\n]/g, '');
    const code = lead + template.slice(from, end).replace(/[-_]$/, '');
    parts.push({ kind: head[1] === '' ? 'code' : 'print', text: code });
    at = end + 2;
  }
}

/** Where `sign` stands first outside strings and comments, or -1. */
function codeEnd(text: string, from: number, sign: string): number {
  for (let at = from; at < text.length; at++) {
    if (text.startsWith(sign, at)) return at;
    const quote = text[at] as string;
    if (text.startsWith('/*', at)) at = text.indexOf('*/', at) + 1;
    else if (`'"\``.includes(quote)) at = stringEnd(text, at);
    if (at < from) return -1;
  }
  return -1;
}

function stringEnd(text: string, from: number): number {
  for (let at = from + 1; at < text.length; at++) {
    if (text[at] === '\\') at++;
    else if (text[at] === text[from]) return at;
    else if (text[from] === '`' && text.startsWith('${', at)) at = closing(text, at + 1);
  }
  return text.length;
}

/** Where the bracket at `from` is closed. */
function closing(text: string, from: number): number {
  let depth = 0;
  for (let at = from; at < text.length; at++) {
    const letter = text[at] as string;
    if (text.startsWith('/*', at)) at = text.indexOf('*/', at) + 1;
    else if (`'"\``.includes(letter)) at = stringEnd(text, at);
    else if ('([{'.includes(letter)) depth++;
    else if (')]}'.includes(letter) && --depth === 0) return at;
  }
  return text.length;
}

/** What a template says that it takes, as a type. */
export function dataOf(template: string): string {
  const said = /\bData:\s*/.exec(template);
  if (!said) return `{ shell: ${SHELL} }`;
  const rest = template.slice(said.index + said[0].length);
  if (rest.startsWith('{')) {
    return rest
      .slice(0, closing(rest, 0) + 1)
      .replace(/(\w+)\s+of\s+(server\/[\w./-]+?\.ts)/g, (_, name, path) => typeIn(name, path));
  }
  const page = /^(\w+)\s+of\s+(server\/[\w./-]+?\.ts)/.exec(rest);
  if (!page)
    throw new Error(`"Data:" is followed by neither a type of a file nor { … }: ${rest.slice(0, 60)}`);
  return `${typeIn(page[1] ?? '', page[2] ?? '')} & { shell: ${SHELL} }`;
}

function typeIn(name: string, path: string): string {
  const module = `import('${ROOT}${path}')`;
  return /^[a-z]/.test(name) ? `Awaited<ReturnType<typeof ${module}.${name}>>['data']` : `${module}.${name}`;
}

// The words that every template is handed.
const WORDS = ['countOf', 'wordFor']
  .map((name) => `${name}: typeof import('${ROOT}server/kit/words.ts').${name}`)
  .join(', ');

/** A template as a module; each line stands where it stands in the template. */
export function moduleOf(view: string, template: string): string {
  const body = partsOf(template)
    .map(({ kind, text }) => {
      if (kind === 'text') return text === '' ? '' : `;${text.replace(/[^\n]/g, '')}`;
      const code = withIncludes(withoutComments(text));
      if (kind === 'print') return `;print(${code});`;
      // The engine puts each piece of code on a line of its own, and so ends a call that stands there.
      return code.trimEnd().endsWith(')') ? `${code};` : code;
    })
    .join('');
  return `export function view(it: import('./views.ts').Views['/${view}'], include: import('./views.ts').Include, print: (shown: string | number) => void, ${WORDS}) {${body}\n}\n`;
}

/** Code with its comments left out, line for line: they tell of includes too. */
function withoutComments(code: string): string {
  let made = '';
  for (let at = 0; at < code.length; at++) {
    if (code.startsWith('/*', at)) {
      const end = code.indexOf('*/', at) + 2;
      made += code.slice(at, end).replace(/[^\n]/g, '');
      at = end - 1;
    } else if (`'"\``.includes(code[at] as string)) {
      const end = stringEnd(code, at);
      made += code.slice(at, end + 1);
      at = end;
    } else made += code[at];
  }
  return made;
}

/** An included part sees what its caller sees, and what it is handed. */
function withIncludes(code: string): string {
  let made = '';
  let at = 0;
  for (const call of code.matchAll(/\binclude\(/g)) {
    if (call.index < at) continue;
    const open = call.index + call[0].length - 1;
    const end = closing(code, open);
    const comma = codeEnd(code.slice(0, end), open + 1, ',');
    const name = code.slice(open + 1, comma < 0 ? end : comma);
    const given = comma < 0 ? '{}' : code.slice(comma + 1, end);
    const fields = /^\s*\{/.test(given)
      ? given.slice(given.indexOf('{') + 1, given.lastIndexOf('}'))
      : `...(${given})`;
    made += `${code.slice(at, open + 1)}${name}, { ...it, ${withIncludes(fields)} })`;
    at = end + 1;
  }
  return made + code.slice(at);
}

/**
 * What the compiler finds in templates, a line each, by template and line.
 * @param folder where their modules are written; a later call there reads anew only what has changed
 */
export function findingsIn(views: readonly File[], folder: string): string[] {
  const made = new Map<string, string>();
  const types: string[] = [];
  for (const { path, text } of views) {
    const view = path.slice('views/'.length, -'.eta'.length);
    const up = '../'.repeat(view.split('/').length - 1) || './';
    made.set(
      `${view}.eta.ts`,
      moduleOf(view, text).replaceAll("import('./views.ts')", `import('${up}views.ts')`),
    );
    types.push(`  '/${view}': ${dataOf(text)};`);
  }
  const include = 'export type Include = <V extends keyof Views>(view: V, data: Views[V]) => string;';
  made.set('views.ts', `export interface Views {\n${types.join('\n')}\n}\n${include}\n`);
  made.set('package.json', '{ "type": "module" }');
  made.set('tsconfig.json', JSON.stringify(CONFIG));
  lay(made, folder);
  return compile(folder);
}

/** Makes a folder hold these files, and no module of a template that is gone. */
function lay(files: ReadonlyMap<string, string>, folder: string): void {
  mkdirSync(folder, { recursive: true });
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }))
    if (name.endsWith('.eta.ts') && !files.has(name.replaceAll('\\', '/'))) rmSync(join(folder, name));
  for (const [name, text] of files) {
    const file = join(folder, name);
    if (existsSync(file) && readFileSync(file, 'utf8') === text) continue;
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
}

const CONFIG = {
  extends: `${ROOT}tsconfig.json`,
  compilerOptions: {
    // A template has no types of its own, looks up rows it has just counted, and may leave an option blank.
    noImplicitAny: false,
    noUncheckedIndexedAccess: false,
    exactOptionalPropertyTypes: false,
    noUnusedLocals: false,
    noUnusedParameters: false,
    typeRoots: [`${ROOT}node_modules/@types`],
    incremental: true,
    tsBuildInfoFile: './read.tsbuildinfo',
  },
  include: ['./**/*.ts'],
};

function compile(folder: string): string[] {
  const tsc = `${ROOT}node_modules/typescript/bin/tsc`;
  // Several checkers each work out the types that they share.
  const asked = [tsc, '--noEmit', '--checkers', '1', '-p', folder];
  const { stdout, stderr, status } = spawnSync(process.execPath, asked, { cwd: folder, encoding: 'utf8' });
  if (status === null || stderr !== '') throw new Error(`the compiler did not run: ${stderr}`);
  // The sources that templates name are held to stricter rules by the check of the sources.
  return stdout
    .split(/^(?=\S)/m)
    .filter((finding) => finding !== '' && !/^\.\.\/\S+\.ts\(/.test(finding))
    .map((finding) => finding.trimEnd().replace(/^(\S+?\.eta)\.ts\(/, 'views/$1('));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const views = readFiles().filter(({ path }) => path.endsWith('.eta'));
  const findings = findingsIn(views, `${ROOT}.types/views`);
  process.exitCode = findings.length === 0 ? 0 : 1;
  process.stdout.write(
    `${[...findings, `${views.length} templates read, ${findings.length} findings`].join('\n')}\n`,
  );
}

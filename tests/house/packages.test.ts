import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type File, importsOf, packageOf, reachable, readFiles } from './files.ts';

const files = readFiles();
const listed = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  dependencies: Record<string, string>;
  devDependencies: Record<string, string>;
};

/** The packages that files of the program name, those that run in a process of their own among them. */
function packagesOf(all: readonly File[]): string[] {
  const ours = all.filter(({ path }) => /^(server|src|seed-demo)\//.test(path));
  return [...new Set(ours.flatMap(importsOf).flatMap((named) => packageOf(named) ?? []))].sort();
}

describe('a package that the program imports', () => {
  it('is among its dependencies, so that it runs where the packages for tests are absent', () => {
    const imported = packagesOf(files);
    expect(imported).toEqual(expect.arrayContaining(['better-sqlite3', 'fastify', 'highs', 'zod']));
    expect(imported.filter((name) => !(name in listed.dependencies))).toEqual([]);
    expect(Object.keys(listed.devDependencies).filter((name) => name in listed.dependencies)).toEqual([]);
  });

  it('is found, whether a part of it is named or it has a scope', () => {
    const named = [
      "import { z } from 'zod/v4';",
      "await import('@fastify/cookie');",
      "import fs from 'node:fs';",
    ];
    expect(packagesOf([{ path: 'server/a.ts', text: named.join('\n') }])).toEqual(['@fastify/cookie', 'zod']);
  });

  it('is the only kind to be listed: what is for tests is listed with the tests', () => {
    const program = files.filter(({ path }) => path.startsWith('server/') || path.startsWith('src/'));
    // A style or script that is sent as it is is named by its path, not imported.
    const isNamed = (name: string) => program.some(({ text }) => new RegExp(`['"\`]${name}['"/]`).test(text));
    expect(Object.keys(listed.dependencies).filter((name) => !isNamed(name))).toEqual([]);
  });
});

describe('a start', () => {
  it('of a workroom of one’s own reads nothing of the invented one, which only "demo" waits for', () => {
    const late = /await import\('\.\.\/seed-demo\/seed\.ts'\)/;
    const main = files.find(({ path }) => path === 'server/main.ts');
    expect(main?.text).toMatch(late);
    const without = files.map((each) =>
      each === main ? { ...each, text: each.text.replace(late, '') } : each,
    );
    const read = [...reachable(without, ['server/main.ts'])];
    expect(read.length).toBeGreaterThanOrEqual(300);
    expect(read.filter((path) => path.startsWith('seed-demo/'))).toEqual([]);
  });
});

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { dataOf, findingsIn, moduleOf, partsOf } from './view-types.ts';

describe('partsOf', () => {
  it('tells text, code and what is printed, and is not ended by a sign inside a string or a comment', () => {
    expect(partsOf("a<% const b = '%>'; /* it's %> */ %>c<%= b %>")).toEqual([
      { kind: 'text', text: 'a' },
      { kind: 'code', text: "const b = '%>'; /* it's %> */ " },
      { kind: 'text', text: 'c' },
      { kind: 'print', text: ' b ' },
      { kind: 'text', text: '' },
    ]);
  });
});

describe('dataOf', () => {
  it('reads what a page and what a part says that it takes', () => {
    expect(dataOf('<% /* A piece. Data: PieceData of server/shelf/x.ts. */ %>')).toMatch(
      /^import\('.*\/server\/shelf\/x\.ts'\)\.PieceData & \{ shell: /,
    );
    expect(dataOf('<% /* Data: piecePage of server/shelf/x.ts. */ %>')).toMatch(
      /^Awaited<ReturnType<typeof import\('.*'\)\.piecePage>>\['data'\] & /,
    );
    expect(dataOf('<% /* Data: { rows: readonly Row of server/a.ts[]; name: string } */ %>')).toMatch(
      /^\{ rows: readonly import\('.*server\/a\.ts'\)\.Row\[\]; name: string \}$/,
    );
  });

  it('takes nothing but a type of a file, or a list of names', () => {
    expect(() => dataOf('<% /* Data: rows, name. */ %>')).toThrow(/neither/);
  });
});

describe('moduleOf', () => {
  it('keeps each line where it stands, and hands an included part what its caller sees', () => {
    const made = moduleOf('a/b', "<% const n = 1; %>\n<%~ include('/a/c', { n }) %>\n<%= n %>");
    expect(made.split('\n').slice(1)).toEqual([
      ";print( include('/a/c', { ...it,  n  }) );;",
      ';print( n );',
      '}',
      '',
    ]);
  });
});

describe('findingsIn', () => {
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-views-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const linesOf = (findings: readonly string[]) => findings.map((finding) => finding.split(':')[0]);

  it('finds a misspelt field, a missing one, and one that may be null, at its line', () => {
    const part = { path: 'views/part.eta', text: '<% /* Data: { key: string } */ %>\n<%= it.key %>' };
    const text = "<p>\n<%= it.shell.titel %>\n<%~ include('/part', { keys: '' }) %>\n<%= it.shell.who %>";
    const expected = [
      expect.stringMatching(/^views\/page\.eta\(2,/),
      expect.stringMatching(/^views\/page\.eta\(3,/),
      expect.stringMatching(/^views\/page\.eta\(4,/),
    ];
    expect(linesOf(findingsIn([part, { path: 'views/page.eta', text }], folder))).toEqual(expected);
    // Read again from what the first reading left: nothing is forgotten, what is mended or gone is not told.
    expect(linesOf(findingsIn([part, { path: 'views/page.eta', text }], folder))).toEqual(expected);
    const mended = text.replace('titel', 'title');
    expect(linesOf(findingsIn([part, { path: 'views/page.eta', text: mended }], folder))).toEqual(
      expected.slice(1),
    );
    expect(findingsIn([part], folder)).toEqual([]);
  });
});

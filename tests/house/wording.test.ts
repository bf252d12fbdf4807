import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { errorRule, messagesOf } from './errors.ts';
import { type File, readFiles } from './files.ts';
import { isReadByPeople, NOT_SAID, readByPeople, wordingRule } from './wording.ts';

const readme = (): File => ({
  path: 'README.md',
  text: readFileSync(new URL('../../README.md', import.meta.url), 'utf8'),
});
const files = [...readFiles(), readme()];
const file = (path: string, text: string): File => ({ path, text });

describe('what people read', () => {
  it('is found in the program, its templates, its scripts and the README', () => {
    const read = files.filter(({ path }) => isReadByPeople(path));
    expect(read.length).toBeGreaterThan(1000);
    expect(read.flatMap(readByPeople).length).toBeGreaterThan(20_000);
    expect(read.some(({ path }) => path === 'README.md')).toBe(true);
  });

  it('is the text and the strings, not comments and names', () => {
    expect(readByPeople(file('src/a.ts', "// 'no'\nconst strokes = 'yes'; /* `no` */"))).toEqual(["'yes'"]);
    const template = '<%\n/* Data: no */\nconst a = "one";\n%><p>two <%= strokes + `three` %></p>';
    expect(
      readByPeople(file('views/a.eta', template))
        .map((said) => said.trim())
        .filter((said) => said !== ''),
    ).toEqual(['<p>two', '</p>', '"one"', '`three`']);
  });

  it('is said as the trade says it', () => {
    expect(files.flatMap(wordingRule)).toEqual([]);
  });

  it.each([
    "'By the hand rule 0 strips are short.'",
    "'Nothing is written here: write a number'",
    "'Keep the rest: 2 m'",
    "'takes dye otherwise than cotton'",
    "'Surplus and pleats'",
    "'to be dyed over'",
  ])('and would be told where it is not: %s', (said) => {
    expect(wordingRule(file('server/a.ts', `const said = ${said};`))).toHaveLength(1);
  });

  it('is asked for no word twice', () => {
    const told = NOT_SAID.map(([said]) => said.source);
    expect(new Set(told).size).toBe(told.length);
  });
});

describe('what is wrong with a field', () => {
  it('is said with what can be done about it', () => {
    expect(files.flatMap(messagesOf).length).toBeGreaterThan(300);
    expect(files.flatMap(errorRule)).toEqual([]);
  });

  it.each([
    "throw invalid('length', 'The length is too small.');",
    'return { ok: false, reason: `This cloth does not exist.` };',
    "return refuse('No sheet has such a size.');",
    "problems.push({ field, message: 'B1 is 3 m long.' });",
  ])('and would be told where it is not: %s', (code) => {
    expect(errorRule(file('server/a.ts', code))).toHaveLength(1);
  });

  it.each([
    "throw invalid('length', 'The length is too small: enter more than 0.');",
    `return { ok: false, reason: ${'`$'}{text}: ${'$'}{reading.reason}${'`'} };`,
    "throw conflict('B1 is cut by now.');",
  ])('and is not looked for elsewhere: %s', (code) => {
    expect(errorRule(file('server/a.ts', code))).toEqual([]);
  });
});

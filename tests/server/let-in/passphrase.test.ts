import { dictionary } from '@zxcvbn-ts/language-common';
import { describe, expect, it } from 'vitest';
import { drawPassphrase, judgePassphrase } from '../../../server/let-in/passphrase.ts';
import { drawPin } from '../../../server/let-in/secrets.ts';
import { mintCode, readCode } from '../../../server/let-in/tokens.ts';

describe('a passphrase', () => {
  it('has 15 letters at least and may have 64 and more, of any kind', async () => {
    expect(await judgePassphrase('velvet canal o', [])).toBe(
      'Passphrase: use at least 15 characters, such as four words; this has 14.',
    );
    expect(await judgePassphrase('velvet canal on', [])).toBe('');
    expect(await judgePassphrase('ünder dem Eiland ☂ ruhen', [])).toBe('');
    expect(await judgePassphrase('velvet canal onion '.repeat(4).trim(), [])).toBe('');
    expect(await judgePassphrase('x7 '.repeat(70), [])).toMatch(/at most 200/);
  });

  // OWASP ASVS 5.0.0, 6.2.4: at least the 3,000 commonest that the rules let through. Few have 15 letters, so that they
  // are made of the commonest as people make them: twice, with the year, with a row of keys.
  it('is none of the commonest made long enough', async () => {
    const common = (dictionary['passwords-common'] as unknown as readonly string[]).slice(0, 3000);
    expect(common.length).toBe(3000);
    const long = common.map((word) => word.repeat(Math.ceil(15 / word.length)));
    const passed: string[] = [];
    for (const word of long.filter((_, at) => at % 10 === 0))
      if ((await judgePassphrase(word, [])) === '') passed.push(word);
    expect(passed).toEqual([]);
    for (const word of ['123456789012345', 'qwertyuiopasdfghjkl', 'aaaaaaaaaaaaaaaa', 'abcdefghijklmnopqrst'])
      expect([word, await judgePassphrase(word, [])]).toEqual([
        word,
        expect.stringMatching(/too soon, because/),
      ]);
  });

  it('is not the workroom’s or one’s own name over again', async () => {
    expect(await judgePassphrase('Harbour Parade Harbour Parade', ['Harbour Parade'])).toMatch(/too soon/);
  });

  it('is offered as four words that it takes itself', async () => {
    const drawn = new Set(await Promise.all(Array.from({ length: 5 }, drawPassphrase)));
    expect(drawn.size).toBe(5);
    for (const words of drawn) expect([words, words.split(' ').length]).toEqual([words, 4]);
    const [first = ''] = drawn;
    if (first.length >= 15) expect(await judgePassphrase(first, [])).toBe('');
  });
});

describe('a PIN', () => {
  it('has five digits, and is no run and no digit over and over', () => {
    const draws = [11_111, 12_345, 98_765, 0, 7];
    expect(drawPin(() => draws.shift() ?? 0)).toBe('00007');
  });
});

describe('a code', () => {
  it('is read however it was typed', () => {
    const code = mintCode();
    expect(code).toMatch(/^([0-9A-HJKMNP-TV-Z]{4}-){6}[0-9A-HJKMNP-TV-Z]{2}$/);
    const plain = code.replaceAll('-', '');
    expect(readCode(` ${plain.toLowerCase()} `)).toBe(plain);
    expect(readCode(plain.replaceAll('0', 'o').replaceAll('1', 'l'))).toBe(plain);
    expect(readCode(plain.slice(1))).toBeNull();
  });
});

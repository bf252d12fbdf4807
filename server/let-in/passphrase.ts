import { randomInt } from 'node:crypto';

/** NIST SP 800-63B-4, 3.1.1.2: at least 15 where it is the only factor; at least 64 must be allowed. */
export const PASSPHRASE_LETTERS = { least: 15, most: 200 } as const;
/** What a guesser who knows the common ones, their repeats and runs must try, as a power of ten. */
const LEAST_GUESSES_LOG10 = 10;
const OFFERED_WORDS = 4;

const WHY: Readonly<Record<string, string>> = {
  simpleRepeat: 'it is one letter over and over',
  extendedRepeat: 'it is one piece over and over',
  sequences: 'it is a run of letters or digits',
  straightRow: 'it is a row of keys',
  keyPattern: 'it is a pattern of keys',
  topTen: 'it is among the commonest',
  topHundred: 'it is among the commonest',
  common: 'it is common',
  similarToCommon: 'it is like a common one',
};

/**
 * Why a passphrase is refused, in a sentence; '' where it is good. There are no rules of letters and digits.
 * @param own names that whoever knows the workroom would try first
 */
export async function judgePassphrase(passphrase: string, own: readonly string[]): Promise<string> {
  const letters = [...passphrase.normalize('NFKC')].length;
  const { least, most } = PASSPHRASE_LETTERS;
  if (letters < least)
    return `Passphrase: use at least ${least} characters, such as four words; this has ${letters}.`;
  if (letters > most) return `Passphrase: at most ${most} characters.`;
  judge ??= makeJudge();
  const { guessesLog10, feedback } = (await judge).check(passphrase, [...own, 'clothroom', 'workroom']);
  if (guessesLog10 >= LEAST_GUESSES_LOG10) return '';
  const why = WHY[feedback.warning ?? ''] ?? 'it is made of what is tried first';
  return `Passphrase: this one is guessed too soon, because ${why}. Take another.`;
}

/** Four words drawn from 7,776: 51 bits. */
export async function drawPassphrase(): Promise<string> {
  const { dictionary } = await import('@zxcvbn-ts/language-common');
  const words = dictionary['diceware-common'];
  return Array.from({ length: OFFERED_WORDS }, () => words[randomInt(words.length)]).join(' ');
}

/** Knows half a megabyte of common passwords: made for whoever sets a passphrase only, and kept. */
let judge: ReturnType<typeof makeJudge> | undefined;

async function makeJudge() {
  const [{ ZxcvbnFactory }, { adjacencyGraphs, dictionary }] = await Promise.all([
    import('@zxcvbn-ts/core'),
    import('@zxcvbn-ts/language-common'),
  ]);
  return new ZxcvbnFactory({ dictionary, graphs: adjacencyGraphs });
}

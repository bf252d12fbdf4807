interface Word {
  readonly text: string;
  readonly at: number;
  readonly depth: number;
}

export interface Term {
  readonly start: number;
  readonly end: number;
  /** what is dropped */
  readonly term: string;
  /** the words before the condition that it is dropped from */
  readonly before: string;
}

/** Words that a condition ends at. */
const BOUNDARY = /^(WHEN|THEN|ELSE|END|BEGIN|FROM|WHERE|ON|JOIN|GROUP|ORDER|LIMIT|UNION|SELECT)$/;

/** Every operand of AND and OR in a piece of SQL, with the operator that goes when it is dropped. */
export function termsOf(sql: string): Term[] {
  const words = wordsOf(sql);
  return words.flatMap((word, index) => {
    if (!isOperator(words, index)) return [];
    const right = endOfTerm(words, index) ?? sql.length;
    const left = startOfTerm(words, index);
    const dropsRight = term(sql, word.at, right, words, index);
    if (isOperator(words, left.index)) return [dropsRight];
    return [term(sql, left.at, word.at + word.text.length, words, index), dropsRight];
  });
}

/** Words and brackets outside of quotes, each with the number of brackets around it. */
function wordsOf(sql: string): Word[] {
  let depth = 0;
  return [...sql.matchAll(/'(?:[^']|'')*'|[\w.]+|[()]/g)].map((found) => {
    if (found[0] === ')') depth -= 1;
    const word = { text: found[0], at: found.index, depth };
    if (found[0] === '(') depth += 1;
    return word;
  });
}

/** AND or OR, but for the AND of a BETWEEN. */
function isOperator(words: readonly Word[], index: number): boolean {
  const word = words[index];
  if (word?.text === 'OR') return true;
  if (word?.text !== 'AND') return false;
  for (let before = index - 1; before >= 0; before -= 1) {
    const { text, depth } = words[before] ?? word;
    if (depth < word.depth) return true;
    if (depth > word.depth) continue;
    if (text === 'BETWEEN') return false;
    if (text === 'AND' || text === 'OR' || BOUNDARY.test(text)) return true;
  }
  return true;
}

function endOfTerm(words: readonly Word[], operator: number): number | undefined {
  const { depth } = words[operator] ?? { depth: 0 };
  for (let index = operator + 1; index < words.length; index += 1) {
    const word = words[index];
    if (!word) break;
    if (word.depth < depth) return word.at;
    if (word.depth === depth && (isOperator(words, index) || BOUNDARY.test(word.text))) return word.at;
  }
  return undefined;
}

function startOfTerm(words: readonly Word[], operator: number): { index: number; at: number } {
  const { depth } = words[operator] ?? { depth: 0 };
  for (let index = operator - 1; index >= 0; index -= 1) {
    const word = words[index];
    if (!word) break;
    const ends = word.depth < depth || isOperator(words, index) || BOUNDARY.test(word.text);
    if (word.depth <= depth && ends) return { index, at: word.at + word.text.length };
  }
  return { index: -1, at: 0 };
}

function term(sql: string, start: number, end: number, words: readonly Word[], operator: number): Term {
  const before = words.slice(0, operator).findLast(({ text }) => text.startsWith("'"))?.text ?? '';
  return { start, end, term: sql.slice(start, end).replaceAll(/\s+/g, ' ').trim(), before };
}

/**
 * The fibres a cloth can be made of, and a cloth's fibre content.
 *
 * Names are the generic names of ISO 2076 (man-made fibres) and ISO 6938 (natural fibres). The abbreviations are
 * those in use on labels in Europe; they are given here from memory.
 */

import { type Reading, refused } from '../quantity/reading.ts';
import { readShare } from '../quantity/whole.ts';

export const FIBRE_CODES = [
  'cotton',
  'linen',
  'hemp',
  'viscose',
  'modal',
  'lyocell',
  'silk',
  'wool',
  'nylon',
  'polyester',
  'cationic-polyester',
  'acetate',
  'triacetate',
  'acrylic',
  'elastane',
  'olefin',
  'glass',
  'metallised',
] as const;

export type FibreCode = (typeof FIBRE_CODES)[number];

export interface Fibre {
  readonly code: FibreCode;
  readonly name: string;
  /** What a label may print instead of the name. */
  readonly abbreviations: readonly string[];
  /** Other names in use for the same fibre. */
  readonly alsoCalled: readonly string[];
}

/** A share of a cloth, in percent by mass; `shareBp` in hundredths of a percent, 1 to 10000. */
export interface FibreShare {
  readonly fibre: FibreCode;
  readonly shareBp: number;
}

/** A cloth's fibre content: shares that add up to 10000, the largest usually first. */
export type Content = readonly FibreShare[];

/** Something wrong with what was given. `field` names the value, '' the whole. */
export interface ContentProblem {
  readonly field: string;
  readonly message: string;
}

export const FIBRES: readonly Fibre[] = [
  { code: 'cotton', name: 'cotton', abbreviations: ['CO'], alsoCalled: [] },
  { code: 'linen', name: 'linen', abbreviations: ['LI'], alsoCalled: ['flax'] },
  { code: 'hemp', name: 'hemp', abbreviations: ['HA'], alsoCalled: [] },
  { code: 'viscose', name: 'viscose', abbreviations: ['CV', 'VI'], alsoCalled: ['rayon', 'viscose rayon'] },
  { code: 'modal', name: 'modal', abbreviations: ['CMD'], alsoCalled: [] },
  { code: 'lyocell', name: 'lyocell', abbreviations: ['CLY'], alsoCalled: [] },
  { code: 'silk', name: 'silk', abbreviations: ['SE'], alsoCalled: [] },
  { code: 'wool', name: 'wool', abbreviations: ['WO', 'WV'], alsoCalled: ['virgin wool'] },
  { code: 'nylon', name: 'nylon', abbreviations: ['PA', 'NY'], alsoCalled: ['polyamide'] },
  { code: 'polyester', name: 'polyester', abbreviations: ['PES', 'PL'], alsoCalled: [] },
  {
    code: 'cationic-polyester',
    name: 'cationic-dyeable polyester',
    abbreviations: [],
    alsoCalled: ['cationic polyester'],
  },
  { code: 'acetate', name: 'acetate', abbreviations: ['CA', 'AC'], alsoCalled: ['cellulose acetate'] },
  { code: 'triacetate', name: 'triacetate', abbreviations: ['CTA', 'TA'], alsoCalled: [] },
  { code: 'acrylic', name: 'acrylic', abbreviations: ['PAN', 'PC'], alsoCalled: [] },
  { code: 'elastane', name: 'elastane', abbreviations: ['EL', 'EA'], alsoCalled: ['spandex'] },
  {
    code: 'olefin',
    name: 'olefin',
    abbreviations: ['PP', 'PE'],
    alsoCalled: ['polypropylene', 'polyethylene', 'polyolefin'],
  },
  { code: 'glass', name: 'glass', abbreviations: ['GF'], alsoCalled: ['glass fibre'] },
  {
    code: 'metallised',
    name: 'metallised film yarn',
    abbreviations: ['ME'],
    alsoCalled: ['metallic', 'metallised yarn', 'metallized yarn'],
  },
];

const FIBRE_BY_CODE = new Map(FIBRES.map((each) => [each.code, each]));

/** The fibre of a code. Throws RangeError on a code that is not one of FIBRE_CODES. */
export function fibreOf(code: FibreCode): Fibre {
  const found = FIBRE_BY_CODE.get(code);
  if (!found) throw new RangeError(`No fibre has the code ${code}`);
  return found;
}

/** The fibre meant by a code, name, abbreviation or other name, whatever its case; undefined when none is. */
export function fibreNamed(text: string): FibreCode | undefined {
  const wanted = text.trim().toLowerCase();
  return FIBRES.find((each) =>
    [each.code, each.name, ...each.abbreviations, ...each.alsoCalled].some(
      (name) => name.toLowerCase() === wanted,
    ),
  )?.code;
}

/** A fibre content as a label gives it: "70 % nylon, 30 % polyester"; one fibre alone is all of it. Blank is unknown. */
export function readFibreContent(text: string): Reading<Content> {
  const parts = text
    .split(/[,;/+]| and |&/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
  const content: { fibre: FibreCode; shareBp: number }[] = [];
  for (const part of parts) {
    const share = /\d[\d.,]*\s*%/.exec(part)?.[0];
    const name = part.replace(share ?? '', '').trim();
    const fibre = fibreNamed(name);
    if (fibre === undefined) return refused(`${name === '' ? part : name} is no fibre that is known here.`);
    if (share === undefined && parts.length > 1) return refused('Give the percentage of each fibre.');
    const read = readShare(share ?? '100 %');
    if (!read.ok) return read;
    content.push({ fibre, shareBp: read.value });
  }
  const [problem] = parts.length === 0 ? [] : checkContent(content);
  return problem
    ? refused(problem.message)
    : { ok: true, value: content, echo: showContent(content), exact: true };
}

/** Reads fibres by their names, each once: "cotton, elastane". */
export function readFibreNames(typed: string): Reading<readonly FibreCode[]> {
  const names = typed
    .split(/[,;/+]| and |&/)
    .map((name) => name.trim())
    .filter((name) => name !== '');
  const strange = names.find((name) => fibreNamed(name) === undefined);
  if (strange !== undefined) return refused(`${strange} is no fibre that is known here.`);
  const value = [...new Set(names.flatMap((name) => fibreNamed(name) ?? []))];
  return { ok: true, value, echo: sayFibreNames(value), exact: true };
}

export function sayFibreNames(fibres: readonly FibreCode[]): string {
  return fibres.map((fibre) => fibreOf(fibre).name).join(', ');
}

/**
 * Everything wrong with a fibre content, all at once; an empty list when it holds.
 *
 * Fields are `content` for the whole and `content.<row>.fibre`, `content.<row>.shareBp` for a row from 0.
 */
export function checkContent(content: Content): readonly ContentProblem[] {
  if (content.length === 0) return [{ field: 'content', message: 'Give at least one fibre.' }];
  const problems: ContentProblem[] = [];
  const seen = new Set<FibreCode>();
  content.forEach(({ fibre, shareBp }, row) => {
    if (!FIBRE_BY_CODE.has(fibre)) {
      problems.push({ field: `content.${row}.fibre`, message: 'Choose a fibre from the list.' });
    } else if (seen.has(fibre)) {
      const message = `${capital(fibreOf(fibre).name)} is named twice: add the two shares together.`;
      problems.push({ field: `content.${row}.fibre`, message });
    }
    seen.add(fibre);
    if (!Number.isInteger(shareBp) || shareBp <= 0 || shareBp > 10_000) {
      const message = 'A share is more than 0 % and at most 100 %, to a hundredth of a percent.';
      problems.push({ field: `content.${row}.shareBp`, message });
    }
  });
  const sumBp = content.reduce((sum, share) => sum + share.shareBp, 0);
  if (sumBp !== 10_000) {
    const message = `The fibres add up to ${percent(sumBp)}: they must make 100 % exactly.`;
    problems.push({ field: 'content', message });
  }
  return problems;
}

/** A content as a label gives it, largest share first: "70 % nylon, 30 % polyester". */
export function showContent(content: Content): string {
  return [...content]
    .sort((a, b) => b.shareBp - a.shareBp)
    .map(({ fibre, shareBp }) => `${percent(shareBp)} ${fibreOf(fibre).name}`)
    .join(', ');
}

/**
 * The content of several cloths together, by their masses: shares to a hundredth of a percent, which may miss 10000 by
 * the rounding. Empty where nothing weighs anything.
 */
export function contentTogether(
  cloths: readonly { readonly content: Content; readonly massMg: number }[],
): Content {
  const parts = new Map<FibreCode, number>();
  for (const { content, massMg } of cloths) {
    for (const { fibre, shareBp } of content) parts.set(fibre, (parts.get(fibre) ?? 0) + massMg * shareBp);
  }
  const all = [...parts.values()].reduce((sum, part) => sum + part, 0);
  if (all === 0) return [];
  return [...parts].map(([fibre, part]) => ({ fibre, shareBp: Math.round((part / all) * 10_000) }));
}

function percent(bp: number): string {
  return `${Number((bp / 100).toFixed(2))} %`;
}

/** A text with its first letter large, to begin a sentence. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

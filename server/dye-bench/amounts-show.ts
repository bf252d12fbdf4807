import type { Bath } from '../../src/bath.ts';
import type { BathPlan } from '../../src/bath-plan.ts';
import { sumOfLine, sumOfWater } from '../../src/bath-sums.ts';
import { showStockStrength } from '../../src/bench-figures.ts';
import { showMass } from '../../src/mass.ts';
import { showVolume } from '../../src/volume.ts';
import { sayForm } from './recipe-figures.ts';
import { showUl } from './volumes.ts';

/** One thing that goes into a bath. */
export interface ShownLine {
  readonly name: string;
  readonly part: 'dye' | 'auxiliary' | 'water';
  readonly asked: string;
  readonly perBath: string;
  /** the volume to measure out, where it is a liquid or a stock solution; else '' */
  readonly perBathVolume: string;
  /** by group of baths alike: see `shownGroups`; the first is `perBath` */
  readonly amounts: readonly { readonly amount: string; readonly volume: string }[];
  readonly inAll: string;
  /** the sum by which the amount in all is worked out */
  readonly how: string;
  /** where it is measured from a stock solution: of what strength, and what to make up; else '' */
  readonly stock: string;
  /** where the figure comes from, in small print; '' where it is told elsewhere */
  readonly source: string;
}

/** Baths that are alike, to a milligram. */
export interface ShownGroup {
  /** "The bath", "Each of 3 baths", "Baths 1 to 2", "Bath 3" */
  readonly label: string;
  readonly count: number;
  readonly mass: string;
  readonly volume: string;
  /** strips of cloth in each; 0 where none are counted */
  readonly strips: number;
}

type Amounts = Pick<BathPlan, 'bath' | 'baths' | 'proposed' | 'parts'>;

/** The baths of a plan in runs of those alike. */
export function shownGroups({ bath, baths, parts }: Amounts, counted: boolean): ShownGroup[] {
  return runsOf(baths, parts).map(({ from, count }) => {
    const one = baths[from] ?? bath;
    const whole = count === baths.length;
    const named = count === 1 ? `Bath ${from + 1}` : `Baths ${from + 1} to ${from + count}, each`;
    return {
      label: whole ? (count === 1 ? 'The bath' : `Each of ${count} baths`) : named,
      count,
      mass: showGrams(one.massMg),
      volume: showUl(one.volumeUl),
      strips: counted ? (parts[from] ?? 0) : 0,
    };
  });
}

/** Baths one after another whose masses differ by no more than a milligram. */
function runsOf(baths: readonly Bath[], parts: readonly number[]): { from: number; count: number }[] {
  const runs: { from: number; count: number }[] = [];
  baths.forEach(({ massMg }, at) => {
    const run = runs.at(-1);
    const alike = run && Math.abs((baths[run.from]?.massMg ?? 0) - massMg) <= 1;
    if (run && alike && parts[run.from] === parts[at]) run.count += 1;
    else runs.push({ from: at, count: 1 });
  });
  return runs;
}

/** Dyes, auxiliaries and fresh water of a bath; `sources` go by its lines. */
export function shownLines(
  { bath, baths, proposed, parts }: Amounts,
  dyedMg: number,
  sources: readonly string[] = [],
): ShownLine[] {
  const one = baths[0] ?? bath;
  const firsts = runsOf(baths, parts).map(({ from }) => baths[from] ?? bath);
  const lines = bath.lines.map((line, place): ShownLine => {
    const share = one.lines[place] ?? line;
    return {
      name: line.kind && line.form ? sayForm({ ...line, kind: line.kind, form: line.form }) : line.name,
      part: line.part,
      asked: line.asked,
      perBath: showGrams(share.massMg),
      perBathVolume: share.volumeUl === undefined ? '' : showUl(share.volumeUl),
      amounts: firsts.map((each) => amountOf(each, place)),
      inAll: showGrams(line.massMg),
      how: sumOfLine(line, { dyedMg, volumeUl: bath.volumeUl }),
      stock: sayStock(bath, place, proposed),
      source: sources[place] ?? '',
    };
  });
  return [...lines, waterLine(bath, one, firsts)];
}

function amountOf({ lines }: Bath, place: number) {
  const line = lines[place];
  const volume = line?.volumeUl === undefined ? '' : showUl(line.volumeUl);
  return { amount: showGrams(line?.massMg ?? 0), volume };
}

function waterLine(bath: Bath, one: Bath, firsts: readonly Bath[]): ShownLine {
  const measured = bath.lines.some(({ volumeUl }) => volumeUl !== undefined);
  return {
    name: 'Fresh water',
    part: 'water',
    asked: measured ? 'bath less what is measured' : 'the bath',
    perBath: showUl(one.freshWaterUl),
    perBathVolume: '',
    amounts: firsts.map(({ freshWaterUl }) => ({ amount: showUl(freshWaterUl), volume: '' })),
    inAll: showUl(bath.freshWaterUl),
    how: sumOfWater(bath),
    stock: '',
    source: '',
  };
}

function sayStock(bath: Bath, place: number, proposed: BathPlan['proposed']): string {
  const strength = bath.lines[place]?.stockMgPer100Ml;
  if (strength === undefined) return '';
  const made = proposed.find(({ line }) => line === place);
  if (!made) return `from a stock of ${showStockStrength(strength)}`;
  return `too little for the balance: dissolve ${showGrams(made.weighMg)} and make it up to ${showVolume(made.makeMl, 'near')}, ${showStockStrength(strength)}`;
}

export function showGrams(massMg: number): string {
  return showMass(massMg, 'metric', 'near');
}

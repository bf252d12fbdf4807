import { nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { type Bath, type BathLine, massUgOf } from '../../../src/dye/bath.ts';
import type { BathPlan } from '../../../src/dye/bath-plan.ts';
import { sumOfLine, sumOfWater } from '../../../src/dye/bath-sums.ts';
import { showStockStrength } from '../../../src/dye/bench-figures.ts';
import { type Bench, offBpOf, USUAL_OFF_BP } from '../../../src/dye/measuring.ts';
import { isTooLittle, type ProposedStock, sourcesOf } from '../../../src/dye/stock-solution.ts';
import { showMass, showTrace, showWeighed } from '../../../src/quantity/mass.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { wordFor } from '../../kit/words.ts';
import { sayForm, sayMeasured } from '../recipe/figures.ts';
import { showUl } from './volumes.ts';

type Amounts = Pick<BathPlan, 'bath' | 'baths' | 'proposed' | 'parts'> & Partial<Bench>;

export type ShownGroup = ReturnType<typeof shownGroups>[number];

/** The baths of a plan in runs of those alike, to a milligram. */
export function shownGroups({ bath, baths, parts }: Amounts, counted: boolean) {
  return runsOf(baths, parts).map(({ from, count }) => {
    const one = baths[from] ?? bath;
    const whole = count === baths.length;
    const named = count === 1 ? `Bath ${from + 1}` : `Baths ${from + 1} to ${from + count}, each`;
    return {
      /** "The bath", "Each of 3 baths", "Baths 1 to 2", "Bath 3" */
      label: whole ? wordFor(count, 'The bath', `Each of ${count} baths`) : named,
      count,
      mass: showGrams(one.massMg),
      volume: showUl(one.volumeUl),
      /** strips of cloth in each; 0 where none are counted */
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

export type ShownLine = ReturnType<typeof shownLines>[number];

/** Dyes, auxiliaries and fresh water of a bath; `sources` go by its lines. */
export function shownLines(
  { bath, baths, proposed, parts, ...bench }: Amounts,
  dyedMg: number,
  sources: readonly string[] = [],
) {
  const { balanceMg } = bench;
  const one = baths[0] ?? bath;
  const firsts = runsOf(baths, parts).map(({ from }) => baths[from] ?? bath);
  const made = (place: number) => proposed.find(({ line: of }) => of === place);
  const lines = bath.lines.map((line, place) => {
    const share = one.lines[place] ?? line;
    return {
      name: line.kind && line.form ? sayForm({ ...line, kind: line.kind, form: line.form }) : line.name,
      part: line.part,
      asked: sayAsked(line),
      perBath: showAmount(share, balanceMg),
      /** the volume to measure out, where it is a liquid or a stock solution; else '' */
      perBathVolume: share.volumeUl === undefined ? '' : showUl(share.volumeUl),
      /** by group of baths alike: see `shownGroups`; the first is `perBath` */
      amounts: firsts.map((each) => amountOf(each, place, balanceMg)),
      inAll: showAmount(line, balanceMg),
      /** the sum by which the amount in all is worked out */
      how: sumOfLine(line, { dyedMg, volumeUl: bath.volumeUl }),
      /** where it is measured from a stock solution: of what strength, and what to make up; else '' */
      stock: sayStock(line, share, made(place), bench),
      /** "±1.7 %": how far off the amount of one bath may be; '' where that is not known */
      off: sayOff(share, made(place), bench),
      /** where the figure comes from, in small print; '' where it is told elsewhere */
      source: sources[place] ?? '',
    };
  });
  return [...lines, waterLine(bath, one, firsts)];
}

function amountOf({ lines }: Bath, place: number, balanceMg: number | undefined) {
  const line = lines[place];
  if (!line) return { amount: showGrams(0), volume: '' };
  const volume = line.volumeUl === undefined ? '' : showUl(line.volumeUl);
  return { amount: showAmount(line, balanceMg), volume };
}

/** The mass of a line as the hand has it: to the balance's step, or written out where a stock holds it. */
export function showAmount(
  line: Pick<BathLine, 'massMg' | 'massUg'> & { readonly stockMgPer100Ml?: number | null },
  balanceMg: number = FINEST_MG,
): string {
  const massUg = massUgOf(line);
  return line.stockMgPer100Ml == null ? showWeighed(massUg, balanceMg) : showTrace(massUg);
}

/** The balance of a card that does not tell its own. */
const FINEST_MG = 1;

/** What is asked, as the hand measures it: a liquid in mL, "200 mL to 1 kg of cloth", the rest as the recipe has it. */
export function sayAsked({ kind, form, asked, stated }: BathLine): string {
  if (!kind || !form) return asked;
  if (stated) return `${asked} of ${nameOfForm(kind, stated.form)}`;
  return sayMeasured(kind, form, asked);
}

function waterLine(bath: Bath, one: Bath, firsts: readonly Bath[]) {
  const measured = bath.lines.some(({ volumeUl }) => volumeUl !== undefined);
  return {
    name: 'Fresh water',
    part: 'water' as const,
    asked: measured ? 'bath less what is measured' : 'the bath',
    perBath: showUl(one.freshWaterUl),
    perBathVolume: '',
    amounts: firsts.map(({ freshWaterUl }) => ({ amount: showUl(freshWaterUl), volume: '' })),
    inAll: showUl(bath.freshWaterUl),
    how: sumOfWater(bath),
    stock: '',
    off: '',
    source: '',
  };
}

/** How a line that the balance does not resolve is measured; '' where it is simply weighed. */
function sayStock(
  { stockMgPer100Ml: strength }: BathLine,
  share: BathLine,
  made: ProposedStock | undefined,
  bench: Partial<Bench>,
): string {
  if (strength === undefined) {
    const { balanceMg } = bench;
    const bare = balanceMg !== undefined && isTooLittle(share, { ...bench, balanceMg });
    return bare ? 'too little for this balance: weigh it on a finer one, or dye more cloth at once' : '';
  }
  if (!made) return `from a stock of ${showStockStrength(strength)}`;
  const { weighMg, makeMl, dilutions = [] } = made;
  const first = (weighMg * 100) / makeMl;
  const weighed = `weigh ${showGrams(weighMg)} and make it up to ${showVolume(makeMl, 'near')}, ${showStockStrength(first)}`;
  const weaker = dilutions.map(
    (step) =>
      `; take ${showVolume(step.takeMl, 'near')} of that and make it up to ${showVolume(step.makeMl, 'near')}, ${showStockStrength(step.mgPer100Ml)}`,
  );
  return `${whyStock(share, bench)}: ${weighed}${weaker.join('')}`;
}

/** Why a stock is made: "too little for the balance, ±12 % where 5 % is allowed". */
function whyStock(share: BathLine, bench: Partial<Bench>): string {
  const why = 'too little for the balance';
  const { balanceMg, offBp = USUAL_OFF_BP } = bench;
  if (balanceMg === undefined) return why;
  const { massMg, massUg } = share;
  const bare = massUg === undefined ? { massMg } : { massMg, massUg };
  const off = offBpOf(sourcesOf(bare, undefined, { ...bench, balanceMg }));
  return `${why}, off ${sayPart(off)} where ${showPercent(offBp)} is allowed`;
}

function sayOff(share: BathLine, stock: ProposedStock | undefined, bench: Partial<Bench>): string {
  const { balanceMg } = bench;
  if (balanceMg === undefined) return '';
  const found = sourcesOf(share, stock, { ...bench, balanceMg });
  if (found.length === 0) return '';
  const by = [...new Set(found.map((source) => source.with))].join(', ');
  const bare = share.stockMgPer100Ml !== undefined && !stock ? ', its making up not counted' : '';
  return `${sayPart(offBpOf(found))} by ${by}${bare}`;
}

/** Two figures of a part: "±1.7 %". */
function sayPart(offBp: number): string {
  if (offBp >= 10_000) return 'by all of it';
  return `±${Number((offBp / 100).toPrecision(2))} %`;
}

export function showGrams(massMg: number): string {
  return showMass(massMg, 'metric', 'near');
}

import { type Content, readFibreContent } from '../dye/fibre.ts';
import { type LengthUnit, MOST_LENGTH_TICKS, readLength, TICKS_PER } from '../quantity/length.ts';
import { type MassPerAreaUnit, readMassPerArea } from '../quantity/mass.ts';
import { readMoney } from '../quantity/money.ts';
import type { Reading } from '../quantity/reading.ts';

/** What a column of a stock list can hold. */
export const STOCK_FIELDS = [
  'code',
  'kind',
  'cloth',
  'construction',
  'fibres',
  'cloth_width',
  'cloth_usable_width',
  'mass_per_area',
  'finish',
  'shade',
  'undyed',
  'lot',
  'length',
  'usable_width',
  'place',
  'supplier',
  'cost',
] as const;
export type StockField = (typeof STOCK_FIELDS)[number];

/** How the figures of a list are written where its cells do not say. */
export interface ListWriting {
  /** what a bare length is in */
  readonly lengthUnit: LengthUnit;
  /** what a bare width is in */
  readonly sizeUnit: LengthUnit;
  readonly massUnit: MassPerAreaUnit;
  /** 'comma' where 1.234,5 is a thousand and more, 'point' where 1,234.5 is; 'either' refuses what could be both */
  readonly decimals: 'either' | 'point' | 'comma';
  readonly currency: string;
}

/** One piece as a row of a list has it. Lengths in ticks of 1/160 mm, cost in minor units. */
export interface StockRow {
  readonly code: string;
  readonly kind: 'bolt' | 'remnant';
  readonly cloth: string;
  readonly construction: string;
  readonly fibres: Content;
  readonly clothWidthTicks: number | null;
  readonly clothUsableWidthTicks: number | null;
  readonly massPerAreaMgM2: number | null;
  /** the supplier's words for its finish and state; left out where there are none */
  readonly finish?: string;
  readonly shade: string;
  readonly undyed: boolean;
  readonly lot: string;
  readonly lengthTicks: number;
  readonly typed: string;
  readonly usableWidthTicks: number | null;
  readonly place: string;
  readonly supplier: string;
  readonly costMinor: number;
}

export interface RowProblem {
  readonly field: StockField | '';
  readonly message: string;
}

export type StockRead =
  | { readonly ok: true; readonly row: StockRow }
  | { readonly ok: false; readonly problems: readonly RowProblem[] };

/** The words over a column by which it is known; the first that fits the whole heading or begins it wins. */
const HEADINGS: Readonly<Record<StockField, readonly string[]>> = {
  code: ['code', 'piece', 'piece code', 'number', 'no', 'id', 'ref', 'reference'],
  kind: ['kind', 'bolt or remnant', 'type'],
  cloth: ['cloth', 'fabric', 'material', 'article', 'quality', 'description', 'item'],
  construction: ['construction', 'weave'],
  fibres: ['fibres', 'fibers', 'fibre', 'fiber', 'content', 'composition', 'fibre content'],
  cloth_width: ['cloth width', 'fabric width', 'full width', 'width'],
  cloth_usable_width: ['cloth usable width', 'cuttable width'],
  mass_per_area: ['mass per area', 'gsm', 'g/m2', 'g/m²', 'weight'],
  finish: ['finish', 'finishes', 'treatment', 'state'],
  shade: ['shade', 'colour', 'color', 'colourway', 'colorway'],
  undyed: ['undyed', 'ground', 'dyeable'],
  lot: ['lot', 'mill lot', 'dye lot', 'dyelot', 'batch', 'roll lot'],
  length: ['length', 'on hand', 'stock', 'metres', 'meters', 'yards', 'quantity', 'qty', 'amount'],
  usable_width: ['usable width', 'usable'],
  place: ['place', 'location', 'where', 'shelf', 'rack', 'bin'],
  supplier: ['supplier', 'vendor', 'from', 'bought from'],
  cost: ['cost', 'paid', 'value', 'total cost', 'price paid'],
};

/** What each column of a heading most likely holds, '' where nothing fits; no field is given twice. */
export function guessColumns(heading: readonly string[]): (StockField | '')[] {
  const plain = heading.map((text) =>
    text
      .toLowerCase()
      .replaceAll(/\(.*?\)|[_\-.:]+/g, ' ')
      .replaceAll(/\s+/g, ' ')
      .trim(),
  );
  const guessed = heading.map((): StockField | '' => '');
  for (const fits of [
    (text: string, word: string) => text === word,
    (text: string, word: string) => text.startsWith(`${word} `) || text.endsWith(` ${word}`),
  ]) {
    for (const field of STOCK_FIELDS) {
      if (guessed.includes(field)) continue;
      const at = plain.findIndex(
        (text, index) => guessed[index] === '' && HEADINGS[field].some((word) => fits(text, word)),
      );
      if (at >= 0) guessed[at] = field;
    }
  }
  return guessed;
}

/** The unit that a heading names in brackets or as its word: "Length (yd)", "Metres". */
export function unitInHeading(text: string): LengthUnit | null {
  const words = text.toLowerCase().split(/[^a-z]+/);
  const unit = words.map((word) => UNIT_WORDS.get(word)).find((found) => found !== undefined);
  return unit ?? null;
}

const UNIT_WORDS = new Map<string, LengthUnit>([
  ...(['mm', 'cm', 'm', 'in', 'ft', 'yd'] as const).map((unit): [string, LengthUnit] => [unit, unit]),
  ['metres', 'm'],
  ['meters', 'm'],
  ['metre', 'm'],
  ['meter', 'm'],
  ['yards', 'yd'],
  ['yard', 'yd'],
  ['yds', 'yd'],
  ['inches', 'in'],
  ['inch', 'in'],
  ['feet', 'ft'],
]);

const MOST_WIDTH_TICKS = 10 * TICKS_PER.m;
const MOST_COST_MINOR = 1_000_000_000_000;
const LONGEST: Partial<Record<StockField, number>> = {
  code: 40,
  cloth: 120,
  construction: 60,
  finish: 120,
  shade: 80,
  lot: 60,
  place: 60,
  supplier: 120,
};

/**
 * Reads one row of a stock list, cell by cell, with every problem of the row at once. Cloth, shade and length must be
 * there; the rest may be blank. Nothing is guessed of a figure: what could mean two things is refused.
 */
export function readStockRow(
  cells: readonly string[],
  columns: readonly (StockField | '')[],
  writing: ListWriting,
): StockRead {
  const problems: RowProblem[] = [];
  if (cells.length > columns.length && cells.slice(columns.length).some((cell) => cell !== ''))
    problems.push({
      field: '',
      message: `This row has ${cells.length} cells, and the heading has ${columns.length}: put a cell that has a comma in quotation marks.`,
    });
  const text = (field: StockField) => {
    const at = columns.indexOf(field);
    const cell = at < 0 ? '' : (cells[at] ?? '').trim();
    const most = LONGEST[field];
    if (most !== undefined && [...cell].length > most)
      problems.push({ field, message: `At most ${most} characters, please.` });
    if (/\p{Cc}/u.test(cell))
      problems.push({ field, message: 'This holds control characters: take them out.' });
    return cell;
  };
  const needed = (field: StockField, what: string) => {
    const cell = text(field);
    if (cell === '') problems.push({ field, message: `${what} must be filled in.` });
    return cell;
  };
  const figure = (
    field: StockField,
    read: (cell: string) => Reading<number>,
    bounds: { least: number; most: number },
  ) => {
    const cell = text(field);
    if (cell === '') return null;
    const reading = read(inOneWriting(cell, writing.decimals));
    if (!reading.ok) problems.push({ field, message: reading.reason });
    else if (reading.value < bounds.least)
      problems.push({ field, message: 'This is too small: enter more.' });
    else if (reading.value > bounds.most) problems.push({ field, message: 'This is too large: enter less.' });
    else return reading.value;
    return null;
  };
  const width = (field: StockField) =>
    figure(field, (cell) => readLength(cell, writing.sizeUnit), { least: 1, most: MOST_WIDTH_TICKS });

  const code = text('code');
  if (code !== '' && !/^[\p{L}\p{N}][\p{L}\p{N}./-]*$/u.test(code))
    problems.push({
      field: 'code',
      message: 'Enter letters and digits, with dots, slashes and hyphens between.',
    });
  const kind = readKind(text('kind'));
  if (kind === null) problems.push({ field: 'kind', message: 'Write bolt or remnant.' });
  const undyed = readYes(text('undyed'));
  if (undyed === null) problems.push({ field: 'undyed', message: 'Write yes or no.' });
  const content = readFibreContent(text('fibres'));
  if (!content.ok) problems.push({ field: 'fibres', message: content.reason });
  const fibres = content.ok ? content.value : null;
  const finish = text('finish');
  const length = needed('length', 'The length');
  const row = {
    code,
    cloth: needed('cloth', 'The cloth'),
    construction: text('construction'),
    fibres: fibres ?? [],
    clothWidthTicks: width('cloth_width'),
    clothUsableWidthTicks: width('cloth_usable_width'),
    massPerAreaMgM2: figure('mass_per_area', (cell) => readMassPerArea(cell, writing.massUnit), {
      least: 1,
      most: 5_000_000,
    }),
    ...(finish === '' ? {} : { finish }),
    shade: needed('shade', 'The shade'),
    lot: text('lot'),
    lengthTicks:
      length === ''
        ? null
        : figure('length', (cell) => readLength(cell, writing.lengthUnit), {
            least: 1,
            most: MOST_LENGTH_TICKS,
          }),
    typed: length.slice(0, 64),
    usableWidthTicks: width('usable_width'),
    place: text('place'),
    supplier: text('supplier'),
    costMinor:
      figure('cost', (cell) => readMoney(cell, writing.currency), { least: 0, most: MOST_COST_MINOR }) ?? 0,
  };
  const { lengthTicks } = row;
  if (problems.length > 0 || lengthTicks === null || kind === null || undyed === null)
    return { ok: false, problems };
  return { ok: true, row: { ...row, lengthTicks, kind, undyed } };
}

function readKind(text: string): 'bolt' | 'remnant' | null {
  const plain = text.toLowerCase();
  if (plain === '' || plain === 'bolt' || plain === 'roll') return 'bolt';
  return plain === 'remnant' || plain === 'offcut' ? 'remnant' : null;
}

function readYes(text: string): boolean | null {
  const plain = text.toLowerCase();
  if (['', 'no', 'n', '0', 'false'].includes(plain)) return false;
  return ['yes', 'y', '1', 'true', 'x'].includes(plain) ? true : null;
}

/** A figure with its thousands taken out and a point before its decimals, where the list says how it is written. */
function inOneWriting(cell: string, decimals: ListWriting['decimals']): string {
  if (decimals === 'either') return cell;
  const [thousands, point] = decimals === 'point' ? [',', '.'] : ['.', ','];
  const grouped = new RegExp(`\\d{1,3}(\\${thousands}\\d{3})+(?!\\d)`, 'g');
  const whole = cell.replaceAll(grouped, (found) => found.replaceAll(thousands, ''));
  return decimals === 'point' ? whole : whole.replace(point, '.');
}

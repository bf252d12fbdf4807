import { underWay } from '../../../src/dye/bath-clock.ts';
import { lengthsOnCard, potOnCard } from '../../../src/dye/card.ts';
import { PRESSED_SPECIMEN, pressOf } from '../../../src/dye/fastness-press.ts';
import { capital, sayFibreNames } from '../../../src/dye/fibre.ts';
import { FASTNESS_TESTS, showGrade } from '../../../src/dye/grey-scale.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import { showColourDifference, showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { batchPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showDay, showMoment } from '../../kit/when.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { sayState } from '../batch/page.ts';
import { readSentLengths, stateOf } from '../batch/store.ts';
import { showGrams } from '../card/amounts-show.ts';
import { showUl } from '../card/volumes.ts';
import type { BathState } from '../pot/bath-state.ts';
import type { LogRow } from '../pot/log-store.ts';
import { type AtThePot, readAtThePot, recordPath } from '../pot/log-verbs.ts';
import { labelWords } from '../recipe/by-label.ts';
import { sayFigures } from '../recipe/figures.ts';
import { readRecipe } from '../recipe/store.ts';
import { BATCH_CARD, PH_POINTS } from './form.ts';
import { batchCardPath } from './verbs.ts';

/** The card of a batch: what was done and found of each bath, with a blank for what is not typed. */
export function batchCardPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}) {
  const pot = readAtThePot(reader, code);
  const { batch, baths } = pot;
  const sent = readSentLengths(reader, batch.id);
  const stored = readRecipe(reader, batch.recipeId);
  const asked = queryNumber(typed, 'bath') ?? 1;
  const here = baths.find(({ number }) => number === asked) ?? baths[0];
  const last = here?.rows.at(-1);
  const { tests, difference, difference_how, ...fields } = drawFields(BATCH_CARD.shape, typed, {
    tests: FASTNESS_TESTS.length,
  });
  const data = {
    requestKey: mintKey(),
    code: batch.code,
    href: batchPath(code),
    record: recordPath(code),
    action: `${batchPath(code)}/card`,
    takeBacks: `${batchPath(code)}/logs/take-backs`,
    said: sayState(batch, stateOf(batch, sent), sent),
    chip: shadeChip(stored.shade),
    recipe: `${stored.name}, version ${stored.version}`,
    figures: sayFigures(pot.recipe),
    byLabel: labelWords(stored),
    /** thread, trim and lining; '' where there are none */
    also: sayFibreNames(pot.recipe.also ?? []),
    due: batch.dueOn === null ? '' : showDay(batch.dueOn),
    note: batch.note,
    baths: baths.map(({ number }) => ({
      number,
      label: baths.length === 1 ? 'The bath' : `Bath ${number}`,
      href: batchCardPath(code, number),
      here: number === here?.number,
    })),
    /** line by line, what each bath has; '' where nothing is typed */
    lines: linesOf(pot, sent, asker),
    press: sayPress(),
    /** the bath that the form is of */
    bath: here?.number ?? 1,
    several: baths.length > 1,
    /** true where a bath was chosen to fill in its card */
    filling: typed.bath !== undefined,
    /** the last filling of the card, where nothing was logged since; null where there is none */
    last:
      last && (CARD_KINDS.has(last.kind) || (last.kind === 'pH' && last.what !== ''))
        ? { id: last.id, said: `${last.person}, ${showMoment(last.at)}` }
        : null,
    fields,
    difference: [difference_how, difference],
    tests: FASTNESS_TESTS.flatMap((label, at) => {
      const row = tests[at];
      return row ? [{ ...row.grade, label: capital(label) }] : [];
    }),
  };
  return {
    view: 'dye-bench/batch-card/card',
    data,
    title: `Batch card ${batch.code}`,
    room: 'dye-bench',
  } satisfies Page;
}

/** "12.5 kPa (50 N on 40 cm², the weight of 5.1 kg)", and the size of what is pressed. */
function sayPress() {
  const { widthMm, lengthMm, pressureKPa } = PRESSED_SPECIMEN;
  const { areaCm2, newtons, kilograms } = pressOf(PRESSED_SPECIMEN);
  const mass = showDecimal(BigInt(Math.round(kilograms * 10)), 1);
  return {
    size: `${widthMm} × ${lengthMm} mm`,
    said: `${pressureKPa} kPa (${newtons} N on ${areaCm2} cm², the weight of ${mass} kg)`,
  };
}

const CARD_KINDS: ReadonlySet<string> = new Set([
  'scoured',
  'topped up',
  'bath end',
  'shade',
  'fastness',
  'difference',
]);

interface Line {
  readonly group: string;
  readonly label: string;
  readonly values: readonly string[];
}

function linesOf(pot: AtThePot, sent: ReturnType<typeof readSentLengths>, { units }: Asker): Line[] {
  const { batch, baths } = pot;
  const card = batch.card;
  if (!card) return [];
  const lengths = lengthsOnCard(card);
  const each = (group: string, label: string, say: (state: BathState) => string): Line => ({
    group,
    label,
    values: baths.map(say),
  });
  const own = ({ number }: BathState) => sent.filter(({ bath }) => (bath ?? number) === number);
  const dyes = card.bath.lines.map(({ name }) => name);
  return [
    each('Cloth', 'Lengths, undyed lot', ({ number }) =>
      lengths
        .filter(({ bath }) => bath === number)
        .map(
          ({ piece, lengthTicks }) =>
            `${showLength(lengthTicks, units, 'near')} of ${piece.code}, ${piece.lot}`,
        )
        .join('; '),
    ),
    each('Cloth', 'Dry mass', ({ bath }) => showGrams(bath.massMg)),
    each('Cloth', 'Mass after the scour', ({ rows }) =>
      sayLast(rows, 'scoured', ({ figure }) => showGrams(figure)),
    ),
    each('Cloth', 'Back, lot', (state) =>
      own(state)
        .flatMap(({ back }) =>
          back
            ? [`${showLength(back.measuredTicks, units, 'near')} as ${back.pieceCode}, ${back.lotCode}`]
            : [],
        )
        .join('; '),
    ),
    each('Bath', 'Pot', ({ number }) => potOnCard(card, number).name),
    each('Bath', 'Fresh water, wanted', ({ bath }) => showUl(bath.freshWaterUl)),
    each('Bath', 'Fresh water, measured', ({ rows }) =>
      sayLast(rows, 'water', ({ figure }) => showVolume(figure, 'near')),
    ),
    each('Bath', 'Topped up', ({ rows }) => sayToppedUp(rows)),
    ...PH_POINTS.map((point) => each('Bath', `pH at the ${point}`, (state) => phAt(state, point))),
    each('Bath', 'Bath at the end', ({ rows }) => sayLast(rows, 'bath end', ({ what }) => what)),
    ...dyes.map((name, at) =>
      each('Lots weighed', capital(name), ({ rows }) => sayLot(rows, name, strengthOf(card, at))),
    ),
    ...(['daylight', 'stage light'] as const).map((light) =>
      each('Shade', `By ${light}`, ({ rows }) => sayShade(rows, light)),
    ),
    ...(baths.length > 1
      ? [
          each('Shade', 'Difference to bath 1', ({ rows, number }) =>
            number === 1 ? '–' : sayDifference(rows),
          ),
        ]
      : []),
    ...FASTNESS_TESTS.map((test) =>
      each('Grey scale grades', capital(test), ({ rows }) =>
        sayLast(
          rows.filter(({ what }) => what === test),
          'fastness',
          ({ figure }) => showGrade(figure),
        ),
      ),
    ),
    each('Signed', 'Dyed by, day', ({ rows }) => {
      const done = rows.findLast(({ kind }) => kind === 'step');
      return done ? `${done.person}, ${showMoment(done.at)}` : '';
    }),
    each('Signed', 'Passed by, day', () => ''),
  ];
}

function sayLast(rows: readonly LogRow[], kind: LogRow['kind'], say: (row: LogRow) => string): string {
  const row = rows.findLast((each) => each.kind === kind);
  return row ? say(row) : '';
}

function sayToppedUp(rows: readonly LogRow[]): string {
  const all = rows.filter(({ kind }) => kind === 'topped up').map(({ figure }) => figure);
  if (all.length === 0) return '';
  const sum = showVolume(
    all.reduce((total, ml) => total + ml, 0),
    'near',
  );
  return all.length === 1 ? sum : `${sum} in ${all.length} fillings`;
}

/** What was typed for the point, or what was logged at the pot: before it is heated, while it is hot, and after that. */
function phAt({ rows, clock }: BathState, point: (typeof PH_POINTS)[number]): string {
  const phs = rows.filter(({ kind }) => kind === 'pH');
  const typed = phs.findLast(({ what }) => what === point);
  const row =
    typed ??
    phs.findLast(
      ({ what, at }) => what === '' && pointOf(underWay(clock, Date.parse(at))?.step.kind) === point,
    );
  return row ? showDecimal(BigInt(row.figure), 2) : '';
}

function pointOf(kind: string | undefined): (typeof PH_POINTS)[number] | null {
  if (kind === 'set' || kind === 'add') return 'start';
  if (kind === 'heat' || kind === 'hold') return 'middle';
  return kind === 'cool' ? 'end' : null;
}

function strengthOf({ amounts }: NonNullable<AtThePot['batch']['card']>, line: number): string {
  const found = amounts?.strengths?.find((each) => each.line === line);
  if (!found) return '';
  return `${showPercent(found.strengthBp)} strength, ${found.how === 'swatch' ? 'by swatches' : 'as the maker says'}`;
}

function sayLot(rows: readonly LogRow[], name: string, strength: string): string {
  const lots = rows.filter(({ kind, what, dyeLot }) => kind === 'weighed' && what === name && dyeLot !== '');
  const said = [...new Set(lots.map(({ dyeLot }) => dyeLot))].map((lot) => `lot ${lot}`);
  return [...said, ...(strength === '' ? [] : [strength])].join(', ');
}

function sayShade(rows: readonly LogRow[], light: 'daylight' | 'stage light'): string {
  const row = rows.findLast(({ kind, what }) => kind === 'shade' && what.startsWith(`${light}: `));
  if (!row) return '';
  const verdict = row.what.slice(light.length + 2);
  return row.note === '' ? verdict : `${verdict}; ${row.note}`;
}

function sayDifference(rows: readonly LogRow[]): string {
  return sayLast(rows, 'difference', ({ what, figure }) => {
    if (what === 'eye') return `grade ${showGrade(figure)} by eye`;
    return `ΔE00 ${showColourDifference(figure)}, ${what === 'photo' ? 'from a photograph' : 'measured'}`;
  });
}

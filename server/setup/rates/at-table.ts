import { z } from 'zod';
import { type TableRates, USUAL_TABLE_RATES } from '../../../src/cut-plan/plies.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { prepared } from '../../database/statements.ts';
import { lengthField, wholeField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import { keepTyped, readKept, type Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { ratesPath } from './words.ts';

const MOST_FOLD_ALLOWANCE_TICKS = 2 * TICKS_PER.cm;

const tableRate = prepared((db) => db.selectFrom('table_rate').selectAll());

/** What work at the cutting table takes, and what a fold that is cut open loses. */
export interface AtTable extends TableRates {
  readonly foldAllowanceTicks: number;
  /** whether these are the workroom's own figures */
  readonly isOwn: boolean;
}

/** What is usual as the table keeps it; a fold that is cut open loses 3 mm (our rule). */
const USUAL_ROW = {
  pull_seconds: USUAL_TABLE_RATES.pullSeconds,
  fold_seconds: USUAL_TABLE_RATES.foldSeconds,
  pin_seconds: USUAL_TABLE_RATES.pinSeconds,
  stroke_seconds: USUAL_TABLE_RATES.strokeSeconds,
  knife_ticks_min: USUAL_TABLE_RATES.knifeTicksMin,
  fold_allowance_ticks: 3 * TICKS_PER.mm,
};

export function readAtTable(reader: Reader): AtTable {
  const own = reader.first(tableRate());
  const row = own ?? USUAL_ROW;
  return {
    pullSeconds: row.pull_seconds,
    foldSeconds: row.fold_seconds,
    pinSeconds: row.pin_seconds,
    strokeSeconds: row.stroke_seconds,
    knifeTicksMin: row.knife_ticks_min,
    foldAllowanceTicks: row.fold_allowance_ticks,
    isOwn: own !== undefined,
  };
}

function tableFields(units: Units) {
  const seconds = { min: 0, max: 3600, unit: 's', size: 'short' } as const;
  return {
    pull: wholeField({ ...seconds, label: 'Pull a length' }),
    fold: wholeField({ ...seconds, label: 'Fold it once' }),
    pin: wholeField({ ...seconds, label: 'Pin a stack' }),
    stroke: wholeField({ ...seconds, label: 'Set rule and knife', hint: 'For each cut.' }),
    knife: lengthField(lengthUnit(units), {
      min: 1,
      max: 100 * TICKS_PER.m,
      label: 'Cut in a minute',
    }),
    allowance: lengthField(units.system === 'metric' ? 'mm' : 'in', {
      min: 0,
      max: MOST_FOLD_ALLOWANCE_TICKS,
      label: 'Lost at a fold that is cut open',
      hint: '0: slit inside the fold.',
    }),
  };
}

export function tableForm({ units }: Asker) {
  return z.strictObject(tableFields(units));
}

/** What a length, a fold, the pins and a cut take at the table. */
export function tableRatesPage(reader: Reader, units: Units, typed?: Typed) {
  const data = {
    requestKey: mintKey(),
    action: TABLE_RATES_PATH,
    backHref: ratesPath(),
    /** whether nobody has said yet what it takes here */
    isUsual: !readAtTable(reader).isOwn,
    fields: drawFields(tableFields(units), typed ?? textsOfTable(reader, units)),
  };
  return { view: 'setup/table-rates', data, title: 'At the cutting table', room: 'setup' } satisfies Page;
}

export const TABLE_RATES_PATH = '/setup/rates/table';

function textsOfTable(reader: Reader, units: Units): Typed {
  const kept = readKept(reader.first(tableRate())?.typed ?? '{}');
  if (kept?.system === units.system) return kept.texts;
  const at = readAtTable(reader);
  return {
    pull: String(at.pullSeconds),
    fold: String(at.foldSeconds),
    pin: String(at.pinSeconds),
    stroke: String(at.strokeSeconds),
    knife: writeLength(at.knifeTicksMin, units),
    allowance: showSize(at.foldAllowanceTicks, { ...units, stepTicks: 1 }, 'near'),
  };
}

export function changeTableRates(
  tx: Tx,
  form: z.output<ReturnType<typeof tableForm>>,
  units: Units,
  typed: Typed,
): Answer {
  const answer = {
    location: ratesPath(),
    said: 'What work at the cutting table takes is changed.',
  };
  const names = Object.keys(tableFields(units));
  const figures = {
    pull_seconds: form.pull.value,
    fold_seconds: form.fold.value,
    pin_seconds: form.pin.value,
    stroke_seconds: form.stroke.value,
    knife_ticks_min: form.knife.value,
    fold_allowance_ticks: form.allowance.value,
  };
  // The form opens with what is usual: saved so, it says nothing of what was timed here.
  const isUsual = Object.entries(USUAL_ROW).every(
    ([name, value]) => figures[name as keyof typeof figures] === value,
  );
  if (isUsual && !readAtTable(tx).isOwn) return answer;
  const values = {
    ...figures,
    typed: keepTyped(units, Object.fromEntries(names.map((name) => [name, (typed[name] ?? '').trim()]))),
  };
  tx.run(
    tx.db
      .insertInto('table_rate')
      .values({ id: 1, ...values })
      .onConflict((row) => row.column('id').doUpdateSet(values)),
  );
  return answer;
}

import { z } from 'zod';
import { type AmountsAsked, NOTHING_ASKED } from '../../../src/dye/batch-amounts.ts';
import { readLiquorRatio, readStockStrength, showLiquorRatio } from '../../../src/dye/bench-figures.ts';
import { FIBRE_CODES, readFibreNames } from '../../../src/dye/fibre.ts';
import { RECIPE_LIMITS } from '../../../src/dye/recipe.ts';
import { STRENGTH_LIMITS_BP } from '../../../src/dye/strength.ts';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { readMass } from '../../../src/quantity/mass.ts';
import type { Reading } from '../../../src/quantity/reading.ts';
import { readPercent } from '../../../src/quantity/whole.ts';
import type { Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { readStored } from '../../database/stored.ts';
import { optionalChoice } from '../../kit/choices.ts';
import { optionalLength, optionalReading, optionalWhole } from '../../kit/fields.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import type { Problem } from '../../refusal.ts';
import { numberedRows } from '../numbered-rows.ts';
import { partsField, weighedField } from '../quick/form.ts';
import { ALSO_ASKS } from '../recipe/form.ts';

/** The fields of a plan that say how its amounts are worked out. `strips` and `swatch` only help to tell what to send. */
export function amountFields(units: Units) {
  return {
    scale: optionalReading(readScale, {
      label: 'All of this cloth weighs',
      unit: 'g',
      hint: 'Used in place of length × width × mass per area.',
    }),
    basis: weighedField(),
    ratio: optionalReading(readBatchRatio, {
      label: 'Liquor ratio for this batch',
      hint: 'Blank: the recipe’s, more for sheer cloth.',
    }),
    strip: optionalLength(lengthUnit(units), {
      min: 1,
      max: MOST_LENGTH_TICKS,
      what: 'length of a strip',
      label: 'Cloth for one strip, after dyeing',
    }),
    strips: optionalWhole({
      min: 1,
      max: 10_000,
      label: 'Strips wanted',
    }),
    swatch: optionalLength(sizeUnit(units), {
      max: MOST_LENGTH_TICKS,
      label: 'Test swatch',
    }),
    also: optionalReading(readFibreNames, ALSO_ASKS),
    parts: partsField('5 5 4; blank for alike.'),
    stocks: numberedRows(
      { strength: optionalReading(readStockStrength, { filter: true }) },
      { min: 0, max: 40, what: 'stock solutions' },
    ),
    strengths: numberedRows(
      {
        strength: optionalReading(readStrength, { filter: true, label: 'Strength of the lot', unit: '%' }),
        how: optionalChoice(STRENGTH_HOW, 'how the strength was found', {
          label: 'How it was found',
          blank: 'not said',
        }),
      },
      { min: 0, max: 20, what: 'strengths' },
    ),
  };
}

type AmountForm = z.output<z.ZodObject<ReturnType<typeof amountFields>>>;

function readBatchRatio(typed: string): Reading<number> {
  const reading = readLiquorRatio(typed);
  return reading.ok && reading.value < RECIPE_LIMITS.lowestLiquorRatioMilli
    ? {
        ok: false,
        reason: `Less than ${showLiquorRatio(RECIPE_LIMITS.lowestLiquorRatioMilli)} does not cover the cloth: enter more water.`,
      }
    : reading;
}

const STRENGTH_HOW = [
  { value: 'typed', label: 'as the maker says' },
  { value: 'swatch', label: 'by swatches of both lots' },
] as const;

/** Of the lot that the recipe was made with, in hundredths of a percent: from a quarter to four times of it. */
function readStrength(typed: string): Reading<number> {
  const reading = readPercent(typed, { maxBp: 100_000 });
  return reading.ok && (reading.value < STRENGTH_LIMITS_BP.least || reading.value > STRENGTH_LIMITS_BP.most)
    ? { ok: false, reason: 'Give the strength from 25 % to 400 % of the recipe’s lot.' }
    : reading;
}

function readScale(typed: string): Reading<number> {
  const reading = readMass(typed, 'g');
  return reading.ok && reading.value === 0
    ? { ok: false, reason: 'The cloth must weigh something.' }
    : reading;
}

/** What a plan asks of its amounts; what is wrong with it goes to `problems`. */
export function amountsAsked(form: AmountForm, problems: Problem[]): AmountsAsked {
  if (form.basis === 'wet') {
    const message = 'Wet cloth weighs its water too: dry it and weigh it again, or leave the scale blank.';
    problems.push({ field: 'basis', message });
  } else if (form.scale !== null && form.basis === '') {
    problems.push({ field: 'basis', message: 'Say how the cloth was weighed.' });
  }
  const basis = form.basis === '' || form.basis === 'wet' ? null : form.basis;
  return {
    scaleMg: form.scale,
    basis: form.scale === null ? null : basis,
    stripTicks: form.strip?.value ?? null,
    ratioMilli: form.ratio,
    parts: form.parts ?? [],
    stocks: form.stocks.flatMap(({ place, strength }) =>
      strength === null ? [] : [{ line: place, mgPer100Ml: strength }],
    ),
    strengths: form.strengths.flatMap(({ place, strength, how }) =>
      strength === null || strength === 10_000
        ? []
        : [{ line: place, strengthBp: strength, how: how === '' ? 'typed' : how }],
    ),
    also: form.also ?? [],
  };
}

const PARTS = z.array(z.number());
const STOCKS = z.array(z.object({ line: z.number(), mgPer100Ml: z.number() }));
const STRENGTHS = z.array(
  z.object({ line: z.number(), strengthBp: z.number(), how: z.enum(['typed', 'swatch']) }),
);

const FIBRES = z.array(z.enum(FIBRE_CODES));

/** Keeps what was asked beside the batch; where nothing was, nothing is kept. */
export function keepAmounts(tx: Tx, batchId: number, asked: AmountsAsked): void {
  const { scaleMg, basis, stripTicks, ratioMilli, parts, stocks, strengths, also } = asked;
  const blank = [scaleMg, stripTicks, ratioMilli].every((figure) => figure === null);
  if (blank && [parts, stocks, strengths, also].every((list) => list.length === 0)) return;
  tx.run(
    tx.db.insertInto('batch_amount').values({
      batch_id: batchId,
      scale_mg: scaleMg,
      basis,
      strip_ticks: stripTicks,
      liquor_ratio_milli: ratioMilli,
      parts: JSON.stringify(PARTS.parse(parts)),
      stocks: JSON.stringify(STOCKS.parse(stocks)),
      strengths: JSON.stringify(STRENGTHS.parse(strengths)),
      also: JSON.stringify(FIBRES.parse(also)),
    }),
  );
}

const amountRow = prepared((db, batchId: Param<number>) =>
  db.selectFrom('batch_amount').selectAll().where('batch_id', '=', batchId),
);

/** What was asked of the amounts of a batch. */
export function readAmounts(reader: Reader, batchId: number): AmountsAsked {
  const row = reader.first(amountRow(batchId));
  if (!row) return NOTHING_ASKED;
  return {
    scaleMg: row.scale_mg,
    basis: row.basis,
    stripTicks: row.strip_ticks,
    ratioMilli: row.liquor_ratio_milli,
    parts: readStored(PARTS, row.parts),
    stocks: readStored(STOCKS, row.stocks),
    strengths: readStored(STRENGTHS, row.strengths),
    also: readStored(FIBRES, row.also),
  };
}

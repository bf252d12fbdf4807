import { z } from 'zod';
import { MAX_FORM_TICKS } from '../../../src/garment/form.ts';
import type { Tier } from '../../../src/garment/tiers.ts';
import { withExact } from '../../../src/quantity/fullness.ts';
import type { LengthUnit } from '../../../src/quantity/length.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { PricePerLength } from '../../../src/quantity/money.ts';
import { choiceField, fullnessField, lengthField, optionalLength, optionalMoney } from '../../kit/fields.ts';
import { unasked } from '../../kit/form-drawing.ts';
import { sizeUnit } from '../../kit/units.ts';
import { orProblems, type Problem, refuseAny } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { readForm } from '../../web/post.ts';
import { CLOSINGS } from '../tier/closings.ts';

const MOST_ALLOWANCE_TICKS = TICKS_PER.m;
const MOST_DEPTH_TICKS = 10 * TICKS_PER.m;
const UNITS = ['', 'mm', 'cm', 'm', 'in', 'ft', 'yd'] as const;
/** The one cloth and shade of a band without a garment. */
const ONLY = 1;

/** A gathered band that belongs to no garment, as it was asked for. */
export interface QuickBand {
  readonly tier: Tier;
  readonly baseTicks: number;
  readonly usableWidthTicks: number;
  /** Length to be bought beyond the strips. */
  readonly extraTicks: number;
  readonly price: PricePerLength | null;
  /** Where the depth was given. */
  readonly depthField: 'cut_depth' | 'depth';
}

/** The unit of a bare number: the one asked for, else the asker's, so that a kept address means the same to everyone. */
export function bareUnit(asked: string | undefined, units: Units): LengthUnit {
  return UNITS.find((unit): unit is LengthUnit => unit !== '' && unit === asked) ?? sizeUnit(units);
}

/** Reads the quick tier's form. @throws {Refusal} invalid, with every problem at its field */
export function readQuickBand(body: Readonly<Record<string, unknown>>, asker: Asker): QuickBand {
  const asked = typeof body.unit === 'string' ? body.unit : undefined;
  const form = readWhole(z.strictObject(quickBandFields(bareUnit(asked, asker.units), asker.currency)), body);
  const { cut_depth: cutDepth, strip_length: stripLength } = form;
  const allowance = (field: { readonly value: number } | null) =>
    cutDepth === null ? (field?.value ?? 0) : 0;
  const direction = form.direction === '' ? 'across' : form.direction;
  const tier: Tier = {
    tierId: ONLY,
    name: 'Band',
    hangs: { on: 'form', dropTicks: 0 },
    ratioTierId: null,
    closing: form.closing,
    ...withExact(form.fullness),
    seamTicks: form.seam?.value ?? 0,
    endTicks: form.end?.value ?? 0,
    direction,
    stripLengthTicks: stripLength?.value ?? null,
    blocks: [{ clothId: ONLY, shadeId: ONLY, lots: 'one', strips: 1 }],
    offsetStrips: 0,
    finishRepeat: false,
    depthTicks: cutDepth?.value ?? form.depth?.value ?? 0,
    headingTicks: allowance(form.heading),
    hangSeamTicks: allowance(form.hang_seam),
    hemTicks: allowance(form.hem),
  };
  return {
    tier,
    depthField: cutDepth === null ? 'depth' : 'cut_depth',
    baseTicks: form.base.value,
    // A strip length alone says as much as is needed: one strip to a drop.
    usableWidthTicks: form.usable_width?.value ?? stripLength?.value ?? 0,
    extraTicks: form.extra?.value ?? 0,
    price: form.price
      ? {
          minor: form.price.value,
          perTicks: TICKS_PER[form.price_per || (asker.units.system === 'metric' ? 'm' : 'yd')],
        }
      : null,
  };
}

/** What is asked of a band; an allowance is left blank for none. */
export function quickBandFields(unit: LengthUnit, currency: string) {
  const allowance = { max: MOST_ALLOWANCE_TICKS };
  const depth = { min: 1, max: MOST_DEPTH_TICKS };
  return {
    base: lengthField(unit, {
      max: MAX_FORM_TICKS,
      label: 'Finished length or girth',
    }),
    closing: choiceField(['ring', 'open'], 'ring or open', { label: 'Ring or open', options: CLOSINGS }),
    end: optionalLength(unit, {
      ...allowance,
      label: 'End allowance',
    }),
    fullness: fullnessField({ label: 'Fullness', unit: '×' }),
    usable_width: optionalLength(unit, {
      ...depth,
      label: 'Usable width of the cloth',
      hint: 'Less the selvedges.',
      filter: true,
    }),
    strip_length: optionalLength(unit, {
      min: 1,
      max: MAX_FORM_TICKS,
      label: 'Strip length',
      hint: 'Blank: the usable width.',
    }),
    seam: optionalLength(unit, { ...allowance, label: 'Seam allowance' }),
    cut_depth: optionalLength(unit, {
      ...depth,
      label: 'Cut depth',
      hint: 'Or the finished depth below.',
      filter: true,
    }),
    depth: optionalLength(unit, { ...depth, label: 'Finished depth' }),
    heading: optionalLength(unit, { ...allowance, label: 'Heading' }),
    hang_seam: optionalLength(unit, { ...allowance, label: 'Gathering seam allowance' }),
    hem: optionalLength(unit, { ...allowance, label: 'Hem allowance' }),
    direction: choiceField(['', 'across', 'along', 'either'], 'across, along or either', {
      label: 'The length of a strip lies',
      options: [
        { value: '', label: 'across the cloth' },
        { value: 'along', label: 'along the cloth' },
        { value: 'either', label: 'either way' },
      ],
    }),
    extra: optionalLength(unit, {
      max: MAX_FORM_TICKS,
      label: 'Extra cloth to add',
    }),
    price: optionalMoney(currency, { label: 'Price' }),
    price_per: choiceField(['', 'm', 'yd'], 'm or yd', {
      label: 'The price is for',
      options: [
        { value: 'm', label: 'a metre' },
        { value: 'yd', label: 'a yard' },
      ],
    }),
    unit: unasked(choiceField(UNITS, 'mm, cm, m, in, ft or yd')),
  };
}

/** Reads the form and what is missing of it together, so that all problems are told at once. */
function readWhole<T>(schema: z.ZodType<T>, body: Readonly<Record<string, unknown>>): T {
  const missing = missingOf(body);
  if (missing.length > 0) refuseAny([...orProblems(() => readForm(schema, body)).problems, ...missing]);
  return readForm(schema, body);
}

/** What a band needs, in one field or another. */
function missingOf(body: Readonly<Record<string, unknown>>): Problem[] {
  const given = (name: string) => typeof body[name] === 'string' && body[name].trim() !== '';
  const problems: Problem[] = [];
  if (!given('cut_depth') && !given('depth')) {
    problems.push({ field: 'cut_depth', message: 'Give the cut depth, or the finished depth.' });
  }
  if (given('cut_depth') && given('depth')) {
    problems.push({ field: 'depth', message: 'Give the cut depth or the finished depth, not both.' });
  }
  const across = body.direction !== 'along' && body.direction !== 'either';
  if (!given('usable_width') && !(given('strip_length') && across)) {
    problems.push({ field: 'usable_width', message: 'Give the usable width of the cloth.' });
  }
  return problems;
}

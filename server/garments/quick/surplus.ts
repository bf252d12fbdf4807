import { z } from 'zod';
import { lengthToPrepareTicks } from '../../../src/dye/bath.ts';
import { MAX_FORM_TICKS } from '../../../src/garment/form.ts';
import { perPleat, surplus } from '../../../src/garment/surplus.ts';
import { divideRounded, exactly, showDecimal } from '../../../src/quantity/figure-show.ts';
import { type LengthUnit, TICKS_PER } from '../../../src/quantity/length.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { optionalLength, optionalPercent, optionalWhole } from '../../kit/fields.ts';
import { drawFields, unasked } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems, type Problem, refuseAny } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { bareUnit } from './band-form.ts';

interface Answered {
  readonly what: string;
  readonly ticks: number;
  readonly answer: string;
  readonly how: string;
}

function surplusFields(unit: LengthUnit) {
  const length = { min: 1, max: MAX_FORM_TICKS, filter: true };
  return {
    flat: optionalLength(unit, { ...length, label: 'Flat length' }),
    finished: optionalLength(unit, { ...length, label: 'Finished length' }),
    kept: optionalLength(unit, {
      ...length,
      min: 0,
      label: 'Kept out of the pleats',
    }),
    pleats: optionalWhole({ min: 1, max: 1000, label: 'Pleats', filter: true }),
    need: optionalLength(unit, { ...length, label: 'Needed after it shrank' }),
    shrinkage: optionalPercent({ maxBp: 5000, label: 'Shrinkage', filter: true }),
    unit: unasked(z.string().optional()),
  };
}

const surplusForm = (unit: LengthUnit) => z.strictObject(surplusFields(unit));

type SurplusForm = z.output<ReturnType<typeof surplusForm>>;

/** Sums beside the gathered band: what is taken in, pleats, and cloth that shrinks. */
export function surplusPage(typed: Typed, { units }: Asker) {
  const unit = bareUnit(typed.unit, units);
  const { value: answers, problems } = orProblems(() => {
    const form = readForm(surplusForm(unit), typed);
    refuseAny(problemsOf(form));
    return answersOf(form, unit);
  });
  const data = {
    fields: drawFields(surplusFields(unit), typed),
    unit,
    /** An answer for each question that was filled in, with its sum. */
    answers: answers ?? [],
  };
  return {
    view: 'garments/quick/surplus',
    data,
    title: 'Spare length and pleats',
    room: 'garments',
    problems,
  } satisfies Page;
}

function problemsOf(form: SurplusForm): Problem[] {
  const { flat, finished, kept, pleats, need, shrinkage } = form;
  const problems: Problem[] = [];
  const together = (fields: Readonly<Record<string, unknown>>) => {
    const missing = Object.keys(fields).filter((name) => fields[name] === null);
    if (missing.length === Object.keys(fields).length) return;
    for (const field of missing) problems.push({ field, message: 'This belongs to it: fill it in too.' });
  };
  together({ flat, finished });
  together({ need, shrinkage });
  if (flat && finished && flat.value < finished.value)
    problems.push({ field: 'flat', message: 'Enter the finished length or more: pleats only shorten.' });
  else if (flat && finished && kept && kept.value > flat.value - finished.value)
    problems.push({ field: 'kept', message: 'This is more than is spare: enter less.' });
  if (pleats && !flat && !finished)
    problems.push({ field: 'flat', message: 'Pleats share what a flat length has over: give it too.' });
  return problems;
}

function answersOf(form: SurplusForm, unit: LengthUnit): Answered[] {
  const { flat, finished, kept, pleats, need, shrinkage } = form;
  const show = (ticks: number) => {
    const thousandths = divideRounded(exactly(ticks) * 1000n, exactly(TICKS_PER[unit]), 'near');
    return `${showDecimal(thousandths, 3)} ${unit}`;
  };
  const answers: Answered[] = [];
  const add = (what: string, ticks: number, how: string) =>
    answers.push({ what, ticks, answer: show(ticks), how });
  if (flat && finished) {
    const over = surplus(flat.value, finished.value);
    add('Spare length to take in', over, `${show(flat.value)} − ${show(finished.value)}`);
    if (pleats) {
      const each = perPleat(over, kept?.value ?? 0, pleats.value);
      const less = kept ? `(${show(over)} − ${show(kept.value)})` : show(over);
      add('Each pleat takes in', each, `${less} ÷ ${pleats.value}`);
    }
  }
  if (need && shrinkage) {
    const prepared = lengthToPrepareTicks(need.value, shrinkage.value);
    add('Length to prepare', prepared, `${show(need.value)} ÷ (1 − ${showPercent(shrinkage.value)})`);
  }
  return answers;
}

import { axesAt } from './axes.ts';
import type { Form, GirthPoint } from './girth.ts';
import { ellipsePerimeter } from './hoop.ts';

/** What is wrong with a form: `row` counts the girths from 0, null means the list as a whole. */
export interface FormProblem {
  readonly row: number | null;
  readonly field: 'girths' | 'drop' | 'girth';
  readonly message: string;
}

/** A girth smaller than the one above it: possible, but seldom meant. */
export interface FormWarning {
  readonly kind: 'narrows';
  readonly row: number;
  readonly fromGirthTicks: number;
  readonly toGirthTicks: number;
}

export type Girth =
  | { readonly ok: true; readonly girthTicks: number; readonly exact: boolean }
  | { readonly ok: false; readonly reason: string };

/** The largest girth, drop or depth taken: 100 m in ticks of 1/160 mm. */
export const MAX_FORM_TICKS = 16_000_000;

/** All that is wrong with a form, in the order of its girths; empty where nothing is. */
export function checkForm(form: Form): readonly FormProblem[] {
  const problems: FormProblem[] = [];
  if (form.girths.length < 2) {
    problems.push({
      row: null,
      field: 'girths',
      message: 'A form needs girths at two drops at least.',
    });
  }
  form.girths.forEach(({ dropTicks, girthTicks }, row) => {
    if (!Number.isSafeInteger(dropTicks) || dropTicks < 0 || dropTicks > MAX_FORM_TICKS) {
      problems.push({
        row,
        field: 'drop',
        message: 'A drop lies between 0 and 100 m.',
      });
    }
    if (!Number.isSafeInteger(girthTicks) || girthTicks <= 0 || girthTicks > MAX_FORM_TICKS) {
      problems.push({
        row,
        field: 'girth',
        message: 'A girth is more than 0 and at most 100 m.',
      });
    }
    const above = form.girths[row - 1];
    if (above !== undefined && dropTicks <= above.dropTicks) {
      problems.push({
        row,
        field: 'drop',
        message: 'Each drop must be lower than the one before it.',
      });
    }
  });
  return problems;
}

/** The girths that are smaller than the girth above them. */
export function warnForm(form: Form): readonly FormWarning[] {
  const warnings: FormWarning[] = [];
  form.girths.forEach(({ girthTicks }, row) => {
    const above = form.girths[row - 1];
    if (above !== undefined && girthTicks < above.girthTicks) {
      warnings.push({
        kind: 'narrows',
        row,
        fromGirthTicks: above.girthTicks,
        toGirthTicks: girthTicks,
      });
    }
  });
  return warnings;
}

/**
 * The girth of a form at a drop, in ticks.
 *
 * Between two given girths a straight form is taken as a round cone, whose girth grows evenly down the slant. Where
 * either was given as a hoop, or the form is domed, half the width and half the depth are found first (`axesAt`) and
 * the girth is their perimeter. The answer is rounded once, upwards to a whole tick, since a need rounds up; `exact`
 * says whether it had to be. A drop above the first girth or below the last is refused: nothing is known there.
 */
export function girthAt(form: Form, dropTicks: number): Girth {
  if (checkForm(form).length > 0) {
    return { ok: false, reason: 'The girths of the form are not complete: enter the missing ones.' };
  }
  if (!Number.isSafeInteger(dropTicks)) {
    return { ok: false, reason: 'A drop is a whole number of ticks.' };
  }
  const below = form.girths.findIndex((point) => point.dropTicks >= dropTicks);
  const lower = form.girths[below];
  if (lower === undefined) {
    return {
      ok: false,
      reason: 'This drop is below the lowest girth of the form: add a girth further down.',
    };
  }
  if (lower.dropTicks === dropTicks) {
    return { ok: true, girthTicks: lower.girthTicks, exact: true };
  }
  const upper = form.girths[below - 1];
  if (upper === undefined) {
    return {
      ok: false,
      reason: 'This drop is above the highest girth of the form: add a girth further up.',
    };
  }
  if (form.profile !== 'domed' && !upper.hoop && !lower.hoop) return between(upper, lower, dropTicks);
  const { a, b } = axesAt(form, dropTicks);
  return { ok: true, girthTicks: Math.ceil(ellipsePerimeter(a, b)), exact: false };
}

// The products of two lengths can pass the largest safe integer, so they are BigInt.
function between(upper: GirthPoint, lower: GirthPoint, dropTicks: number): Girth {
  const span = BigInt(lower.dropTicks - upper.dropTicks);
  const part =
    BigInt(upper.girthTicks) * BigInt(lower.dropTicks - dropTicks) +
    BigInt(lower.girthTicks) * BigInt(dropTicks - upper.dropTicks);
  const exact = part % span === 0n;
  return { ok: true, girthTicks: Number(part / span) + (exact ? 0 : 1), exact };
}

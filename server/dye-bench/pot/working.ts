import type { Reader } from '../../database/book.ts';
import { Refusal } from '../../refusal.ts';
import { type BathState, hasBegun } from './bath-state.ts';
import { readAtThePot } from './log-verbs.ts';
import { clockOf } from './step.ts';

/** A bath that was begun and is not through its steps. */
export interface Working {
  readonly number: number;
  /** "Bath 2 of D4 is still being worked: Hold 98 °C since 13:50, told by Tamsin." */
  readonly said: string;
}

/** The baths of a batch that are still being worked; none of a batch that has not started. */
export function readWorking(reader: Reader, code: string): Working[] {
  const { baths } = readStarted(reader, code);
  return baths.flatMap((state) => {
    const said = sayBathWorking(state, baths.length === 1 ? code : `Bath ${state.number} of ${code}`);
    return said === '' ? [] : [{ number: state.number, said }];
  });
}

function readStarted(reader: Reader, code: string): { readonly baths: readonly BathState[] } {
  try {
    return readAtThePot(reader, code);
  } catch (error) {
    if (error instanceof Refusal && error.kind === 'conflict') return { baths: [] };
    throw error;
  }
}

/** What a bath is at, since when and by whom; '' where it has not begun or is done. */
export function sayBathWorking(state: BathState, name: string): string {
  const { now } = state.clock;
  if (!hasBegun(state) || !now) return '';
  const last = state.rows.findLast(({ kind }) => kind === 'step');
  const since = now.actual ? ` since ${clockOf(now.actual.fromMs)}` : '';
  return `${name} is still being worked: ${now.step.title}${since}${last ? `, told by ${last.person}` : ''}.`;
}

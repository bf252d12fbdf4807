import { FASTNESS_TESTS } from '../../../src/dye/grey-scale.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { batchPath } from '../../kit/paths.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import { bathOf, insertLog, readAtThePot } from '../pot/log-verbs.ts';
import { type BatchCardForm, PH_POINTS } from './form.ts';

/**
 * Keeps what the card of a bath tells, all of it in one request, so that it is taken back as one.
 * @throws {Refusal} conflict before the start; invalid where nothing is filled in
 */
export function fillBatchCard(tx: Tx, code: string, form: BatchCardForm): Answer {
  const pot = readAtThePot(tx, code);
  const { number } = bathOf(pot, form.bath.value);
  if (number === 1 && form.difference_how !== '') {
    throw invalid('difference_how', 'The other baths are held against bath 1: leave this blank for bath 1.');
  }
  const rows = rowsOf(form);
  if (rows.length === 0) throw invalid('scoured', 'Fill in at least one line of the card.');
  for (const row of rows) insertLog(tx, pot.batch.id, { bath: number, ...row });
  return {
    location: batchCardPath(code, number),
    said: `The card of ${pot.baths.length === 1 ? code : `bath ${number} of ${code}`}: ${countOf(rows.length, 'line is', 'lines are')} filled in.`,
  };
}

export function batchCardPath(code: string, bath: number): string {
  return address(`${batchPath(code)}/card`, { bath });
}

type Row = Omit<Parameters<typeof insertLog>[2], 'bath'>;

function rowsOf(form: BatchCardForm): Row[] {
  const phs = { start: form.ph_start, middle: form.ph_middle, end: form.ph_end };
  const rows: Row[] = [];
  if (form.scoured !== null) rows.push({ kind: 'scoured', figure: form.scoured });
  if (form.topped_up !== null) rows.push({ kind: 'topped up', figure: form.topped_up });
  for (const point of PH_POINTS) {
    const tenths = phs[point];
    if (tenths !== null) rows.push({ kind: 'pH', what: point, figure: tenths * 10 });
  }
  if (form.bath_end !== '') rows.push({ kind: 'bath end', what: form.bath_end });
  const note = form.light_note;
  if (form.daylight !== '') rows.push({ kind: 'shade', what: `daylight: ${form.daylight}`, note });
  if (form.stage_light !== '') rows.push({ kind: 'shade', what: `stage light: ${form.stage_light}`, note });
  for (const { place, grade } of form.tests) {
    const what = FASTNESS_TESTS[place];
    if (grade !== '' && what) rows.push({ kind: 'fastness', what, figure: Number(grade) });
  }
  if (form.difference_how !== '' && form.difference !== null) {
    const figure = form.difference_how === 'eye' ? form.difference / 10 : form.difference;
    rows.push({ kind: 'difference', what: form.difference_how, figure });
  }
  return rows;
}

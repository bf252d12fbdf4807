import type { Answer, Reader, Tx } from '../database/book.ts';
import { BY_HAND, logByHand } from '../dye-bench/pot/by-hand.ts';
import { PH, STEP_DONE, TEMPERATURE } from '../dye-bench/pot/log-forms.ts';
import { finishStep, logReading, potPath, readAtThePot } from '../dye-bench/pot/log-verbs.ts';
import type { Quantity } from '../kit/fields.ts';
import { readForm } from '../web/post.ts';
import { ifReadable, type SentWork } from './sent.ts';

/** What was done at a pot. */
export interface BathWork {
  readonly batch: string;
  /** its bath, and how many the batch has */
  readonly bath: number;
  readonly baths: number;
  readonly location: string;
  /** Logs it for another bath of the batch. */
  inBath(tx: Tx, bath: Quantity): Answer;
}

const POT = /^\/dye-bench\/batches\/([^/]+)\/(?:logs\/(steps|temperatures|phs)|(by-hand))$/;

/** What was sent, where it was of a bath and can be read; null for anything else. */
export function readBathWork(reader: Reader, { path, body }: SentWork): BathWork | null {
  const [, named = '', log, byHand] = POT.exec(path) ?? [];
  const what = log ?? byHand;
  if (what === undefined) return null;
  const code = decodeURIComponent(named);
  return ifReadable((): BathWork => {
    const { baths } = readAtThePot(reader, code);
    const of = (bath: number) => ({ batch: code, bath, baths: baths.length, location: potPath(code, bath) });
    switch (what) {
      case 'steps': {
        const form = readForm(STEP_DONE, body);
        return { ...of(form.bath.value), inBath: (tx, bath) => finishStep(tx, code, { ...form, bath }) };
      }
      case 'by-hand': {
        const form = readForm(BY_HAND, body);
        return { ...of(form.bath.value), inBath: (tx, bath) => logByHand(tx, code, { ...form, bath }) };
      }
      case 'temperatures': {
        const form = readForm(TEMPERATURE, body);
        const reading = { kind: 'temperature', value: form.temperature } as const;
        return {
          ...of(form.bath.value),
          inBath: (tx, { value }) => logReading(tx, code, { ...reading, bath: value }),
        };
      }
      default: {
        const form = readForm(PH, body);
        const reading = { kind: 'pH', value: form.ph } as const;
        return {
          ...of(form.bath.value),
          inBath: (tx, { value }) => logReading(tx, code, { ...reading, bath: value }),
        };
      }
    }
  });
}

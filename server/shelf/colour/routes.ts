import multipart from '@fastify/multipart';
import type { FastifyInstance } from 'fastify';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import { type PartLimits, readMultipart, type SentFile } from '../../web/multipart.ts';
import {
  addReadings,
  MOST_LIST_LETTERS,
  READINGS_PATH,
  readingsForm,
  readingsFormPage,
} from './list-form.ts';

const LIST_LIMITS: PartLimits = {
  // A list that is a little too long is told at its field.
  fileSize: 4 * MOST_LIST_LETTERS,
  files: 1,
  fields: 20,
  fieldSize: 4 * MOST_LIST_LETTERS,
  mostBytes: 9 * MOST_LIST_LETTERS,
  tooLarge: 'This list is too long. Divide it, 500 readings at a time.',
};

/** Readings of lots, several at once. */
export function readingRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  app.register(multipart);
  showPage(READINGS_PATH, ({ typedInAddress }) => readingsFormPage(book, typedInAddress));
  takeForm(READINGS_PATH, async (asked) => {
    const { typed, files } = await readMultipart(asked.request, LIST_LIMITS);
    // What a file holds is as if it had been pasted, so that it is seen and mended where it is wrong.
    asked.request.body = files.file ? { ...typed, list: textOf(files.file) } : typed;
    return asked.save({
      schema: readingsForm(book, asked.typed.lot ?? ''),
      write: addReadings,
      redraw: (again) => readingsFormPage(book, again),
    });
  });
}

/** Spreadsheets write UTF-8 or, with a mark of byte order, UTF-16; what is neither shows as signs that stand for no letter. */
function textOf({ bytes }: SentFile): string {
  const isWide = bytes[0] === 0xff && bytes[1] === 0xfe;
  return new TextDecoder(isWide ? 'utf-16le' : 'utf-8').decode(bytes);
}

import type { PartLimits } from '../../web/multipart.ts';
import { MOST_FILE_MB } from './new-list.ts';

const MB = 1024 * 1024;
const MOST_PASTED_BYTES = 4 * MB;

/** What a list's form may bring. */
export const LIST_LIMITS: PartLimits = {
  fileSize: MOST_FILE_MB * MB,
  files: 1,
  fields: 10,
  fieldSize: MOST_PASTED_BYTES,
  mostBytes: MOST_FILE_MB * MB + MOST_PASTED_BYTES,
  tooLarge: `A list is at most ${MOST_FILE_MB} MB: save the one sheet as CSV, or divide it.`,
};

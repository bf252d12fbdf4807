import { dirname } from 'node:path';
import type { Book } from '../database/book.ts';
import { sayRestore } from '../database/restore.ts';
import type { BookTrouble } from '../database/trouble.ts';
import type { Page } from './page-frame.ts';

/** What is wrong with the book, and what to do, in the order in which it is done. */
export interface TroubleData {
  kind: BookTrouble['kind'];
  said: string;
  findings: readonly string[];
  steps: readonly string[];
}

export function troublePage(book: Book, { kind, said, findings }: BookTrouble): Page {
  const data: TroubleData = { kind, said, findings, steps: STEPS[kind](dirname(book.file)) };
  return { view: 'errors/trouble', data, title: 'Nothing is saved', room: null };
}

const STEPS: Record<BookTrouble['kind'], (folder: string) => readonly string[]> = {
  damaged: sayRestore,
  moved: (folder) => [
    'Download the whole workroom now, before Clothroom is stopped: all that was saved is in it.',
    'Stop Clothroom.',
    `Put the folder or the file back if it was only moved, and start Clothroom again: it takes its book from ${folder}.`,
    'Otherwise start with what you downloaded: npm start -- import FILE --data NEW, where NEW is a new folder.',
  ],
  disk: () => [
    'Stop Clothroom.',
    'See to the disk: its cable, its room, its own report of faults. Copy the whole data folder to another disk.',
    'Start Clothroom again: it looks through the book before it writes. Then send again what you sent last: if it was saved, it is not entered twice.',
  ],
};

import { Refusal } from '../refusal.ts';

/** Why a book takes no more work until it was opened again. */
export interface BookTrouble {
  readonly kind: 'damaged' | 'moved' | 'disk';
  /** for the top of every page */
  readonly said: string;
  /** what was found wrong in the book, a sentence each */
  readonly findings: readonly string[];
}

export function damaged(findings: readonly string[]): BookTrouble {
  return {
    kind: 'damaged',
    said: 'The book is damaged, so nothing more is written. Stop Clothroom, keep a copy of the folder as it is, and go back to the last good backup.',
    findings,
  };
}

export function moved(file: string): BookTrouble {
  return {
    kind: 'moved',
    said: `The book was moved, deleted or replaced while it was open, so nothing more is written: ${file} is not the file that was opened.`,
    findings: [],
  };
}

export const FAILED_DISK: BookTrouble = {
  kind: 'disk',
  said: 'The disk failed during an earlier write, so nothing more is written. Stop Clothroom, see to the disk, and start it again: it checks the book when it opens.',
  findings: [],
};

/** What a write answers while there is trouble. */
export function refusedFor({ said }: BookTrouble): Refusal {
  return new Refusal('not-saved', said, undefined, WAY_ON);
}

/** Leads to the page that says what is wrong and what to do. */
export const WAY_ON = { text: 'What to do', href: '/trouble' };

/** For the terminal: what was found first, and that the book is served all the same. */
export function sayTrouble({ findings }: BookTrouble, file: string): string {
  const [first = ''] = findings;
  return `${file} can only be read, and nothing is written to it: ${first} The pages say what to do; "check" tells all of it`;
}

import { Refusal } from '../refusal.ts';

interface Translated {
  readonly error: unknown;
  /** True where the commit's fate is unknown. */
  readonly doubtful: boolean;
}

/** Turns what the database driver throws into words for a person; everything else is passed on as it is. */
export function translateDriverError(error: unknown): Translated {
  const code = driverCode(error);
  if (code.startsWith('SQLITE_IOERR')) {
    return {
      doubtful: true,
      error: new Refusal(
        'not-saved',
        'The disk failed while this was being saved, and it is not known whether it was. Start Clothroom again and send the same form once more: if it was saved, it is not done twice.',
      ),
    };
  }
  if (code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB') {
    return {
      doubtful: true,
      error: new Refusal(
        'not-saved',
        'The book is damaged, so nothing more is written. Stop Clothroom, keep a copy of the folder as it is, and go back to the last good backup.',
      ),
    };
  }
  if (code === 'SQLITE_FULL') {
    return refusedBy('The disk is full. Nothing was saved: make room and send the form again.');
  }
  if (code.startsWith('SQLITE_READONLY')) {
    return refusedBy('The book cannot be written: its file or folder is read-only. Nothing was saved.');
  }
  if (code.startsWith('SQLITE_BUSY')) {
    return refusedBy('Another program is writing to the book. Nothing was saved: send the form again.');
  }
  return { error, doubtful: false };
}

function refusedBy(message: string): Translated {
  return { error: new Refusal('not-saved', message), doubtful: false };
}

/** The driver's own code of an error, such as SQLITE_BUSY; empty for any other error. */
export function driverCode(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}

import { Refusal } from '../refusal.ts';
import { type BookTrouble, damaged, FAILED_DISK, refusedFor, WAY_ON } from './trouble.ts';

interface Translated {
  readonly error: unknown;
  /** Where nothing more may be written: the commit's fate is unknown, or what is read cannot be trusted. */
  readonly trouble: BookTrouble | null;
}

/** Turns what the database driver throws into words for a person; everything else is passed on as it is. */
export function translateDriverError(error: unknown): Translated {
  const code = driverCode(error);
  if (code.startsWith('SQLITE_IOERR')) {
    return {
      trouble: FAILED_DISK,
      error: new Refusal(
        'not-saved',
        'The disk failed while this was being saved, and it is not known whether it was. Start Clothroom again and send the same form once more: if it was saved, it is not done twice.',
        undefined,
        WAY_ON,
      ),
    };
  }
  if (isDamage(error)) {
    const trouble = damaged([`A page of the file could not be read: ${(error as Error).message}.`]);
    return { trouble, error: refusedFor(trouble) };
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
  return { error, trouble: null };
}

function refusedBy(message: string): Translated {
  return { error: new Refusal('not-saved', message), trouble: null };
}

/** True where the file itself is at fault: a page of it is not what it should be. */
export function isDamage(error: unknown): boolean {
  const code = driverCode(error);
  return code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB';
}

/** The driver's own code of an error, such as SQLITE_BUSY; empty for any other error. */
export function driverCode(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}

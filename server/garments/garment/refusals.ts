import type { Tx } from '../../database/book.ts';
import { cuttingPath, garmentPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { conflict } from '../../refusal.ts';
import { readCutStrips, readHeldStretches } from './done.ts';
import type { Garment } from './records.ts';

type Changed = Pick<Garment, 'version' | 'changedAt' | 'changedBy'>;

/** A form that was drawn before somebody else's change must not overwrite it. A script may send no version. */
export function refuseOlderVersion(now: Changed, name: string, drawn: number | null, href: string): void {
  if (drawn === null || drawn === now.version) return;
  const who = now.changedBy === null ? '' : ` by ${now.changedBy}`;
  const when = now.changedAt === null ? '' : `, ${showMoment(now.changedAt)}`;
  throw conflict(
    `${name} was changed${who}${when}, after this form was opened. What you typed is still here; open the form again to see what it is now.`,
    { text: `${name} as it is now`, href },
  );
}

export function refuseFinished(garment: Garment): void {
  if (garment.finishedAt === null) return;
  throw conflict(`${garment.code} was finished ${showMoment(garment.finishedAt)}: reopen it first.`, {
    text: `${garment.name}, ${garment.code}`,
    href: garmentPath(garment.code),
  });
}

/** What is held or cut for a tier or a part keeps it in its garment. */
export function refuseRowInUse(
  tx: Tx,
  code: string,
  { id, name }: { readonly id: number; readonly name: string },
): void {
  const wayOn = { text: `Cutting table for ${name}`, href: cuttingPath(code, id) };
  const held = readHeldStretches(tx, [id]);
  if (held.length > 0) {
    const pieces = held.map(({ pieceCode }) => pieceCode).join(', ');
    throw conflict(`Cloth is held for ${name}: ${pieces}. Release it first.`, wayOn);
  }
  const strips = readCutStrips(tx, [id]).reduce((sum, { count }) => sum + count, 0);
  if (strips > 0) {
    throw conflict(
      `${countOf(strips, 'strip is', 'strips are')} cut for ${name} already, so it stays. Undo the cuts first if they were not meant.`,
      wayOn,
    );
  }
}

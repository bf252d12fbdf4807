import { garmentPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { conflict } from '../../refusal.ts';
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

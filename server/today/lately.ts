import { type Reader, readAnswer } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { mintKey } from '../kit/request-key.ts';
import { showMoment } from '../kit/when.ts';
import { whichCanUndo } from '../ledger/undo.ts';
import type { Asker } from '../web/house.ts';

const MOST = 8;

/** One form that made entries: what it said it did, and whether it can be undone now. */
export type DoneLately = ReturnType<typeof shapeDone>;

/** What was done lately, the newest first. The entries of a request stand together, so each step skips one request. */
export function readLately(reader: Reader, asker: Asker): DoneLately[] {
  const lately: Last[] = [];
  for (let before: number | null = Number.MAX_SAFE_INTEGER; before !== null && lately.length < MOST; ) {
    const last = readEntryBefore(reader, before);
    if (last) lately.push(last);
    before = last?.firstEntryId ?? null;
  }
  const undoable = whichCanUndo(
    reader,
    lately.map(({ key }) => key),
    asker,
  );
  return lately.map((last) => shapeDone(last, undoable));
}

type Last = NonNullable<ReturnType<typeof readEntryBefore>>;

const entryBefore = prepared((db, beforeEntryId: Param<number>) =>
  db
    // The one entry is found before anything is joined to it: the whole ledger would be joined and sorted else.
    .selectFrom((of) =>
      of
        .selectFrom('entry')
        .select(['id', 'request_key'])
        .where('id', '<', beforeEntryId)
        .orderBy('id', 'desc')
        .limit(1)
        .as('last'),
    )
    .innerJoin('request', 'request.key', 'last.request_key')
    .innerJoin('person', 'person.id', 'request.person_id')
    .leftJoin('entry as undoing', 'undoing.reverses_id', 'last.id')
    .leftJoin('person as undoer', 'undoer.id', 'undoing.person_id')
    .select(['request.key', 'request.at', 'request.answer', 'person.name'])
    .select(['undoing.at as undoneAt', 'undoer.name as undoneBy'])
    .select((of) =>
      of
        .selectFrom('entry as own')
        .select((own) => own.fn.min('own.id').as('id'))
        .whereRef('own.request_key', '=', 'last.request_key')
        .as('firstEntryId'),
    ),
);

function readEntryBefore(reader: Reader, beforeEntryId: number) {
  return reader.first(entryBefore(beforeEntryId));
}

function shapeDone(last: Last, undoable: ReadonlySet<string>) {
  const answer = readAnswer(last.answer);
  return {
    at: last.at,
    when: showMoment(last.at),
    who: last.name,
    said: answer.said,
    href: answer.location,
    requestKey: last.key,
    canUndo: undoable.has(last.key),
    /** who undid it and when, else '' */
    undone: last.undoneAt === null ? '' : `undone by ${last.undoneBy ?? ''}, ${showMoment(last.undoneAt)}`,
    /** fresh key for the Undo form */
    undoKey: mintKey(),
  };
}

import type { Reader } from '../database/book.ts';
import { address } from '../kit/address.ts';
import { showMoment } from '../kit/when.ts';
import type { Page } from '../web/page-frame.ts';
import { listPath } from './in/runner.ts';
import { readList, readRows } from './in/store.ts';
import { FIELD_NAMES, LIST_STATE_WORDS } from './in/words.ts';
import { LISTS_OUT } from './out/kinds.ts';

export interface ListsPageData {
  readonly came: readonly {
    readonly name: string;
    readonly href: string;
    readonly when: string;
    readonly who: string;
    readonly state: string;
  }[];
  readonly out: readonly {
    readonly name: string;
    readonly what: string;
    readonly csv: string;
    readonly json: string;
  }[];
}

/** Lists that came in, the last first, and every list that goes out. */
export function listsPage(reader: Reader): Page {
  const rows = reader.all(
    reader.db
      .selectFrom('list_in')
      .innerJoin('person', 'person.id', 'list_in.person_id')
      .select(['list_in.id', 'list_in.name', 'list_in.at', 'list_in.state', 'person.name as who'])
      .orderBy('list_in.id', 'desc')
      .limit(30),
  );
  const data: ListsPageData = {
    came: rows.map((row) => ({
      name: row.name,
      href: listPath(row.id),
      when: showMoment(row.at),
      who: row.who,
      state: LIST_STATE_WORDS[row.state],
    })),
    out: LISTS_OUT.map(({ name, what }) => ({
      name,
      what,
      csv: address(`/setup/lists/out/${name}.csv`, {}),
      json: address(`/setup/lists/out/${name}.json`, {}),
    })),
  };
  return { view: 'lists/lists', data, title: 'Lists in and out', room: 'setup' };
}

/** The rows that cannot come in, as they were, each with the reasons, to be mended and handed in again. */
export function* leftOut(reader: Reader, listId: number): Generator<readonly string[]> {
  const list = readList(reader, listId);
  yield [...list.heading, 'Left out because'];
  for (let after = 0; ; ) {
    const rows = readRows(reader, listId, { after, most: 500, which: 'wrong' });
    for (const { cells, problems } of rows) {
      const reasons = problems.map(({ field, message }) =>
        field === '' ? message : `${FIELD_NAMES[field]}: ${message}`,
      );
      yield [...list.heading.map((_, at) => cells[at] ?? ''), reasons.join(' ')];
    }
    const last = rows.at(-1);
    if (!last) return;
    after = last.number;
  }
}

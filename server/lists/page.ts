import type { Reader } from '../database/book.ts';
import { address } from '../kit/address.ts';
import { showMoment } from '../kit/when.ts';
import type { Page } from '../web/page-frame.ts';
import { listPath } from './in/runner.ts';
import { LIST_STATE_WORDS } from './in/words.ts';
import { LISTS_OUT } from './out/kinds.ts';

/** Lists that came in, the last first, and every list that goes out. */
export function listsPage(reader: Reader) {
  const rows = reader.all(
    reader.db
      .selectFrom('list_in')
      .innerJoin('person', 'person.id', 'list_in.person_id')
      .select(['list_in.id', 'list_in.name', 'list_in.at', 'list_in.state', 'person.name as who'])
      .orderBy('list_in.id', 'desc')
      .limit(30),
  );
  const data = {
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
  return { view: 'lists/lists', data, title: 'Lists in and out', room: 'setup' } satisfies Page;
}

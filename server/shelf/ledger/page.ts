import type { EntryKind } from '../../../src/ledger/entries.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared, preparedByShape, type ShapeOf } from '../../database/statements.ts';
import { address, queryNumber, queryText } from '../../kit/address.ts';
import { type Choice, withBlank } from '../../kit/choices.ts';
import { PAGE_ROWS } from '../../kit/paging.ts';
import { KIND_WORDS } from '../../ledger/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { selectEntries, shapeEntries } from './entries.ts';

/**
 * A filtered page looks through so many entries and then offers to go on, so that it costs the same whether what
 * is looked for is rare or not, and however long the ledger has become.
 */
const LOOKED_THROUGH = 20_000;

/** The whole ledger, newest first, by kind and person where asked. */
export function ledgerPage(reader: Reader, query: unknown, asker: Asker, lookedThrough = LOOKED_THROUGH) {
  const people = peopleChoices(reader);
  const kind = KINDS.find((one) => one === queryText(query, 'kind')) ?? null;
  const person = people.find(({ value }) => value === queryText(query, 'person'))?.value ?? '';
  const before = queryNumber(query, 'before');
  const found = findEntries(reader, {
    kind,
    personId: person === '' ? null : Number(person),
    before,
    lookedThrough,
  });
  const rows = found.ids.length === 0 ? [] : readEntries(reader, found.ids);
  const asked = { kind: kind ?? '', person };
  const data = {
    asked,
    kinds: withBlank(
      KINDS.map((one) => ({ value: one, label: KIND_WORDS[one] })),
      'any kind',
    ),
    people: withBlank(people, 'anybody'),
    entries: shapeEntries(reader, rows, asker),
    /** the page of older entries; null at the beginning of the ledger */
    older: found.next === null ? null : address('/shelf/ledger', { ...asked, before: found.next }),
    /** back to the newest; null where they are shown */
    newest: before === null ? null : address('/shelf/ledger', asked),
    /** true where the page ends because it has looked far enough, not because it is full */
    stopped: found.stopped,
  };
  return { view: 'shelf/ledger/ledger', data, title: 'Ledger', room: 'shelf' } satisfies Page;
}

const KINDS = Object.keys(KIND_WORDS) as EntryKind[];

const peopleByName = prepared((db) => db.selectFrom('person').select(['id', 'name']).orderBy('name'));

function peopleChoices(reader: Reader): Choice[] {
  const rows = reader.all(peopleByName());
  return rows.map((row) => ({ value: String(row.id), label: row.name }));
}

interface Wanted {
  readonly kind: EntryKind | null;
  readonly personId: number | null;
  readonly before: number | null;
  readonly lookedThrough: number;
}

type Looked = ShapeOf<
  Pick<Wanted, 'kind' | 'personId'> & { readonly before: number; readonly floor: number }
>;

const entriesLooked = preparedByShape((db, { kind, personId, before, floor }: Looked) =>
  db
    .selectFrom('entry')
    .select('id')
    .where('id', '<', before)
    .where('id', '>=', floor)
    .$if(kind !== null, (of) => of.where('kind', '=', kind))
    .$if(personId !== null, (of) => of.where('person_id', '=', personId))
    .orderBy('id', 'desc')
    .limit(PAGE_ROWS + 1),
);

function findEntries(reader: Reader, wanted: Wanted) {
  const before = wanted.before ?? Number.MAX_SAFE_INTEGER;
  const floor = Math.min(before, newestId(reader) + 1) - wanted.lookedThrough;
  const { kind, personId } = wanted;
  const ids = reader.all(entriesLooked({ kind, personId, before, floor })).map(({ id }) => id);
  const here = ids.slice(0, PAGE_ROWS);
  const full = ids.length > PAGE_ROWS;
  const stopped = !full && floor > 1;
  return { ids: here, next: full ? (here.at(-1) ?? null) : stopped ? floor : null, stopped };
}

const newestEntry = prepared((db) => db.selectFrom('entry').select('id').orderBy('id', 'desc').limit(1));

function newestId(reader: Reader): number {
  return reader.first(newestEntry())?.id ?? 0;
}

const entriesOf = prepared((db, ids: Param<readonly number[]>) =>
  selectEntries(db).where('entry.id', 'in', inList(ids)).orderBy('entry.id', 'desc'),
);

function readEntries(reader: Reader, ids: readonly number[]) {
  return reader.all(entriesOf(ids));
}

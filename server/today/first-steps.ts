import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { garmentPath } from '../kit/paths.ts';
import { readWorkroom, UNNAMED } from '../kit/workroom.ts';

/** One step of the road from an empty book to strips cut. */
export type FirstStep = ReturnType<typeof readFirstSteps>[number];

const lastGarment = prepared((db) => db.selectFrom('garment').select('code').orderBy('id', 'desc').limit(1));

/** The road in order; each step is done once the book holds what it leads to. */
export function readFirstSteps(reader: Reader) {
  const garment = reader.first(lastGarment());
  const got = holds(reader, 'order') || holds(reader, 'batch') || hasEntry(reader, 'held');
  return [
    {
      text: 'Name the workroom and who works here',
      why: 'Every entry says who made it, and each person reads lengths in their own units.',
      href: '/setup',
      done: readWorkroom(reader).name !== UNNAMED,
    },
    {
      text: 'Receive what lies on the shelf',
      why: 'Each bolt and remnant as measured. Its supplier, cloth and shade are described on the same page.',
      href: '/shelf/receive',
      done: holds(reader, 'piece'),
    },
    {
      text: 'Describe a garment',
      why: 'What it hangs over: girths by drop from the waist.',
      href: '/garments/new',
      done: garment !== undefined,
    },
    {
      text: 'Give it tiers',
      why: 'Cloth, depth, fullness and colour blocks: the strips are counted from them.',
      href: garment ? garmentPath(garment.code) : '/garments',
      done: holds(reader, 'tier'),
    },
    {
      text: 'See what is short, and order, dye or hold it',
      why: 'Counted in strips that fit into single pieces, one lot to a shade.',
      href: '/short',
      done: got,
    },
    {
      text: 'Cut the strips',
      why: 'Tick them off at the table; what is left goes back on the shelf or is written off.',
      href: '/cutting-table',
      done: hasEntry(reader, 'cut'),
    },
  ];
}

const anyOf = (table: 'piece' | 'tier' | 'order' | 'batch') =>
  prepared((db) => db.selectFrom(table).select('id').limit(1));
const ANY = {
  piece: anyOf('piece'),
  tier: anyOf('tier'),
  order: anyOf('order'),
  batch: anyOf('batch'),
};

function holds(reader: Reader, table: keyof typeof ANY): boolean {
  return reader.first(ANY[table]()) !== undefined;
}

// Both kinds are for a tier, by which the ledger is indexed.
const entryOfKind = prepared((db, kind: Param<'held' | 'cut'>) =>
  db.selectFrom('entry').select('id').where('tier_id', 'is not', null).where('kind', '=', kind).limit(1),
);

function hasEntry(reader: Reader, kind: 'held' | 'cut'): boolean {
  return reader.first(entryOfKind(kind)) !== undefined;
}

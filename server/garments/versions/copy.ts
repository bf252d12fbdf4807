import { z } from 'zod';
import { type Answer, nextId, type Tx } from '../../database/book.ts';
import { textField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { copyPath, garmentPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { countOf } from '../../kit/words.ts';
import type { Page } from '../../web/page-frame.ts';
import { countTiers } from '../garment/names.ts';
import { type Garment, readGarment } from '../garment/records.ts';
import { tiersIn, workGarment } from '../garment/worked.ts';
import { copyParts } from '../parts/kept-verbs.ts';
import { keepRows } from '../parts/row.ts';
import { keepSize } from '../tier/store.ts';
import { keepVersion } from './queries.ts';

const MOST_NAME = 120;

/** The form of a copy: its name; the code is given. */
export const COPY = z.strictObject({
  name: textField({ max: MOST_NAME, label: 'Name of the copy', what: 'The name' }),
});

/** The form that duplicates a garment. */
export function copyPage(garment: Garment, typed: Typed | null) {
  const tiers = countTiers(tiersIn(garment));
  const kept = garment.parts.filter(({ takenOutAt }) => takenOutAt === null).length;
  const parts = countOf(kept, 'part', 'parts');
  const name = `${garment.name}, copy`.slice(0, MOST_NAME);
  const data = {
    requestKey: mintKey(),
    action: copyPath(garment.code),
    garment: { code: garment.code, name: garment.name, href: garmentPath(garment.code) },
    fields: drawFields(COPY.shape, typed ?? { name }),
    what: `The copy has the form with its opening, ${tiers} and their colour blocks, ${parts}, and a code of its own. It is due on no day, and nothing is held or cut for it.`,
  };
  return {
    view: 'garments/versions/copy',
    data,
    title: `Duplicate ${garment.name}`,
    room: 'garments',
  } satisfies Page;
}

/**
 * A garment once more, under a name and a code of its own: form, tiers, colour blocks and parts, those taken out left out.
 * It is due on no day, and nothing is held or cut for it.
 */
export function copyGarment(tx: Tx, code: string, form: z.output<typeof COPY>): Answer {
  const from = readGarment(tx, code);
  const copied = `G${nextId(tx, 'garment')}`;
  const row = tx.first(tx.db.selectFrom('garment').selectAll().where('id', '=', from.id));
  if (!row) throw new Error('a garment that was read has a row');
  const { id: _, ...figures } = row;
  const changed = { version: 1, changed_at: tx.at, changed_by_id: tx.personId };
  const { lastId: garmentId } = tx.run(
    tx.db
      .insertInto('garment')
      .values({ ...figures, ...changed, code: copied, name: form.name, due_on: null, finished_at: null }),
  );
  copyGirths(tx, from.id, garmentId);
  const tierIds = copyTiers(tx, from.id, garmentId, changed);
  copyBlocks(tx, tierIds);
  copyParts(tx, from.id, garmentId);
  keepRows(tx, copied);
  keepSizes(tx, copied);
  return keepVersion(tx, copied, {
    location: garmentPath(copied),
    said: `${from.name}, ${code}, was copied as ${form.name}, ${copied}. No day is set for it, and nothing is held for it.`,
  });
}

function copyGirths(tx: Tx, fromId: number, garmentId: number): void {
  for (const girth of tx.all(tx.db.selectFrom('girth').selectAll().where('garment_id', '=', fromId))) {
    tx.run(tx.db.insertInto('girth').values({ ...girth, garment_id: garmentId }));
  }
}

/** Copies the tiers that are in; what one says of another it says of that one's copy. Gives old numbers by new. */
function copyTiers(
  tx: Tx,
  fromId: number,
  garmentId: number,
  changed: { version: number; changed_at: string; changed_by_id: number },
): Map<number, number> {
  const tiers = tx.all(
    tx.db
      .selectFrom('tier')
      .selectAll()
      .where('garment_id', '=', fromId)
      .where('garment_part_id', 'is', null)
      .where('taken_out_at', 'is', null)
      .orderBy('position'),
  );
  const copies = new Map<number, number>();
  let left = tiers;
  // A tier comes after those that it refers to: their copies have to be there first.
  while (left.length > 0) {
    const isReady = (id: number | null) => id === null || copies.has(id);
    const ready = left.filter((tier) =>
      [tier.on_tier_id, tier.ratio_tier_id, tier.level_tier_id].every(isReady),
    );
    if (ready.length === 0) throw new Error('the tiers of the book hang together');
    for (const { id, ...tier } of ready) {
      const copy = {
        ...tier,
        ...changed,
        garment_id: garmentId,
        on_tier_id: copyOf(tier.on_tier_id, copies),
        ratio_tier_id: copyOf(tier.ratio_tier_id, copies),
        level_tier_id: copyOf(tier.level_tier_id, copies),
      };
      copies.set(id, tx.run(tx.db.insertInto('tier').values(copy)).lastId);
    }
    left = left.filter(({ id }) => !copies.has(id));
  }
  return copies;
}

function copyOf(id: number | null, copies: ReadonlyMap<number, number>): number | null {
  return id === null ? null : (copies.get(id) ?? null);
}

function copyBlocks(tx: Tx, copies: ReadonlyMap<number, number>): void {
  for (const [id, copy] of copies) {
    for (const block of tx.all(tx.db.selectFrom('colour_block').selectAll().where('tier_id', '=', id))) {
      tx.run(tx.db.insertInto('colour_block').values({ ...block, tier_id: copy }));
    }
    const thread = tx.first(tx.db.selectFrom('tier_thread').selectAll().where('tier_id', '=', id));
    if (thread) tx.run(tx.db.insertInto('tier_thread').values({ ...thread, tier_id: copy }));
  }
}

/** Keeps the sizes of strip that the copy asks for from now on, like those of any tier that is put in. */
function keepSizes(tx: Tx, code: string): void {
  for (const tier of workGarment(tx, code).tiers) keepSize(tx, tier.tierId, tier);
}

import type { Reader, Tx } from '../database/book.ts';
import { inList, insertInto, type Param, prepared } from '../database/statements.ts';
import type { SupplyEntryKind } from '../database/supply-tables.ts';
import { grouped } from '../kit/grouped.ts';
import { supplyPath } from '../kit/paths.ts';
import { showMoment } from '../kit/when.ts';
import { conflict, type Refusal } from '../refusal.ts';

/** One entry of a supply: signed amount and cost of one lot. */
export interface SupplyDraft {
  readonly lotId: number;
  readonly kind: SupplyEntryKind;
  readonly amount: number;
  readonly costMinor: number;
  readonly why?: string;
  readonly typed?: string;
  readonly garmentId?: number | null;
  readonly batchLogId?: number | null;
  /** how much more, or less, of the lot is promised to the garment */
  readonly held?: number;
  /** the delivery and the line of its order, where it came by one */
  readonly receiptId?: number | undefined;
  readonly orderLineId?: number | undefined;
  readonly reversesId?: number;
  /** of a length that was cut off another and kept: the count that took it off */
  readonly splitOfId?: number;
}

const newSupplyEntry = insertInto('supply_entry');

/** Puts one entry at the end of the ledger of supplies; the file's triggers move the balance or refuse. Gives its number. */
export function postSupply(tx: Tx, draft: SupplyDraft): number {
  const { lastId } = tx.run(
    newSupplyEntry({
      supply_lot_id: draft.lotId,
      kind: draft.kind,
      amount: draft.amount,
      held: draft.held ?? 0,
      cost_minor: draft.costMinor,
      at: tx.at,
      person_id: tx.personId,
      why: draft.why ?? '',
      typed: draft.typed ?? '',
      request_key: tx.requestKey,
      garment_id: draft.garmentId ?? null,
      batch_log_id: draft.batchLogId ?? null,
      receipt_id: draft.receiptId ?? null,
      order_line_id: draft.orderLineId ?? null,
      reverses_id: draft.reversesId ?? null,
      split_of_id: draft.splitOfId ?? null,
    }),
  );
  return lastId;
}

type Entry = ReturnType<typeof readEntries>[number];

const supplyEntriesOf = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
    .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
    .leftJoin('supply_entry as undone', 'undone.reverses_id', 'supply_entry.id')
    .leftJoin('person', 'person.id', 'undone.person_id')
    .selectAll('supply_entry')
    .select(['supply_lot.on_hand', 'supply_lot.held as lot_held', 'supply.name as supply'])
    .select('supply_lot.cost_minor as lot_cost_minor')
    .select(['supply.id as supply_id', 'undone.at as undoneAt', 'person.name as undoneBy'])
    .where('supply_entry.request_key', 'in', inList(keys))
    .where('supply_entry.kind', '<>', 'reversed')
    .orderBy('supply_entry.id', 'desc'),
);

function readEntries(reader: Reader, keys: readonly string[]) {
  return keys.length === 0 ? [] : reader.all(supplyEntriesOf(keys));
}

/**
 * Which of these requests entered supplies that may be taken back. What was weighed at the pot is taken back there, with
 * its step.
 */
export function whichSuppliesCanUndo(reader: Reader, requestKeys: readonly string[]): string[] {
  const requests = grouped(readEntries(reader, requestKeys), ({ request_key: key }) => key);
  return [...requests].filter(([, entries]) => whyNot(reader, entries) === null).map(([key]) => key);
}

/** Which of these requests entered supplies that stand in the way of an undo; what was weighed at the pot goes with its batch. */
export function whichSuppliesForbid(reader: Reader, requestKeys: readonly string[]): string[] {
  const own = readEntries(reader, requestKeys).filter(({ batch_log_id: log }) => log === null);
  const requests = grouped(own, ({ request_key: key }) => key);
  return [...requests].filter(([, entries]) => whyNot(reader, entries) !== null).map(([key]) => key);
}

/** Takes back supplies that came with cloth, or were entered beside it; what was weighed at the pot goes with its batch. */
export function undoSuppliesBeside(tx: Tx, requestKey: string): void {
  const entries = readEntries(tx, [requestKey]).filter(({ batch_log_id: log }) => log === null);
  const obstacle = whyNot(tx, entries);
  if (obstacle) throw obstacle;
  for (const entry of entries) reverseSupply(tx, entry);
}

/**
 * Takes back what a request entered of supplies, each by its exact opposite. False where it entered none.
 * @throws {Refusal} conflict where it was undone already, or later work depends on it
 */
export function undoSupplies(tx: Tx, requestKey: string): boolean {
  const entries = readEntries(tx, [requestKey]);
  if (entries.length === 0) return false;
  const obstacle = whyNot(tx, entries);
  if (obstacle) throw obstacle;
  for (const entry of entries) reverseSupply(tx, entry);
  return true;
}

/** Enters the exact opposite of an entry. */
export function reverseSupply(
  tx: Tx,
  entry: Pick<
    Entry,
    'id' | 'supply_lot_id' | 'amount' | 'held' | 'cost_minor' | 'garment_id' | 'batch_log_id'
  >,
): void {
  postSupply(tx, {
    lotId: entry.supply_lot_id,
    kind: 'reversed',
    // Never a negative nought: it would be kept as one.
    amount: 0 - entry.amount,
    held: 0 - entry.held,
    costMinor: 0 - entry.cost_minor,
    garmentId: entry.garment_id,
    batchLogId: entry.batch_log_id,
    reversesId: entry.id,
  });
}

const LATER_WORDS: Partial<Record<SupplyEntryKind, string>> = {
  counted: 'counted',
  held: 'held',
  released: 'released',
};

/** What stands in the way of undoing the entries of one request; null where nothing does. */
function whyNot(reader: Reader, entries: readonly Entry[]): Refusal | null {
  const undone = entries.find(({ undoneAt }) => undoneAt !== null);
  if (undone) {
    return conflict(`This was undone already by ${undone.undoneBy}, ${showMoment(undone.undoneAt ?? '')}.`);
  }
  if (entries.some(({ batch_log_id: log }) => log !== null)) {
    return conflict('This was weighed at the pot: take its step back there.');
  }
  for (const entry of entries) {
    const later = readLater(reader, entry);
    if (!later) continue;
    const did = LATER_WORDS[later.kind] ?? 'used';
    return conflict(
      `This cannot be undone: ${entry.supply} was ${did} since by ${later.person}, ${showMoment(later.at)}. Undo that first.`,
      { text: entry.supply, href: supplyPath(entry.supply_id) },
    );
  }
  return null;
}

const supplyEntriesAfter = prepared((db, lotId: Param<number>, id: Param<number>, key: Param<string>) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('person', 'person.id', 'supply_entry.person_id')
    .select(['supply_entry.kind', 'supply_entry.at', 'supply_entry.held', 'supply_entry.garment_id'])
    .select('person.name as person')
    .where('supply_entry.supply_lot_id', '=', lotId)
    .where('supply_entry.id', '>', id)
    .where('supply_entry.request_key', '<>', key)
    .where('supply_entry.kind', '<>', 'reversed')
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('supply_entry as undone')
            .select('undone.id')
            .whereRef('undone.reverses_id', '=', 'supply_entry.id'),
        ),
      ),
    )
    .orderBy('supply_entry.id'),
);

type Later = ReturnType<typeof readSince>[number];

function readSince(reader: Reader, entry: Entry) {
  return reader.all(supplyEntriesAfter(entry.supply_lot_id, entry.id, entry.request_key));
}

/** Later work that leans on an entry: on what came or was counted more, all that was done since; on any other a count. */
function readLater(reader: Reader, entry: Entry) {
  const since = readSince(reader, entry);
  if (entry.amount === 0) return readLaterHold(reader, entry, since);
  const counted = since.find(({ kind }) => kind === 'counted');
  if (counted || entry.amount < 0) return counted;
  const left = entry.on_hand - entry.amount;
  const stands = left >= entry.lot_held && (left > 0 || entry.lot_cost_minor === entry.cost_minor);
  return entry.kind === 'received' || !stands ? since[0] : undefined;
}

const heldOfLot = prepared((db, lotId: Param<number>, garmentId: Param<number>) =>
  db
    .selectFrom('supply_hold')
    .select('held')
    .where('supply_lot_id', '=', lotId)
    .where('garment_id', '=', garmentId),
);

/** On a hold leans what was used or released of it since; on a release, what was taken of the lot. */
function readLaterHold(reader: Reader, entry: Entry, since: readonly Later[]) {
  if (entry.held < 0) return entry.on_hand - entry.lot_held >= -entry.held ? undefined : since[0];
  const now = reader.first(heldOfLot(entry.supply_lot_id, entry.garment_id ?? 0))?.held ?? 0;
  if (now >= entry.held) return undefined;
  return since.find(({ held, garment_id: id }) => held < 0 && id === entry.garment_id);
}

const supplyEntriesOfLog = prepared((db, logIds: Param<readonly number[]>) =>
  db
    .selectFrom('supply_entry')
    .select('request_key')
    .where('batch_log_id', 'in', inList(logIds))
    .where('kind', '=', 'used')
    .groupBy('request_key'),
);

/**
 * Gives back what was weighed by rows of the log of a pot, each entry by its exact opposite. What was counted since stays
 * as it was counted: those supplies are named.
 */
export function giveBackWeighed(tx: Tx, logIds: readonly number[]): string[] {
  if (logIds.length === 0) return [];
  const keys = tx.all(supplyEntriesOfLog(logIds)).map(({ request_key: key }) => key);
  const weighed = readEntries(tx, keys).filter(
    ({ batch_log_id: log, undoneAt }) => log !== null && logIds.includes(log) && undoneAt === null,
  );
  const stays = new Set<string>();
  for (const entry of weighed) {
    if (readLater(tx, entry)) stays.add(entry.supply);
    else reverseSupply(tx, entry);
  }
  return [...stays];
}

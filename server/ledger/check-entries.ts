import type { Findings } from './findings.ts';
import { inForceText } from './standing.ts';

/** Entries that no row that stands alone can vouch for: their numbers, their requests, their other halves. */
export function findUnevenEntries(findings: Findings): void {
  findGaps(findings);
  findLooseEntries(findings);
  findFalseReversals(findings);
  findBrokenSplits(findings);
  findHalfUndone(findings);
}

/** Entries are numbered without a gap, up to the last number that was given. */
function findGaps(findings: Findings): void {
  const [row] = findings.read<{ count: number; last: number }>(
    `SELECT count(*) AS count, max(coalesce(max(id), 0),
       coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'entry'), 0)) AS last
     FROM entry`,
  );
  if (row && row.count !== row.last) {
    findings.add(`Entries are missing: the last is number ${row.last}, and there are ${row.count}.`);
  }
}

function findLooseEntries(findings: Findings): void {
  findings.collect<{ key: string; first: number; count: number }>(
    `SELECT entered.request_key AS key, entered.first, entered.count
     FROM (SELECT request_key, min(id) AS first, count(*) AS count FROM entry GROUP BY request_key) AS entered
     WHERE NOT EXISTS (SELECT 1 FROM request WHERE request.key = entered.request_key)`,
    ({ key, first, count }) =>
      `Entry ${first}${count > 1 ? ` and ${count - 1} more` : ''} came from the request ${key}, which is not in the book.`,
  );
}

function findFalseReversals(findings: Findings): void {
  findings.collect<{ id: number; reversesId: number }>(
    `SELECT entry.id, entry.reverses_id AS reversesId
     FROM entry LEFT JOIN entry AS undone ON undone.id = entry.reverses_id
     WHERE entry.reverses_id IS NOT NULL AND NOT coalesce(
       undone.kind <> 'reversed' AND undone.piece_id = entry.piece_id AND undone.tier_id IS entry.tier_id
       AND undone.other_use_id IS entry.other_use_id AND undone.bath IS entry.bath
       AND undone.length_ticks = -entry.length_ticks AND undone.held_ticks = -entry.held_ticks
       AND undone.cost_minor = -entry.cost_minor, 0)`,
    ({ id, reversesId }) =>
      `Entry ${id} is not the exact opposite of entry ${reversesId}, which it reverses.`,
  );
}

/** What a split takes off is what the new piece gets, and what joins the shelf came off a piece of its lot. */
function findBrokenSplits(findings: Findings): void {
  findings.collect<{ id: number; code: string }>(
    `SELECT off.id, piece.code
     FROM entry AS off JOIN piece ON piece.id = off.piece_id LEFT JOIN entry AS made ON made.id = off.pair_id
     WHERE off.pair_id IS NOT NULL AND off.kind = 'split-off' AND NOT coalesce(
       made.kind = 'joined' AND made.pair_id = off.id AND made.length_ticks = -off.length_ticks
       AND made.held_ticks = -off.held_ticks AND made.cost_minor = -off.cost_minor, 0)`,
    ({ id, code }) => `Entry ${id} splits ${code}, and no new piece got just that length and cost.`,
  );
  findings.collect<{ id: number; code: string }>(
    `SELECT made.id, piece.code
     FROM entry AS made JOIN piece ON piece.id = made.piece_id LEFT JOIN entry AS off ON off.id = made.pair_id
     LEFT JOIN piece AS whole ON whole.id = off.piece_id
     WHERE made.pair_id IS NOT NULL AND made.kind = 'joined' AND NOT coalesce(
       whole.lot_id = piece.lot_id AND whole.id <> piece.id AND (
         off.kind = 'split-off' AND off.pair_id = made.id
         OR off.kind = 'cut' AND made.length_ticks <= (
           SELECT -sum(along.length_ticks) FROM entry AS along
           WHERE along.request_key = off.request_key AND along.piece_id = off.piece_id AND along.kind = 'cut')), 0)`,
    ({ id, code }) => `Entry ${id} brings ${code} to the shelf, and it came off no piece of its lot.`,
  );
}

/** A split, and a cut with what was kept of it, are undone as one. */
function findHalfUndone(findings: Findings): void {
  findings.collect<{ offId: number; madeId: number; code: string; offUndone: number }>(
    `SELECT off.id AS offId, made.id AS madeId, piece.code, back_off.id IS NOT NULL AS offUndone
     FROM entry AS made JOIN entry AS off ON off.id = made.pair_id JOIN piece ON piece.id = made.piece_id
     LEFT JOIN entry AS back_made ON back_made.reverses_id = made.id
     LEFT JOIN entry AS back_off ON back_off.reverses_id = off.id
     WHERE made.pair_id IS NOT NULL AND made.kind = 'joined' AND (
       off.kind = 'split-off' AND (back_made.id IS NULL) <> (back_off.id IS NULL)
       OR off.kind = 'cut' AND back_made.id IS NULL AND back_off.id IS NOT NULL)`,
    ({ offId, madeId, code, offUndone }) =>
      `Of the entries ${offId} and ${madeId}, which made ${code}, only ${offUndone === 1 ? offId : madeId} was undone.`,
  );
}

/** A length that comes back from dyeing is one that was sent, whole and once; so a batch's lengths agree. */
export function findUnevenBatches(findings: Findings): void {
  findings.collect<{ id: number; code: string }>(
    `SELECT back.id, piece.code
     FROM entry AS back JOIN piece ON piece.id = back.piece_id LEFT JOIN entry AS sent ON sent.id = back.pair_id
     WHERE back.pair_id IS NOT NULL AND back.kind = 'back-from-dye'
       AND ${inForceText('back')}
       AND NOT coalesce(
         sent.kind = 'sent-to-dye' AND sent.batch_id = back.batch_id AND sent.bath IS back.bath
         AND ${inForceText('sent')}
         AND NOT EXISTS (
           SELECT 1 FROM entry AS other WHERE other.pair_id = sent.id AND other.id < back.id
             AND ${inForceText('other')}), 0)`,
    ({ id, code }) =>
      `Entry ${id} brings ${code} back from dyeing, and no length was sent that it alone can be.`,
  );
  findings.collect<{ code: string; sentTicks: number; backTicks: number }>(
    `SELECT batch.code, -sum(sent.length_ticks) AS sentTicks, sum(back.length_ticks) AS backTicks
     FROM entry AS sent JOIN entry AS back ON back.pair_id = sent.id JOIN batch ON batch.id = sent.batch_id
     WHERE back.pair_id IS NOT NULL AND sent.kind = 'sent-to-dye' AND back.kind = 'back-from-dye'
       AND ${inForceText('back')}
     GROUP BY batch.id HAVING sum(sent.length_ticks) + sum(back.length_ticks) <> 0`,
    ({ code, sentTicks, backTicks }) =>
      `Of batch ${code}, ${findings.length(sentTicks)} was sent and ${findings.length(backTicks)} came back before shrinkage.`,
  );
}

/** A bath is a lot of its own, and lots are joined by a judgement that is in force, to one that is joined to none. */
export function findUnevenLots(findings: Findings): void {
  findings.collect<{ id: number; code: string }>(
    `SELECT back.id, lot.code
     FROM entry AS back JOIN piece ON piece.id = back.piece_id JOIN lot ON lot.id = piece.lot_id
     WHERE back.kind = 'back-from-dye' AND lot.bath IS NOT back.bath`,
    ({ id, code }) => `Entry ${id} came back from another bath than that of its lot ${code}.`,
  );
  findings.collect<{ code: string }>(
    `SELECT lot.code FROM lot
     WHERE lot.joined_to_id IS NOT (
       SELECT lot_join.to_id FROM lot_join WHERE lot_join.lot_id = lot.id AND lot_join.undone_key IS NULL)
       OR lot.joined_to_id IN (SELECT other.id FROM lot AS other WHERE other.joined_to_id IS NOT NULL)`,
    ({ code }) => `Lot ${code} is joined to another, and no judgement in force says so.`,
  );
}

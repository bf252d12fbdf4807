import type { Findings } from './findings.ts';
import { inForceText } from './standing.ts';

/** Where cost came from and where it went, over the whole book, in minor units. */
export interface CostAccounts {
  /** paid for what was received */
  readonly received: number;
  /** added by dyeing: what came back carries more than what was sent */
  readonly added: number;
  /** on the pieces of the shelf */
  readonly left: number;
  /** cut for tiers and other uses, less what the remnants kept of the cuts carry */
  readonly cut: number;
  readonly writtenOff: number;
  readonly returned: number;
  /** gone with pieces that were counted as nothing */
  readonly recounted: number;
  /** sent to dye and not back */
  readonly inPot: number;
}

/**
 * Cost is conserved to the last minor unit over the whole book:
 *
 *   received + added = left + cut + written off + returned + recounted + in the pot
 *
 * `left` is read from the pieces and all else from the entries, each reversal counted against the kind that it
 * reverses. Splits are on neither side: the identity holds only where what each took off is what its other
 * half brought. Shrinkage, holds and releases carry no cost.
 */
export function findUnevenCosts(findings: Findings): void {
  const accounts = readCostAccounts(findings);
  const off = outOfBalance(accounts);
  if (off === 0) return;
  const money = (minor: number) => findings.money(minor);
  findings.add(
    `The costs do not add up: ${money(accounts.received)} was paid and ${money(accounts.added)} added by dyeing, but ${money(accounts.left)} is left on pieces, ${money(accounts.cut)} was cut, ${money(accounts.writtenOff)} written off, ${money(accounts.returned)} returned, ${money(accounts.recounted)} counted away and ${money(accounts.inPot)} is in the pot: a difference of ${money(off)}.`,
  );
}

/** What came in less all that it went to; nothing where the identity holds. */
export function outOfBalance(accounts: CostAccounts): number {
  const { received, added, left, cut, writtenOff, returned, recounted, inPot } = accounts;
  return received + added - left - cut - writtenOff - returned - recounted - inPot;
}

/** Adds up the whole ledger by where its cost went. */
export function readCostAccounts(findings: Pick<Findings, 'read'>): CostAccounts {
  const [accounts] = findings.read<CostAccounts>(
    `WITH moved AS (
       SELECT kind, sum(cost_minor) AS cost FROM entry WHERE kind <> 'reversed' GROUP BY kind
       UNION ALL
       SELECT undone.kind, sum(entry.cost_minor)
       FROM entry JOIN entry AS undone ON undone.id = entry.reverses_id
       WHERE entry.reverses_id IS NOT NULL GROUP BY undone.kind),
     kept AS (
       SELECT coalesce(sum(made.cost_minor), 0) AS cost
       FROM entry AS made JOIN entry AS off ON off.id = made.pair_id
       WHERE made.pair_id IS NOT NULL AND made.kind = 'joined' AND off.kind = 'cut'
         AND ${inForceText('made')}),
     back AS (
       SELECT pair_id, cost_minor FROM entry AS back
       WHERE pair_id IS NOT NULL AND kind = 'back-from-dye'
         AND ${inForceText('back')}),
     dyed AS (
       SELECT coalesce(sum(CASE WHEN back.pair_id IS NULL THEN -sent.cost_minor END), 0) AS inPot,
         coalesce(sum(back.cost_minor + sent.cost_minor), 0) AS added
       FROM entry AS sent LEFT JOIN back ON back.pair_id = sent.id
       WHERE sent.batch_id IS NOT NULL AND sent.kind = 'sent-to-dye'
         AND ${inForceText('sent')})
     SELECT coalesce(sum(cost) FILTER (WHERE kind = 'received'), 0) AS received,
       (SELECT added FROM dyed) AS added,
       (SELECT coalesce(sum(cost_minor), 0) FROM piece) AS "left",
       -coalesce(sum(cost) FILTER (WHERE kind = 'cut'), 0) - (SELECT cost FROM kept) AS cut,
       -coalesce(sum(cost) FILTER (WHERE kind = 'written-off'), 0) AS writtenOff,
       -coalesce(sum(cost) FILTER (WHERE kind = 'returned'), 0) AS returned,
       -coalesce(sum(cost) FILTER (WHERE kind = 'recounted'), 0) AS recounted,
       (SELECT inPot FROM dyed) AS inPot
     FROM moved`,
  );
  if (!accounts) throw new Error('the cost accounts have no row');
  return accounts;
}

import type { Findings } from './findings.ts';
import { type OtherUseFacts, sayOtherUse } from './other-use.ts';

interface UnevenBalance {
  readonly code: string;
  readonly onHandTicks: number;
  readonly heldTicks: number;
  readonly costMinor: number;
  readonly lengthSum: number;
  readonly heldSum: number;
  readonly costSum: number;
}

/** Adds up every entry by its piece, in one pass over the index that covers it, and compares. */
export function findUnevenBalances(findings: Findings): void {
  findings.collect<UnevenBalance>(
    `SELECT piece.code, piece.on_hand_ticks AS onHandTicks, piece.held_ticks AS heldTicks,
       piece.cost_minor AS costMinor, coalesce(summed.length, 0) AS lengthSum,
       coalesce(summed.held, 0) AS heldSum, coalesce(summed.cost, 0) AS costSum
     FROM piece LEFT JOIN (
       SELECT piece_id, sum(length_ticks) AS length, sum(held_ticks) AS held, sum(cost_minor) AS cost
       FROM entry GROUP BY piece_id) AS summed ON summed.piece_id = piece.id
     WHERE piece.on_hand_ticks <> coalesce(summed.length, 0)
       OR piece.held_ticks <> coalesce(summed.held, 0) OR piece.cost_minor <> coalesce(summed.cost, 0)`,
    (row) => `${row.code} ${tellDifferences(row, findings).join(', and ')}.`,
  );
}

function tellDifferences(row: UnevenBalance, findings: Findings): string[] {
  const told: string[] = [];
  const { length, money } = bound(findings);
  if (row.onHandTicks !== row.lengthSum) {
    told.push(
      `shows ${length(row.onHandTicks)} on hand where its entries add up to ${length(row.lengthSum)}`,
    );
  }
  if (row.heldTicks !== row.heldSum) {
    told.push(`shows ${length(row.heldTicks)} held where its entries add up to ${length(row.heldSum)}`);
  }
  if (row.costMinor !== row.costSum) {
    told.push(`shows a cost of ${money(row.costMinor)} where its entries add up to ${money(row.costSum)}`);
  }
  return told;
}

/** Adds up what is held of every piece for every tier and other use, and compares both ways. */
export function findUnevenHolds(findings: Findings): void {
  type Uneven = { code: string; tier: string | null; heldTicks: number; heldSum: number };
  findings.collect<Uneven & OtherUseFacts>(
    `WITH summed AS (
       SELECT piece_id, tier_id, other_use_id, sum(held_ticks) AS held FROM entry WHERE held_ticks <> 0
       GROUP BY piece_id, tier_id, other_use_id),
     uneven AS (
       SELECT summed.piece_id, summed.tier_id, summed.other_use_id, coalesce(hold.held_ticks, 0) AS heldTicks,
         summed.held AS heldSum
       FROM summed LEFT JOIN hold ON hold.piece_id = summed.piece_id
         AND hold.tier_id IS summed.tier_id AND hold.other_use_id IS summed.other_use_id
       WHERE summed.held <> coalesce(hold.held_ticks, 0)
       UNION ALL
       SELECT piece_id, tier_id, other_use_id, held_ticks, 0 FROM hold
       WHERE NOT EXISTS (
         SELECT 1 FROM entry WHERE entry.piece_id = hold.piece_id AND entry.tier_id IS hold.tier_id
           AND entry.other_use_id IS hold.other_use_id AND entry.held_ticks <> 0))
     SELECT coalesce(piece.code, 'A piece') AS code, heldTicks, heldSum,
       tier.name || ' of ' || garment.code AS tier, other_use.kind AS useKind, other_use.note AS useNote,
       use_garment.code AS useGarmentCode, use_garment.name AS useGarmentName
     FROM uneven LEFT JOIN piece ON piece.id = uneven.piece_id LEFT JOIN tier ON tier.id = uneven.tier_id
     LEFT JOIN garment ON garment.id = tier.garment_id
     LEFT JOIN other_use ON other_use.id = uneven.other_use_id
     LEFT JOIN garment AS use_garment ON use_garment.id = other_use.garment_id`,
    ({ code, tier, heldTicks, heldSum, ...use }) =>
      `${code} shows ${findings.length(heldTicks)} held for ${tier ?? (sayOtherUse(use) || 'a tier or another use')} where its entries add up to ${findings.length(heldSum)}.`,
  );
}

function bound(findings: Findings) {
  return {
    length: (ticks: number) => findings.length(ticks),
    money: (minor: number) => findings.money(minor),
  };
}

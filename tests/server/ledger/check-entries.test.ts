import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBalances, checkBook } from '../../../server/ledger/check.ts';
import { discard, makeWorkedBook, tamperWith } from './worked-book.ts';

// The entries of the worked book: 1 to 3 received, 4 and 5 held and released, 6 cut with 7 kept of it, 8 and 9
// a split, 10 written off, 11 returned, 12 held, 13 counted as nothing, 14 sent with 15 and 16 back and shrunk,
// 17 in the pot, 18 sent with 19 back, 20 and 21 a split undone by 22 and 23, 24 a cut undone by 25.

/** Makes the balances agree again, so that only what the entries say among themselves is wrong. */
const AGREEING = `DELETE FROM hold;
INSERT INTO hold SELECT piece_id, tier_id, other_use_id, sum(held_ticks) FROM entry WHERE held_ticks <> 0
  GROUP BY piece_id, tier_id, other_use_id HAVING sum(held_ticks) <> 0;
UPDATE piece SET
  on_hand_ticks = (SELECT coalesce(sum(length_ticks), 0) FROM entry WHERE piece_id = piece.id),
  held_ticks = (SELECT coalesce(sum(held_ticks), 0) FROM entry WHERE piece_id = piece.id),
  cost_minor = (SELECT coalesce(sum(cost_minor), 0) FROM entry WHERE piece_id = piece.id)`;

let folder: string;
beforeAll(async () => {
  folder = await makeWorkedBook();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function findingsAfter(...statements: string[]): Promise<string[]> {
  const book = await tamperWith(folder, [...statements, AGREEING]);
  const { findings } = checkBook(book);
  expect(checkBalances(book)).toEqual([]);
  discard(book);
  return findings;
}

describe('an entry that is missing', () => {
  it('leaves a gap', async () => {
    expect(await findingsAfter('DELETE FROM entry WHERE id = 10')).toEqual([
      'Entries are missing: the last is number 25, and there are 24.',
    ]);
  });

  it('is missed at the end too', async () => {
    const findings = await findingsAfter('DELETE FROM entry WHERE id = 25');
    expect(findings).toContain('Entries are missing: the last is number 25, and there are 24.');
  });
});

describe('an entry that came from nowhere', () => {
  it('is told by its request', async () => {
    expect(
      await findingsAfter("UPDATE entry SET request_key = 'no-such-request' WHERE id IN (10, 11)"),
    ).toContain('Entry 10 and 1 more came from the request no-such-request, which is not in the book.');
  });

  it('is told by what it points to', async () => {
    expect(await findingsAfter('UPDATE entry SET receipt_id = 99 WHERE id IN (1, 2, 3)')).toEqual([
      'Row 1 of entry points to a receipt that is not in the book. So do 2 more.',
    ]);
    expect(await findingsAfter('UPDATE entry SET order_line_id = 99 WHERE id = 1')).toEqual([
      'Row 1 of entry points to an order line that is not in the book.',
    ]);
    expect(
      await findingsAfter(
        'UPDATE request SET person_id = 99 WHERE key IN (SELECT request_key FROM entry WHERE id IN (10, 11))',
      ),
    ).toContain('A row of request points to a person that is not in the book. So does 1 more.');
  });
});

describe('a reversal', () => {
  it('that is not the opposite of its entry is told', async () => {
    expect(await findingsAfter('UPDATE entry SET length_ticks = length_ticks + 1 WHERE id = 25')).toContain(
      'Entry 25 is not the exact opposite of entry 24, which it reverses.',
    );
    expect(await findingsAfter('UPDATE entry SET reverses_id = 23 WHERE id = 25')).toContain(
      'Entry 25 is not the exact opposite of entry 23, which it reverses.',
    );
  });
});

describe('a split', () => {
  it('that did not bring what it took is told, by length and by cost', async () => {
    expect(await findingsAfter('UPDATE entry SET length_ticks = length_ticks + 1 WHERE id = 9')).toEqual([
      'Entry 8 splits B1, and no new piece got just that length and cost.',
    ]);
    expect(
      await findingsAfter(
        'UPDATE entry SET cost_minor = cost_minor + 3, length_ticks = length_ticks + 1 WHERE id = 9',
      ),
    ).toEqual([
      'Entry 8 splits B1, and no new piece got just that length and cost.',
      'The costs do not add up: €124.00 was paid and €2.00 added by dyeing, but €86.03 is left on pieces, €15.00 was cut, €5.00 written off, €5.00 returned, €10.00 counted away and €5.00 is in the pot: a difference of −€0.03.',
    ]);
  });

  it('whose new piece is of another lot is told', async () => {
    const findings = await findingsAfter(
      "UPDATE piece SET lot_id = (SELECT lot_id FROM piece WHERE code = 'B7') WHERE code IN ('R4', 'R5')",
    );
    expect(findings).toEqual([
      'Entry 7 brings R4 to the shelf, and it came off no piece of its lot.',
      'Entry 9 brings R5 to the shelf, and it came off no piece of its lot.',
    ]);
  });

  it('of which one half is undone is told', async () => {
    const undoneHalf = (gone: number) => [
      `UPDATE entry SET kind = 'recounted', reverses_id = NULL, pair_id = NULL, cost_minor = 0 WHERE id = ${gone}`,
    ];
    expect(await findingsAfter(...undoneHalf(22))).toContain(
      'Of the entries 20 and 21, which made R8, only 20 was undone.',
    );
    expect(await findingsAfter(...undoneHalf(23))).toContain(
      'Of the entries 20 and 21, which made R8, only 21 was undone.',
    );
  });
});

describe('a cut', () => {
  it('that is undone while its remnant stands is told', async () => {
    const undone = `UPDATE entry SET reverses_id = 6, length_ticks = 480000, held_ticks = 320000, cost_minor = 3000
      WHERE id = 25`;
    expect(await findingsAfter(undone)).toContain(
      'Of the entries 6 and 7, which made R4, only 6 was undone.',
    );
  });
});

describe('a length that came back from dye', () => {
  it('is told where it was not sent', async () => {
    expect(await findingsAfter('UPDATE entry SET pair_id = 10 WHERE id = 15')).toContain(
      'Entry 15 brings B6 back from dyeing, and no length was sent that it alone can be.',
    );
  });

  it('is told where it came back before', async () => {
    expect(await findingsAfter('UPDATE entry SET pair_id = 14 WHERE id = 19')).toContain(
      'Entry 19 brings B7 back from dyeing, and no length was sent that it alone can be.',
    );
  });

  it('is told where it is of another batch', async () => {
    const other = `INSERT INTO batch (code, recipe_id, vessel_id, planned_at, person_id)
      SELECT 'D99', recipe_id, vessel_id, planned_at, person_id FROM batch`;
    expect(
      await findingsAfter(
        other,
        "UPDATE entry SET batch_id = (SELECT id FROM batch WHERE code = 'D99') WHERE id = 15",
      ),
    ).toEqual(['Entry 15 brings B6 back from dyeing, and no length was sent that it alone can be.']);
  });

  it('is added up by batch', async () => {
    const [finding, ...more] = await findingsAfter(
      'UPDATE entry SET length_ticks = length_ticks + 1600 WHERE id = 15',
    );
    expect(finding).toMatch(/^Of batch D\d+, 3 m was sent and 3\.01 m came back before shrinkage\.$/);
    expect(more).toEqual([]);
  });
});

import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBalances, checkBook } from '../../../server/ledger/check.ts';
import { type CostAccounts, outOfBalance, readCostAccounts } from '../../../server/ledger/check-costs.ts';
import { Findings } from '../../../server/ledger/findings.ts';
import { discard, makeWorkedBook, tamperWith } from './worked-book.ts';

let folder: string;
beforeAll(async () => {
  folder = await makeWorkedBook();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What the checks say of the worked book after these statements. */
async function findingsAfter(...statements: string[]): Promise<string[]> {
  const book = await tamperWith(folder, statements);
  const { findings } = checkBook(book);
  discard(book);
  return findings;
}

describe('a book that agrees', () => {
  it('has no findings, and tells how much was read', async () => {
    const book = await tamperWith(folder, []);
    const { findings, read } = checkBook(book);
    expect(findings).toEqual([]);
    expect(read).toEqual({ pieces: 8, entries: 25, holds: 1, requests: 18 });
    expect(checkBalances(book)).toEqual([]);
    discard(book);
  });

  it('accounts for its costs to the last minor unit', async () => {
    const book = await tamperWith(folder, []);
    const accounts = readCostAccounts(new Findings(book));
    const worked: CostAccounts = {
      received: 12_400,
      added: 200,
      left: 5_000 + 1_500 + 500 + 1_000 + 600,
      cut: 1_500,
      writtenOff: 500,
      returned: 500,
      recounted: 1_000,
      inPot: 500,
    };
    expect(accounts).toEqual(worked);
    expect(outOfBalance(accounts)).toBe(0);
    for (const name of Object.keys(worked)) expect(outOfBalance({ ...worked, [name]: 0 })).not.toBe(0);
    discard(book);
  });

  it('is proved in one pass over the index that covers it', async () => {
    const book = await tamperWith(folder, []);
    const asked: string[] = [];
    const { connection } = book;
    const prepare = connection.prepare.bind(connection);
    connection.prepare = ((sql: string) => {
      asked.push(sql);
      return prepare(sql);
    }) as typeof connection.prepare;
    expect(checkBalances(book)).toEqual([]);
    const plans = asked
      .filter((sql) => sql.includes('FROM entry'))
      .map((sql) =>
        (prepare(`EXPLAIN QUERY PLAN ${sql}`).all() as { detail: string }[])
          .map(({ detail }) => detail)
          .join('\n'),
      );
    expect(plans).toHaveLength(2);
    expect(plans[0]).toMatch(/SCAN entry USING COVERING INDEX entry_by_piece/);
    expect(plans[1]).toMatch(/SCAN entry USING COVERING INDEX entry_by_hold/);
    for (const plan of plans) expect(plan).not.toMatch(/SCAN entry$/m);
    discard(book);
  });
});

describe('a balance that was written by hand', () => {
  it('is told with what its entries add up to', async () => {
    expect(
      await findingsAfter("UPDATE piece SET on_hand_ticks = on_hand_ticks + 160000 WHERE code = 'B1'"),
    ).toEqual(['B1 shows 6 m on hand where its entries add up to 5 m.']);
    expect(
      await findingsAfter(
        "UPDATE piece SET on_hand_ticks = on_hand_ticks + 1, cost_minor = 1 WHERE code = 'B1'",
      ),
    ).toEqual([
      'B1 shows ≈ 5 m (800001 ticks) on hand where its entries add up to 5 m, and shows a cost of €0.01 where its entries add up to €50.00.',
      'The costs do not add up: €124.00 was paid and €2.00 added by dyeing, but €36.01 is left on pieces, €15.00 was cut, €5.00 written off, €5.00 returned, €10.00 counted away and €5.00 is in the pot: a difference of €49.99.',
    ]);
    expect(await findingsAfter("UPDATE piece SET held_ticks = 160000 WHERE code = 'B1'")).toEqual([
      'B1 shows 1 m held where its entries add up to 2 m.',
    ]);
  });

  it('is found at every start', async () => {
    const book = await tamperWith(folder, ["UPDATE piece SET held_ticks = 160000 WHERE code = 'B1'"]);
    expect(checkBalances(book)).toEqual(['B1 shows 1 m held where its entries add up to 2 m.']);
    discard(book);
  });

  it('below nothing is damage', async () => {
    expect(
      await findingsAfter("UPDATE piece SET on_hand_ticks = -1, held_ticks = -1 WHERE code = 'R5'"),
    ).toEqual([
      'The file is damaged: CHECK constraint failed in piece.',
      'R5 shows ≈ 0 m (-1 ticks) on hand where its entries add up to 0 m, and shows ≈ 0 m (-1 ticks) held where its entries add up to 0 m.',
    ]);
  });

  it('is told twenty times and no more', async () => {
    const many = await findingsAfter(
      `WITH RECURSIVE count (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM count WHERE n < 30)
       INSERT INTO piece (code, kind, lot_id, usable_width_ticks, on_hand_ticks)
       SELECT 'X' || n, 'bolt', 1, 100, 1 FROM count`,
    );
    expect(many).toHaveLength(21);
    expect(many[20]).toBe('There are more of this kind.');
  });
});

describe('a hold that was written by hand', () => {
  const told = (shown: string, sum: string) =>
    expect.stringMatching(
      new RegExp(`^B1 shows ${shown} held for Tier 1 of G\\d+ where its entries add up to ${sum}\\.$`),
    );

  it.each([
    ['changed', 'UPDATE hold SET held_ticks = 160000', '1 m', '2 m'],
    ['removed', 'DELETE FROM hold', '0 m', '2 m'],
  ])('is told when it was %s', async (_, statement, shown, sum) => {
    expect(await findingsAfter(statement)).toEqual([told(shown, sum)]);
  });

  it('is told when nothing was entered for it', async () => {
    const [tier] = await findingsAfter(
      "INSERT INTO hold SELECT id, (SELECT max(id) FROM tier), NULL, 160 FROM piece WHERE code = 'B2'",
    );
    expect(tier).toMatch(
      /^B2 shows ≈ 0 m \(160 ticks\) held for Tier 1 of G\d+ where its entries add up to 0 m\.$/,
    );
  });
});

describe('a fibre content', () => {
  it('that is not the whole is told', async () => {
    const [finding, ...more] = await findingsAfter('UPDATE cloth_fibre SET share_bp = 9900');
    expect(finding).toMatch(/^The fibres of Organza \d+ add up to 99 %, not 100 %\.$/);
    expect(more).toEqual([]);
    // A cloth that came in with a list may have no content: nobody knows it yet.
    expect(await findingsAfter('DELETE FROM cloth_fibre')).toEqual([]);
  });
});

describe('a guard', () => {
  it('that the file has lost, or that is another, is told', async () => {
    const book = await tamperWith(folder, []);
    book.connection.exec('DROP TRIGGER entry_never_goes; DROP INDEX entry_reversed_once');
    book.connection.exec('DROP TRIGGER entry_never_changes');
    book.connection.exec(
      'CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry WHEN 0 BEGIN SELECT 1; END',
    );
    book.connection.exec('CREATE TRIGGER quietly AFTER INSERT ON entry BEGIN SELECT 1; END');
    expect(checkBook(book).findings.sort()).toEqual([
      'The file has lost the index entry_reversed_once, which it was made with.',
      'The file has lost the trigger entry_never_goes, which it was made with.',
      'The file has the trigger entry_never_changes changed since it was made.',
      'The file has the trigger quietly, which Clothroom did not make.',
    ]);
    discard(book);
  });
});

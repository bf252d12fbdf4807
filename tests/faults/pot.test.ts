import { rmSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { openBook } from '../../server/database/open.ts';
import { type BatchBenchData, batchBenchPage } from '../../server/dye-bench/pot/page.ts';
import { startChild } from '../child.ts';
import { furnish, plan, start } from '../server/dye-bench/recipe/making.ts';
import { asker, openTestHouse } from '../server/support.ts';

describe('a program that is killed while a batch is in the pot', () => {
  it('loses nothing of what was logged, and the timer goes on', async () => {
    const house = await openTestHouse(() => new Date());
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    const folder = house.putDown();
    await house.shut();

    const child = startChild(new URL('pot.child.ts', import.meta.url), [folder, code]);
    const told = await child.line();
    await child.kill();
    expect(told).toMatch(/^\d{4}-/);

    // Twelve minutes later somebody starts the program again: the scour of nylon takes 30.
    const now = new Date(Date.parse(told ?? '') + 12 * 60_000);
    const book = await openBook(folder, { clock: () => now });
    const { bath } = batchBenchPage(book, code, asker, book.now()).data as BatchBenchData;
    const left = bath?.step?.secondsLeft ?? 0;
    expect(left).toBeGreaterThan(17 * 60);
    expect(left).toBeLessThanOrEqual(18 * 60);
    expect(bath?.last?.said).toContain('41 °C');
    book.close();
    rmSync(folder, { recursive: true, force: true });
  });
});

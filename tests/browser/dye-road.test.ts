import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import type { Tx } from '../../server/database/book.ts';
import type { BatchBenchData } from '../../server/dye-bench/pot/page.ts';
import type { RecordPageData } from '../../server/dye-bench/record/page.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { TROUBLES } from '../../src/dye/correction.ts';
import { openDemo } from '../seed-demo/demo.ts';
import type { TestBook } from '../server/support.ts';
import { type Chromium, pagesIn, startChromium } from './chromium.ts';
import { startWalker, type Walker } from './walker.ts';

let now = new Date(2026, 2, 2, 9, 0);
let opened: TestBook;
let app: FastifyInstance;
let origin: string;
let chromium: Chromium;
let walker: Walker;

beforeAll(async () => {
  opened = await openDemo(now, () => now);
  app = buildApp(opened.book);
  origin = await app.listen({ host: '127.0.0.1', port: 0 });
  chromium = await startChromium();
  // A phone beside the pot.
  walker = await startWalker(await chromium.open({ width: 390 }), origin);
});
afterAll(async () => {
  await chromium.close();
  await app.close();
  opened.close();
});

async function data<T>(path: string): Promise<T> {
  const answer = await fetch(origin + path, { headers: { accept: 'application/json' } });
  if (!answer.ok) throw new Error(`${path} answers ${answer.status}`);
  return (await answer.json()) as T;
}

describe('two tiers of one garment', () => {
  it('are dyed in two batches over four pots, finished, held, and recorded on two pages each', async () => {
    const garment = opened.write(makeGarment);
    // Cotton in reactive dye, which has the most ways and cautions.
    await measureCorrection('D1');
    const batches = [
      { recipe: 'Ember on polyester', cloth: 'Polyester organza 150', sent: '3.5', back: '1.73', tier: 0 },
      { recipe: 'Dusk violet on nylon', cloth: 'Nylon organza 150', sent: '3.8', back: '1.86', tier: 1 },
    ];
    for (const batch of batches) {
      const code = await planAndStart(batch);
      const { baths } = await data<BatchBenchData>(`/dye-bench/batches/${code}/bench`);
      expect(baths).toHaveLength(2);
      await measureBatch(code);
      for (const number of [1, 2]) await dyeBath(code, number);
      const piece = await finish(code, batch.back);
      await measureBatch(code);
      await measureCorrection(code);
      await judge(code);
      await hold(garment.code, garment.tierIds[batch.tier] ?? 0, piece);
      await readRecord(code);
    }
    expect(checkBook(opened.book).findings).toEqual([]);
    expect(walker.complaints).toEqual([]);
  });
});

/** A garment with a tier of polyester organza in ember over one of nylon organza in violet, after a tier of the demo. */
function makeGarment(tx: Tx): { code: string; tierIds: number[] } {
  const idOf = (table: 'cloth' | 'shade', name: string) =>
    tx.first(tx.db.selectFrom(table).select('id').where('name', '=', name))?.id ?? 0;
  const pattern = tx.first(tx.db.selectFrom('tier').selectAll().where('name', '=', 'Hem tier'));
  if (!pattern) throw new Error('the demo has no hem tier');
  const { id: _, garment_id: demo, ...copied } = pattern;
  const named = { code: 'G90', name: 'Parade skirt', due_on: null, finished_at: null };
  const garmentId = tx.run(tx.db.insertInto('garment').values(named)).lastId;
  for (const girth of tx.all(tx.db.selectFrom('girth').selectAll().where('garment_id', '=', demo))) {
    tx.run(tx.db.insertInto('girth').values({ ...girth, garment_id: garmentId }));
  }
  const tiers = [
    ['Upper tier', 'Polyester organza 150', 'Ember'],
    ['Lower tier', 'Nylon organza 150', 'Dusk violet'],
  ] as const;
  const tierIds = tiers.map(([name, cloth, shade], at) => {
    const made = { ...copied, garment_id: garmentId, position: at + 1, name, cloth_id: idOf('cloth', cloth) };
    const { lastId } = tx.run(tx.db.insertInto('tier').values(made));
    const block = { tier_id: lastId, position: 1, shade_id: idOf('shade', shade), strips: 2 };
    tx.run(tx.db.insertInto('colour_block').values(block));
    return lastId;
  });
  return { code: named.code, tierIds };
}

async function planAndStart(batch: { recipe: string; cloth: string; sent: string }): Promise<string> {
  await walker.go('/dye-bench/batches/new');
  await walker.follow(`Choose ${batch.recipe}`);
  await walker.fill({ Vessel: 'Small steel pot' });
  const further = walker.page.getByText(/^[0-9]+ further pieces$/);
  if (await further.isVisible()) await further.click();
  const row = walker.page.getByRole('row').filter({ hasText: batch.cloth }).last();
  await row.getByLabel(/^Length to dye/).fill(batch.sent);
  await walker.press('Plan batch');
  await walker.press('Start');
  await walker.follow('At the bench');
  return new URL(walker.page.url()).pathname.split('/').at(-2) ?? '';
}

/** Works one bath through, a tap a step; while it is hot, a temperature in two taps. */
async function dyeBath(code: string, number: number): Promise<void> {
  const path = `/dye-bench/batches/${code}/bench?bath=${number}`;
  await walker.go(path);
  await walker.press('Begin this bath');
  for (let taps = 0; taps < 20; taps += 1) {
    const { bath } = await data<BatchBenchData>(path);
    const step = bath?.step;
    if (!bath || !step) return;
    const minutes = Number.parseInt(step.minutes, 10);
    const half = () => {
      now = new Date(now.getTime() + (minutes / 2) * 60_000);
    };
    if (step.title.startsWith('Hold')) {
      // The heat stays, so the number that stands there now is the right one later too.
      half();
      await walker.press(step.plannedHeat);
    } else if (step.title.startsWith('Heat')) {
      half();
      await walker.go(path);
      expect(await walker.page.locator('[data-left]').textContent()).toMatch(/^\d+:\d\d left$/);
      const { bath: later } = await data<BatchBenchData>(path);
      await walker.press(later?.step?.plannedHeat ?? '');
    } else half();
    half();
    if (taps === 0) {
      await measureTargets();
      await readCautions();
    }
    await walker.press(step.button);
  }
}

/** Everything to be pressed with wet hands is at least 64 px high, and nothing is wider than the phone. */
async function measureTargets(): Promise<void> {
  const small = await walker.page.locator('[data-hand="bench"]').evaluate((bench) =>
    [...bench.querySelectorAll('button, .button, .baths a')]
      .filter((target) => target.getClientRects().length > 0)
      .filter((target) => target.getBoundingClientRect().height < 64)
      .map((target) => target.textContent),
  );
  expect(small).toEqual([]);
  expect(await walker.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
}

/** The instruction, the amounts and the button stand above the cautions, which fold away once they are read. */
async function readCautions(): Promise<void> {
  const fold = walker.page.locator('.read-first .slip > details');
  const top = async (locator: ReturnType<typeof walker.page.locator>) =>
    (await locator.boundingBox())?.y ?? 0;
  expect(await top(walker.page.locator('form button.main').first())).toBeLessThan(await top(fold));
  if (!(await fold.evaluate((each) => (each as HTMLDetailsElement).open))) return;
  await walker.press('I have read these');
  expect(await fold.evaluate((each) => (each as HTMLDetailsElement).open)).toBe(false);
}

/** Before anything is folded out, the page of a batch is at most five screens of a phone, and as long as it says in print. */
async function measureBatch(code: string): Promise<void> {
  await walker.go(`/dye-bench/batches/${code}`);
  expect(await walker.page.evaluate(() => document.documentElement.scrollHeight)).toBeLessThanOrEqual(
    5 * 844,
  );
}

/** So is what may be done about its shade, with the cautions of people open. */
async function measureCorrection(code: string): Promise<void> {
  for (const trouble of TROUBLES) {
    await walker.go(`/dye-bench/batches/${code}/correction?trouble=${trouble}`);
    const high = await walker.page.evaluate(() => document.documentElement.scrollHeight);
    expect(high, trouble).toBeLessThanOrEqual(5 * 844);
  }
}

async function finish(code: string, measured: string): Promise<string> {
  await walker.follow('Finish');
  // Every bath is measured for itself.
  const fields = walker.page.getByLabel('Measured length');
  for (let at = 0; at < (await fields.count()); at += 1) await fields.nth(at).fill(measured);
  await walker.press('Back on the shelf');
  const record = await data<RecordPageData>(`/dye-bench/batches/${code}/record`);
  const [cloth] = record.cloth;
  expect(cloth).toMatchObject({ measured: `${measured} m`, lot: { code: `${code}.1` } });
  expect(record.cloth[1]).toMatchObject({ measured: `${measured} m`, lot: { code: `${code}.2` } });
  expect(cloth?.shrunk).toMatch(/ %$/);
  return cloth?.back ?? '';
}

async function judge(code: string): Promise<void> {
  await walker.go(`/dye-bench/batches/${code}/record`);
  await walker.page.getByText('Add a swatch', { exact: true }).click();
  await walker.fill({
    From: 'after dyeing',
    'How it was got': 'measured',
    'L*': '52',
    'a*': '30',
    'b*': '-4',
  });
  await walker.press('Add swatch');
  await walker.page.getByText('Judge the shade', { exact: true }).click();
  await walker.fill({ 'The shade is': 'accepted' });
  await walker.press('Save judgement');
}

async function hold(garment: string, tierId: number, piece: string): Promise<void> {
  await walker.go(`/cutting-table/${garment}/${tierId}/holds?piece=${piece}`);
  await walker.fill({ 'Length to hold': '1' });
  await walker.press('Hold');
  const held = opened.book.first(
    opened.book.db
      .selectFrom('hold')
      .innerJoin('piece', 'piece.id', 'hold.piece_id')
      .select(['hold.held_ticks', 'piece.code'])
      .where('hold.tier_id', '=', tierId),
  );
  // A metre is 160 000 ticks.
  expect(held).toEqual({ held_ticks: 160_000, code: piece });
}

/** What was done by the plan is told to be so, and the whole record is two pages of A4. */
async function readRecord(code: string): Promise<void> {
  const path = `/dye-bench/batches/${code}/record`;
  const record = await data<RecordPageData>(path);
  expect(record).toMatchObject({ state: 'done', deviations: 0, results: [{ result: 'accepted' }] });
  for (const bath of record.baths) {
    expect(bath.amounts.length).toBeGreaterThan(3);
    expect(bath.amounts.filter(({ weighed }) => weighed === '')).toEqual([]);
    expect(bath.readings.length).toBeGreaterThanOrEqual(2);
    expect(bath.times.at(-1)?.actual).toMatch(/^\d\d:\d\d–\d\d:\d\d$/);
  }
  await walker.go(path);
  expect(pagesIn(await walker.page.pdf({ format: 'A4', preferCSSPageSize: true }))).toBe(2);
}

describe('what is printed at the dye bench', () => {
  // As each was read on paper; with a narrower face it may be less.
  it.each([
    ['a swatch sheet, its amounts first', '/dye-bench/swatches/W3', 2],
    ['a graded series', '/dye-bench/series/S1', 2],
    ['the card of a batch of one bath', '/dye-bench/batches/D7', 4],
    ['a label', '/dye-bench/dyes/4/label', 1],
    ['a correction', '/dye-bench/batches/D7/correction?trouble=too-dark', 2],
    ['a recipe', '/dye-bench/recipes/1', 2],
  ])('%s: %s on %i pages', async (_, path, pages) => {
    await walker.go(path);
    const pdf = await walker.page.pdf({ format: 'A4', preferCSSPageSize: true });
    expect(pagesIn(pdf)).toBeGreaterThan(0);
    expect(pagesIn(pdf)).toBeLessThanOrEqual(pages);
  });
});

describe('on a phone, before anything is folded out', () => {
  // The longest of each kind of page of the demo.
  it.each([
    '/dye-bench',
    '/dye-bench/quick',
    '/dye-bench/day',
    '/dye-bench/dyes/4/label',
    '/dye-bench/recipes/3/copy',
    '/dye-bench/recipes/1/versions/new',
    '/dye-bench/recipes/by-label/new',
    '/dye-bench/swatches/W3',
    '/dye-bench/series/S1',
    '/dye-bench/batches/new?recipe_id=3&over=yes',
    '/dye-bench/batches/new?recipe_id=1&vessel_id=3&pieces.0.piece=B10&pieces.0.length=5',
    '/dye-bench/batches/D8',
    '/dye-bench/batches/D8/bench',
    '/dye-bench/batches/D9/record',
    '/dye-bench/batches/D9/card?bath=2',
    '/dye-bench/series/new?name=Fog&from_recipe_id=1&cloth_id=1&first=0.1&last=2&steps=5&vessel_id=1',
  ])('%s takes five screens at most', async (path) => {
    await walker.go(path);
    const high = await walker.page.evaluate(() => document.documentElement.scrollHeight);
    expect(high).toBeLessThanOrEqual(5 * 844);
  });
});

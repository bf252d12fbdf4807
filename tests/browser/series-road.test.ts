import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import type { SeriesPageData } from '../../server/dye-bench/series/page.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { NOON, openDemo } from '../seed-demo/demo.ts';
import { newKey, type TestBook } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';
import { startWalker, type Walker } from './walker.ts';

const CLOTH = 'Nylon chiffon 140';
let opened: TestBook;
let app: FastifyInstance;
let origin: string;
let chromium: Chromium;
let walker: Walker;

beforeAll(async () => {
  opened = await openDemo(NOON);
  app = buildApp(opened.book);
  origin = await app.listen({ host: '127.0.0.1', port: 0 });
  chromium = await startChromium();
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

/** Sends a form as a script does. Gives where it is seen. */
async function send(path: string, asked: object): Promise<string> {
  const answer = await fetch(origin + path, {
    method: 'POST',
    headers: { origin, accept: 'application/json', 'content-type': 'application/json' },
    body: JSON.stringify({ request_key: newKey(), ...asked }),
  });
  const body = (await answer.json()) as { location?: string };
  if (body.location === undefined) throw new Error(`${path}: ${JSON.stringify(body)}`);
  return body.location;
}

/** Three undyed lots of the chiffon, 41 m that no one of them has. Gives the garment that the five tiers are of. */
async function prepare(): Promise<string> {
  const { book } = opened;
  const idOf = (table: 'cloth' | 'shade', name: string) =>
    book.first(book.db.selectFrom(table).select('id').where('name', '=', name))?.id ?? 0;
  await send('/shelf/receipts', {
    pieces: ['18', '17', '9'].map((length, at) => ({
      kind: 'bolt',
      cloth_id: String(idOf('cloth', CLOTH)),
      shade_id: String(idOf('shade', 'Undyed white')),
      mill_lot: `C-4${at}`,
      length,
    })),
  });
  const pattern = book.first(
    book.db.selectFrom('garment').select('code').where('name', '=', 'Smoke-rising overskirt'),
  );
  const location = await send(`/garments/${pattern?.code}/copies`, { name: 'Second overskirt' });
  return location.split('/').at(-1) ?? '';
}

describe('a graded series', () => {
  it('of five depths over three lots is made for five tiers on one page, swatched, dyed, judged and cut', async () => {
    const garment = await prepare();
    const path = await makeSeries();
    const series = await data<SeriesPageData>(path);
    expect(series.steps).toHaveLength(5);
    expect(series.steps.every(({ batch }) => batch?.mixed === false)).toBe(true);
    expect(new Set(series.steps.map(({ batch }) => batch?.lots)).size).toBe(3);
    const metres = series.steps.reduce((sum, { batch }) => sum + metresOf(batch?.length), 0);
    expect(metres).toBeGreaterThan(39);
    await judgeSwatches(series);
    const approved = await data<SeriesPageData>(path);
    for (const step of approved.steps) expect(step.swatch?.verdict).toBe('approved');
    for (const step of approved.steps.slice(1)) expect(step.difference).toMatch(/^ΔE00 /);
    // From pale to deep, as the page orders them.
    for (const { code } of approved.order) await dye(code);
    await cutTiers(garment);
    expect(checkBook(opened.book).findings).toEqual([]);
    expect(walker.complaints).toEqual([]);
  });
});

function metresOf(shown = ''): number {
  return Number(/([\d.]+) m/.exec(shown)?.[1]);
}

/** One page: the recipe, the depths and the garment, worked out, and made as it stands. */
async function makeSeries(): Promise<string> {
  await walker.go('/dye-bench/series/new');
  await walker.fill({
    'Name of the series': 'Fog',
    Recipe: 'Deep tide on nylon',
    Cloth: CLOTH,
    'Or chosen depths, %': '0.1/0.2/0.4/0.8/1.6',
    Vessel: 'Large steel pot',
    'Lengths from the tiers of': 'G7',
  });
  await walker.press('Work it out');
  expect(await walker.text()).toContain('Step 1: 0.1 % owf, for Smoke 1 tier');
  expect(await walker.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await walker.press('Make the series');
  return new URL(walker.page.url()).pathname;
}

async function judgeSwatches({ steps }: SeriesPageData): Promise<void> {
  for (const [at, { swatch }] of steps.entries()) {
    if (!swatch) throw new Error(`step ${at + 1} has no swatch`);
    await walker.go(swatch.href);
    await walker.fill({
      Swatch: `${swatch.name},`,
      Verdict: 'Approved',
      'Judged by': 'By instrument',
      'In which light': 'daylight lamp, D65',
      'Wet or dry': 'dry',
      'L*': String(84 - 9 * at),
      'a*': '-8',
      'b*': String(-8 - 3 * at),
    });
    await walker.press('Save judgement');
  }
}

async function dye(code: string): Promise<void> {
  await walker.go(`/dye-bench/batches/${code}`);
  expect(await walker.text()).not.toContain('No approved swatch');
  await walker.press('Start');
  const { rows } = await data<{ rows: { expected: string }[] }>(`/dye-bench/batches/${code}/finish`);
  await walker.go(`/dye-bench/batches/${code}/finish`);
  await walker.fill({ 'Measured length': String(metresOf(rows[0]?.expected)) });
  await walker.press('Back on the shelf');
  await walker.go(`/dye-bench/batches/${code}/record`);
  await walker.page.getByText('Judge the shade', { exact: true }).click();
  await walker.fill({ 'The shade is': 'accepted' });
  await walker.press('Save judgement');
}

/** Every strip of every tier, from the piece in its shade. */
async function cutTiers(garment: string): Promise<void> {
  const { book } = opened;
  const tiers = book.all(
    book.db
      .selectFrom('tier')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      .innerJoin('colour_block', 'colour_block.tier_id', 'tier.id')
      .select(['tier.id', 'colour_block.shade_id'])
      .where('garment.code', '=', garment)
      .orderBy('tier.position'),
  );
  expect(tiers).toHaveLength(5);
  for (const tier of tiers) {
    const piece = book.first(
      book.db
        .selectFrom('piece')
        .innerJoin('lot', 'lot.id', 'piece.lot_id')
        .select('piece.code')
        .where('lot.shade_id', '=', tier.shade_id)
        .orderBy('piece.id', 'desc'),
    );
    const path = `/cutting-table/${garment}/${tier.id}/cuts?piece=${piece?.code}`;
    await walker.go(path);
    const { strips } = await data<{ strips: { leftStrips: number } }>(path);
    await walker.fill({ 'Strips cut': String(strips.leftStrips) });
    await walker.press('Enter the cut');
    const after = await data<{ strips: { leftStrips: number } | null }>(path);
    expect(after.strips?.leftStrips ?? 0).toBe(0);
  }
}

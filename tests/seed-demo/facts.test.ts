import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readLength } from '../../src/quantity/length.ts';
import { type DemoHouse, openDemoHouse } from './demo.ts';

// One fact is told alike on every page that tells it.

let house: DemoHouse;
beforeAll(async () => {
  house = await openDemoHouse();
});
afterAll(() => house.shut());

const data = async (path: string) => {
  const { body, status } = await house.get(path, 'application/json');
  if (status !== 200) throw new Error(`${path}: ${status}`);
  return body;
};
const text = async (path: string) =>
  (await house.get(path, 'text/html')).text.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ');
const codes = (table: 'piece' | 'garment' | 'lot') =>
  house.book.all(house.book.db.selectFrom(table).select('code').orderBy('id')).map(({ code }) => code);
const matches = (all: string, expression: RegExp) =>
  [...all.matchAll(expression)].map(([, found]) => found ?? '');

interface Ware {
  readonly cloth: { readonly name: string };
  readonly chip: { readonly name: string };
}
const sameWare = (one: Ware, other: Ware) =>
  one.cloth.name === other.cloth.name && one.chip.name === other.chip.name;

interface ToldPiece {
  readonly code: string;
  readonly onHand: string;
  readonly held: string;
  readonly free: string;
}

/** Every piece that a page's data tells of, wherever it stands in it. */
function piecesIn(value: unknown): ToldPiece[] {
  if (typeof value !== 'object' || value === null) return [];
  const mine = 'onHand' in value && 'free' in value && 'held' in value && 'code' in value;
  return [...(mine ? [value as ToldPiece] : []), ...Object.values(value).flatMap(piecesIn)];
}

/** Fails where nothing was compared. */
function atLeast(count: number, least: number) {
  expect(count).toBeGreaterThanOrEqual(least);
}

describe('a fact of the demo', () => {
  it('is told alike: how long the line is that a tier hangs at', async () => {
    let compared = 0;
    for (const code of codes('garment')) {
      const rounds = (all: string) =>
        matches(all, /at a drop of [^,.]*(?:\.\d+[^,.]*)?, (?:where it is )?(≈? ?[\d.]+ cm) round/g);
      const garment = new Set(rounds(await text(`/garments/${code}`)));
      for (const round of rounds(await text(`/garments/${code}/book`))) {
        expect([...garment]).toContain(round);
        compared += 1;
      }
    }
    atLeast(compared, 5);
  });

  it('is told alike: what is on hand, held and free of a piece', async () => {
    const pieces = codes('piece');
    const told = new Map<string, string>();
    let compared = 0;
    const paths = ['/shelf', ...codes('lot').map((code) => `/shelf/lots/${code}`)];
    for (const path of [...pieces.map((code) => `/shelf/pieces/${code}`), ...paths]) {
      for (const { code, onHand, held, free } of piecesIn(await data(path))) {
        const figures = `${onHand} on hand, ${held} held, ${free} free`;
        if (told.has(code)) compared += 1;
        expect([code, told.get(code) ?? figures]).toEqual([code, figures]);
        told.set(code, figures);
      }
    }
    atLeast(compared, 20);
  });

  it('is told alike: strips short and what to get', async () => {
    const short: { cloth: { name: string }; chip: { name: string }; toGet: string; short: number }[] = (
      await data('/short')
    ).short;
    const { fields } = await data('/orders/new?from=short');
    const lengths = fields.lines.flatMap(
      ({ length: { value } }: { length: { value: string } }) => value || [],
    );
    const toBuy = short.filter(({ toGet }) => / m$/.test(toGet));
    expect(lengths.map((length: string) => `${length} m`)).toEqual(toBuy.map(({ toGet }) => toGet));
    const today = (await data('/')).garments.short.flatMap(({ rows }: { rows: object[] }) => rows);
    for (const row of today) {
      const line = short.find(
        ({ chip, cloth }) => chip.name === row.chip.name && cloth.name === row.clothName,
      );
      expect(line).toBeDefined();
    }
    atLeast(toBuy.length, 1);
  });

  it('is told alike: strips cut, and lays cut', async () => {
    const { garments } = await data('/cutting-table');
    let compared = 0;
    for (const garment of garments) {
      const bench = await data(`/cutting-table/${garment.code}/bench`);
      const { needs } = await data(garment.planHref);
      const held = needs.flatMap(({ held: plan }: { held: object | null }) => (plan ? [plan] : []));
      const sum = (of: string) =>
        held.reduce((total: number, plan: Record<string, number>) => total + (plan[of] ?? 0), 0);
      if (held.length === 0) continue;
      expect(bench.cut).toBe(sum('cutLays'));
      expect(garment.laysToCut + bench.out.length).toBe(bench.lays - bench.cut);
      const lines = await data(`/short?garment=${garment.code}`);
      for (const need of needs) {
        const line = [...lines.short, ...lines.met].find((one) => sameWare(one, need));
        expect([line?.wanted, line?.cut]).toEqual([need.wanted, need.cut]);
      }
      compared += 1;
    }
    atLeast(compared, 1);
  });

  it('is what was charged: the price of a length times the length', async () => {
    const { db } = house.book;
    const orders = house.book.all(db.selectFrom('order').select('code').orderBy('id'));
    let compared = 0;
    for (const { code } of orders) {
      for (const line of (await data(`/orders/${code}`)).lines) {
        const price = /^([^\d]*)([\d.,]+) (?:a|per) (?:metre|m)$/.exec(line.price);
        const ordered = readLength(line.ordered.replace(/^≈ /, ''), 'm');
        if (!price || !ordered.ok || line.cost === '') continue;
        const of = (shown: string) => Number(shown.replace(/[^\d.]/g, ''));
        expect(of(line.cost)).toBeCloseTo((of(price[2] ?? '') * ordered.value) / 160_000, 1);
        compared += 1;
      }
    }
    atLeast(compared, 1);
  });

  it('is no strip that is longer than its cloth is wide', async () => {
    const centimetres = (shown: string) => Number(shown.replace('≈ ', '').replace(' cm', ''));
    let compared = 0;
    for (const garment of (await data('/cutting-table')).garments) {
      const sheet = await data(`/cutting-table/${garment.code}/sheet`);
      const widths = JSON.stringify(sheet).match(/"width":"(?:≈ )?[\d.]+ cm"/g) ?? [];
      const most = Math.max(...widths.map((shown) => centimetres(JSON.parse(`{${shown}}`).width)));
      for (const [, length] of JSON.stringify(sheet).matchAll(/× (?:≈ )?([\d.]+) cm/g)) {
        expect(Number(length)).toBeLessThanOrEqual(most);
        compared += 1;
      }
    }
    atLeast(compared, 1);
  });
});

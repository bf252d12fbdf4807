import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { comparePage } from '../../../../server/garments/versions/compare-page.ts';
import type { versionsPage } from '../../../../server/garments/versions/page.ts';
import { undoRequest } from '../../../../server/ledger/undo.ts';
import { cutLength, holdLength } from '../../../../server/ledger/verbs.ts';
import { length, makeBolt, makeTier, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { CONE, makeGarment, makeTierOf, pageOf, stockOf, tierFields, tierOfPage } from '../making.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
let tierId: number;
let bolt: { id: number; code: string };
// A ring of 95 cm × 3 = 285 cm in strips of 147 − 2 = 145 cm: 2 strips of 30 cm, each a drop, so 0.6 m of cloth.
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house);
  tierId = await makeTierOf(house, code, stock);
  bolt = house.write((tx) => makeBolt(tx, stock.lotId, '3 m'));
});
afterEach(() => house.shut());

async function change(fields: object): Promise<void> {
  const sent = await house.send(`/garments/${code}/tiers/${tierId}`, tierFields(stock, fields));
  expect([sent.status, sent.text]).toEqual([200, sent.text]);
}

async function versions(): Promise<ReturnType<typeof versionsPage>['data']> {
  return (await house.data(`/garments/${code}/versions`).expect(200)).body;
}

async function compare(
  from: string | number,
  to: string | number,
): Promise<ReturnType<typeof comparePage>['data']> {
  return (await house.data(`/garments/${code}/versions/compare?from=${from}&to=${to}`).expect(200)).body;
}

function cut(strips: number): string {
  return house.write((tx) => {
    cutLength(tx, bolt.id, { lengthTicks: strips * length('30 cm'), typed: '', tierId, strips });
    return tx.requestKey;
  });
}

describe('the versions of a garment', () => {
  it('are kept at each change, with who, when and what, and none where nothing changed', async () => {
    await change({ fullness: '5', depth: '32' });
    await change({ fullness: '5', depth: '32' });
    const kept = (await versions()).versions;
    expect(kept.map(({ number, said, changes }) => [number, said, changes])).toEqual([
      [
        3,
        `Tier 1 of ${code} was changed: 4 strips of 32 cm × 147 cm.`,
        ['Tier 1: Finished depth 30 cm → 32 cm', 'Tier 1: Fullness 3× → 5×'],
      ],
      [2, `Tier 1 was added to ${code}: 2 strips of 30 cm × 147 cm.`, []],
      [1, `Petticoat was put in the book as ${code}, due 1 Apr 2026.`, []],
    ]);
    expect(kept[0]).toMatchObject({ at: '2 Mar 2026, 12:00', by: 'Maker', inForce: true });
  });

  it('are kept of the form, and of tiers that are taken out and put back', async () => {
    const girths = [CONE.girths[0], { drop: '100', girth: '300' }];
    await house.send(`/garments/${code}/edit`, { ...CONE, girths }).expect(200);
    await house.send(`/garments/${code}/tiers/${tierId}/taken-out`, {}).expect(200);
    await house.send(`/garments/${code}/tiers/${tierId}/put-back`, {}).expect(200);
    const kept = (await versions()).versions;
    expect(kept.map(({ number }) => number)).toEqual([5, 4, 3, 2, 1]);
    expect(kept[2]?.changes).toEqual(['Girth at a drop of 100 cm 295 cm → 300 cm']);
    expect((await compare(2, 4)).changes).toContainEqual({
      of: 'Tier 1',
      what: 'Tier',
      from: 'there',
      to: 'not there',
    });
  });

  it('are listed twenty a page, each told from the one before it', async () => {
    for (let depth = 31; depth <= 81; depth += 1) await change({ depth: String(depth) });
    const [first, second] = [await versions(), (await house.data(`/garments/${code}/versions?page=2`)).body];
    expect([first.versions.length, first.versions[0]?.number, first.versions.at(-1)?.number]).toEqual([
      20, 53, 34,
    ]);
    expect(first.versions.at(-1)?.changes).toEqual(['Tier 1: Finished depth 61 cm → 62 cm']);
    expect(second.versions.map(({ number }: { number: number }) => number)).toEqual(
      Array.from({ length: 20 }, (_, place) => 33 - place),
    );
  });

  it('begin with how a garment stood that is older than the keeping', async () => {
    const older = house.write((tx) => makeTier(tx, stock));
    const garment = house.book.first(
      house.book.db
        .selectFrom('garment')
        .innerJoin('tier', 'tier.garment_id', 'garment.id')
        .select('garment.code')
        .where('tier.id', '=', older),
    );
    const its = garment?.code ?? '';
    const before = await house.data(`/garments/${its}/versions`);
    expect(before.body.versions).toEqual([]);
    await house.send(`/garments/${its}/tiers/${older}`, tierFields(stock, { drop: '20' })).expect(200);
    const { body } = await house.data(`/garments/${its}/versions`);
    expect(body.versions.map(({ said }: { said: string }) => said)).toEqual([
      expect.stringContaining('was changed'),
      'As it stood before versions were kept.',
    ]);
  });
});

describe('two versions side by side', () => {
  it('tell what changed and what it does to the needs: 2 strips, 0.6 m, become 4 strips, 4 × 0.32 m', async () => {
    await change({ fullness: '5', depth: '32' });
    const { changes, needs, from, to } = await compare(2, 3);
    expect(changes).toEqual([
      { of: 'Tier 1', what: 'Finished depth', from: '30 cm', to: '32 cm' },
      { of: 'Tier 1', what: 'Fullness', from: '3×', to: '5×' },
    ]);
    expect(needs).toHaveLength(1);
    expect(needs[0]).toMatchObject({
      from: { strips: 2, length: '0.6 m', sizes: ['2 of 30 cm × 147 cm'] },
      to: { strips: 4, length: '1.28 m', sizes: ['4 of 32 cm × 147 cm'] },
      strips: '+2',
      length: '+0.68 m',
      differs: true,
    });
    expect([from.name, to.name]).toEqual(['version 2', 'version 3']);
    expect((await compare(3, 2)).needs[0]).toMatchObject({ strips: '−2', length: '−0.68 m' });
  });

  it('name the shades that are needed in one of them only', async () => {
    const other = stockOf(house);
    await change({
      cloth_id: String(stock.clothId),
      blocks: [
        { shade_id: String(stock.shadeId), strips: '1' },
        { shade_id: String(other.shadeId), strips: '1' },
      ],
    });
    const { needs } = await compare(2, 3);
    expect(needs.map(({ strips }) => strips)).toEqual(['−1', '+1']);
  });

  it('come to the figures that they had, though the cloth was measured again since', async () => {
    await change({ depth: '32' });
    house.write((tx) =>
      tx.run(
        tx.db
          .updateTable('cloth')
          .set({ usable_width_ticks: length('70 cm') })
          .where('id', '=', stock.clothId),
      ),
    );
    const then = await compare(2, code);
    expect(then.needs[0]).toMatchObject({ from: { strips: 2 }, to: { strips: 5 } });
  });

  it('show a difference that is smaller than what is shown', async () => {
    await change({ depth: '30.01' });
    const { changes } = await compare(2, 3);
    expect(changes).toEqual([{ of: 'Tier 1', what: 'Finished depth', from: '30 cm', to: '30.01 cm' }]);
  });

  it('are unknown where there is no such version or garment', async () => {
    for (const query of ['from=9', 'from=G99', 'to=x', 'from=99999999999999']) {
      const page = await house.page(`/garments/${code}/versions/compare?${query}`);
      expect([query, page.status]).toEqual([query, 404]);
    }
  });
});

describe('a garment that is being cut', () => {
  it('is cut from the version in force at the first cut, and no more once that is undone', async () => {
    expect((await pageOf(house, code)).cutFrom).toBeNull();
    const key = cut(1);
    expect((await pageOf(house, code)).cutFrom).toMatchObject({
      kind: 'note',
      text: expect.stringMatching(/^Cutting began 2 Mar 2026, 12:00, from version 2\./),
    });
    expect((await versions()).versions[0]).toMatchObject({ number: 2, cutFrom: true });
    house.write((tx) => undoRequest(tx, key));
    expect((await pageOf(house, code)).cutFrom).toBeNull();
    expect((await versions()).cut).toBe('');
  });

  it('may be changed, and says so on its page, at the table and before it is saved', async () => {
    cut(1);
    const typed = tierFields(stock, { depth: '32' });
    const preview = await house.send(`/garments/${code}/tiers/${tierId}`, { ...typed, act: 'work-out' });
    const older =
      /^Tier 1: 1 strip of .+ cut when 30 cm × 147 cm was wanted; 32 cm × 147 cm is wanted now\.$/;
    expect(preview.body.preview.differences).toEqual([expect.stringMatching(older)]);
    expect((await versions()).versions).toHaveLength(2);
    await change({ depth: '32' });
    expect((await pageOf(house, code)).cutFrom).toMatchObject({
      kind: 'warn',
      text: 'It is cut from version 2, 2 Mar 2026, 12:00, and is version 3 now.',
      more: ['Tier 1: Finished depth 30 cm → 32 cm'],
    });
    const table = await house.data(`/cutting-table/${code}/${tierId}`);
    expect(table.body.differences[0]).toBe(
      `${code} is cut from version 2 and is version 3 now: Tier 1: Finished depth 30 cm → 32 cm.`,
    );
    await change({ depth: '30' });
    expect((await pageOf(house, code)).cutFrom).toMatchObject({ kind: 'note' });
  });

  it('says when a length that was right when it was held is too little or too much now', async () => {
    const hold = (text: string) =>
      house.write((tx) => holdLength(tx, bolt.id, tierId, { lengthTicks: length(text), typed: text }));
    const told = async () => (await tierOfPage(house, code)).worked?.done.differences ?? [];
    hold('60 cm');
    expect(await told()).toEqual([]);
    // 4 strips of 30 cm want 1.2 m.
    await change({ fullness: '5' });
    expect(await told()).toEqual([
      expect.stringMatching(
        new RegExp(
          `^0\\.6 m of ${bolt.code} was held for 2 strips of .+, 30 cm × 147 cm; 4 of 30 cm × 147 cm are left to cut now, and it gives 2: too little is held\\.$`,
        ),
      ),
    ]);
    hold('60 cm');
    expect(await told()).toEqual([]);
    await change({ fullness: '3' });
    expect(await told()).toEqual([expect.stringMatching(/it gives 4: too much is held\.$/)]);
  });
});

describe('the parts of a garment', () => {
  const LINING = { name: 'Lining', pieces: '1', unit: 'cm', cut_depth: '40', widths: '2' };
  const keep = (fields: object) => house.send(`/garments/${code}/parts/new/layer`, { ...LINING, ...fields });

  it('are kept with each version: what changed of them, and what was needed then', async () => {
    const before = (await versions()).versions[0]?.number ?? 0;
    await keep({}).expect(200);
    const [part] = (await pageOf(house, code)).parts.rows;
    await house.send(part?.href ?? '', { ...LINING, widths: '3' }).expect(200);
    await house.send(`${part?.href}/taken-out`, {}).expect(200);
    const kept = (await versions()).versions;
    expect(kept.map(({ number, said, changes }) => [number - before, said, changes]).slice(0, 3)).toEqual([
      [3, `Lining was taken out of ${code}.`, []],
      [2, `Lining of ${code} was changed.`, ['Lining: Whole widths 2 → 3']],
      [1, `Lining was added to ${code}.`, []],
    ]);
    const { changes, needs } = await compare(before, before + 2);
    expect(changes).toEqual([{ of: 'Lining', what: 'Part', from: '', to: 'added' }]);
    // Two strips of 30 cm, and three widths of 40 cm beside them.
    expect(needs[0]).toMatchObject({ from: { strips: 2 }, to: { strips: 5 } });
    const gone = await compare(before + 2, before + 3);
    expect(gone.changes).toEqual([{ of: 'Lining', what: 'Part', from: 'there', to: 'not there' }]);
    expect(gone.needs[0]).toMatchObject({ from: { strips: 5 }, to: { strips: 2 } });
  });

  it('are told where they were changed since cutting began, at the table too', async () => {
    await keep({}).expect(200);
    const table = (await pageOf(house, code)).parts.rows[0]?.cuts[0]?.href ?? '';
    await house.send(`${table}/cuts`, { piece: bolt.code, strips: '1' }).expect(200);
    const [part] = (await pageOf(house, code)).parts.rows;
    await house.send(part?.href ?? '', { ...LINING, widths: '4' }).expect(200);
    expect((await pageOf(house, code)).cutFrom?.more).toEqual(['Lining: Whole widths 2 → 4']);
    const { differences } = (await house.data(table).expect(200)).body;
    expect(differences[0]).toMatch(/Lining: Whole widths 2 → 4\.$/);
  });
});

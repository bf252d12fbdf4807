import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { undoRequest } from '../../../../server/ledger/undo.ts';
import { cutLength, holdLength } from '../../../../server/ledger/verbs.ts';
import { length, makeBolt, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { makeGarment, makeTierOf, pageOf, stockOf, tierFields, tierOfPage } from '../making.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
let tierId: number;
let bolt: { id: number; code: string };
// A ring of 95 cm × 3 in strips of 147 cm: 2 strips of 30 cm.
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house);
  tierId = await makeTierOf(house, code, stock);
  bolt = house.write((tx) => makeBolt(tx, stock.lotId, '2 m'));
});
afterEach(() => house.shut());

function hold(text: string): void {
  house.write((tx) => holdLength(tx, bolt.id, tierId, { lengthTicks: length(text), typed: text }));
}

/** Cuts strips of 30 cm; gives the request's key. */
function cut(strips: number): string {
  const lengthTicks = strips * length('30 cm');
  return house.write((tx) => {
    cutLength(tx, bolt.id, { lengthTicks, typed: '', tierId, strips });
    return tx.requestKey;
  });
}

async function change(fields: object): Promise<void> {
  const sent = await house.send(`/garments/${code}/tiers/${tierId}`, tierFields(stock, fields));
  expect(sent.status).toBe(200);
}

async function done() {
  const tier = await tierOfPage(house, code);
  if (!tier.worked) throw new Error('the tier is worked out');
  return tier.worked.done;
}

describe('what is held and cut for a tier', () => {
  it('stands beside what it wants: 1 strip cut, and 35 cm held gives the other', async () => {
    cut(1);
    hold('35 cm');
    expect(await done()).toEqual({
      shades: [{ cut: 1, held: '0.35 m', heldStrips: 1, left: 0 }],
      differences: [],
    });
    expect((await pageOf(house, code)).needs[0]).toMatchObject({
      cut: 1,
      met: { held: 1, free: 0, short: 0 },
    });
    const form = await house.page(`/garments/${code}/tiers/${tierId}`);
    expect(form.text).toContain(`1 strip is cut for it and ${bolt.code} is held for it.`);
  });

  it('does not count a cut that was undone', async () => {
    const key = cut(2);
    expect((await done()).shades[0]).toMatchObject({ cut: 2, left: 0 });
    house.write((tx) => undoRequest(tx, key));
    expect((await done()).shades[0]).toMatchObject({ cut: 0, left: 2 });
  });
});

describe('changing a tier after the first cut', () => {
  it('is allowed, and says that what is cut is of the older size; what is cut after it is not', async () => {
    cut(1);
    await change({ depth: '32' });
    expect((await done()).differences).toEqual([
      expect.stringMatching(
        /^1 strip of .+ cut when 30 cm × 147 cm was wanted; 32 cm × 147 cm is wanted now\.$/,
      ),
    ]);
    cut(1);
    expect((await done()).differences).toHaveLength(1);
    expect((await house.page(`/garments/${code}`)).text).toContain('Differs');
    await change({ depth: '30' });
    expect((await done()).differences).toEqual([
      expect.stringMatching(
        /^1 strip .+ cut when 32 cm × 147 cm was wanted; 30 cm × 147 cm is wanted now\.$/,
      ),
    ]);
  });

  it('says when more is cut than is wanted, and when cloth is held for nothing', async () => {
    cut(2);
    hold('40 cm');
    await change({ fullness: '1' });
    expect((await done()).differences).toEqual([
      expect.stringMatching(/^2 strips of .+ cut, 1 wanted now: 1 too many\.$/),
      expect.stringMatching(
        new RegExp(`^All strips of .+ are cut, and 0\\.4 m of ${bolt.code} is still held: release it\\.$`),
      ),
    ]);
  });

  it('says when the shade of what is cut and held is not wanted any more', async () => {
    cut(1);
    hold('40 cm');
    const other = stockOf(house);
    await change({ blocks: [{ shade_id: String(other.shadeId), strips: '1' }] });
    const { shades, differences } = await done();
    expect(shades).toEqual([{ cut: 0, held: '', heldStrips: 0, left: 2 }]);
    expect(differences).toEqual([
      expect.stringMatching(/^1 strip cut in Organza \d+, Shade \d+, which it does not want now\.$/),
      expect.stringMatching(/^0\.4 m of B\d+ held in .+, which it does not want now: release it\.$/),
    ]);
  });
});

describe('taking a tier out', () => {
  it('takes it out of everything and puts it back', async () => {
    const out = await house.send(`/garments/${code}/tiers/${tierId}/taken-out`, {});
    expect(out.body.said).toBe(`Tier 1 was taken out of ${code}.`);
    const page = await pageOf(house, code);
    expect([page.tiers, page.needs]).toEqual([[], []]);
    expect(page.takenOut.map(({ name }) => name)).toEqual(['Tier 1']);
    expect((await house.data('/short')).body).toMatchObject({ short: [], met: [] });
    expect((await house.send(`/garments/${code}/tiers/${tierId}/taken-out`, {})).status).toBe(409);
    await house.send(`/garments/${code}/tiers/${tierId}/put-back`, {});
    expect((await pageOf(house, code)).tiers).toHaveLength(1);
  });

  it('is refused with the reason while cloth is held or cut for it, or another tier edges it', async () => {
    const refusal = async (id = tierId) => {
      const answer = await house.submit(`/garments/${code}/tiers/${id}/taken-out`, {});
      expect(answer.status).toBe(409);
      return answer.text;
    };
    const edge = await makeTierOf(house, code, stock, { name: 'Edge', hangs: `edge-${tierId}` });
    expect(await refusal()).toContain('Edge (1r) edges Tier 1');
    await house.send(`/garments/${code}/tiers/${edge}/taken-out`, {});
    hold('35 cm');
    expect(await refusal()).toContain(`Cloth is held for Tier 1: ${bolt.code}.`);
    expect(await refusal()).toContain(`href="/cutting-table/${code}/${tierId}"`);
    const key = cut(1);
    expect(await refusal()).toContain('Tier 1');
    expect((await house.send(`/garments/${code}/finished`, {})).status).toBe(409);
    house.write((tx) => undoRequest(tx, key));
    expect((await pageOf(house, code)).tiers).toHaveLength(1);
  });

  it('is refused once strips are cut; a tier that edged it comes back after it', async () => {
    const edge = await makeTierOf(house, code, stock, { name: 'Edge', hangs: `edge-${tierId}` });
    await house.send(`/garments/${code}/tiers/${edge}/taken-out`, {});
    await house.send(`/garments/${code}/tiers/${tierId}/taken-out`, {});
    const early = await house.send(`/garments/${code}/tiers/${edge}/put-back`, {});
    expect(early.status).toBe(409);
    expect(early.body.error.problems[0].message).toContain('put Tier 1 back first');
    await house.send(`/garments/${code}/tiers/${tierId}/put-back`, {});
    expect((await house.send(`/garments/${code}/tiers/${edge}/put-back`, {})).status).toBe(200);
    await house.send(`/garments/${code}/tiers/${edge}/taken-out`, {});
    cut(1);
    const cutAlready = await house.send(`/garments/${code}/tiers/${tierId}/taken-out`, {});
    expect(cutAlready.body.error.problems[0].message).toContain('1 strip is cut for Tier 1 already');
  });
});

describe('finishing a garment for which cloth is held', () => {
  it('is refused and leads to where it is released', async () => {
    hold('35 cm');
    const answer = await house.submit(`/garments/${code}/finished`, {});
    expect(answer.status).toBe(409);
    expect(answer.text).toContain(`Cloth is still held for ${code}: ${bolt.code}.`);
    expect(answer.text).toContain(`href="/cutting-table/${code}/${tierId}"`);
  });
});

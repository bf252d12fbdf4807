import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cutLength, holdLength } from '../../../../server/ledger/verbs.ts';
import { length, makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { makeGarment, makeTierOf, pageOf, problemsOf, stockOf, tierFields } from '../making.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

/** A garment with a ruffle on an edge, one on a face, a ratio, blocks in two cloths and a start offset. */
async function makeWhole() {
  const [stock, other] = [stockOf(house), stockOf(house, { usableWidth: '110 cm' })];
  const code = await makeGarment(house);
  const blocks = [
    { shade_id: String(stock.shadeId), strips: '2' },
    { shade_id: String(other.shadeId), strips: '1', cloth_id: String(other.clothId) },
  ];
  const top = await makeTierOf(house, code, stock, { fullness: '6', blocks, offset: '1' });
  const edge = await makeTierOf(house, code, stock, {
    name: 'Ruffle',
    hangs: `edge-${top}`,
    drop: '',
    depth: '9',
    ratio_tier_id: String(top),
  });
  await makeTierOf(house, code, stock, {
    name: 'Frill',
    hangs: `face-${edge}`,
    drop: '',
    height: '5',
    depth: '4',
  });
  const out = await makeTierOf(house, code, stock, { name: 'Out', drop: '20' });
  await house.send(`/garments/${code}/tiers/${out}/taken-out`, {}).expect(200);
  return { stock, other, code, top };
}

describe('a copy of a garment', () => {
  it('has the form, the tiers and the needs of the first, and nothing that is held, cut or due', async () => {
    const { stock, code, top } = await makeWhole();
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '2 m'));
    house.write((tx) => holdLength(tx, bolt.id, top, { lengthTicks: length('50 cm'), typed: '' }));
    house.write((tx) =>
      cutLength(tx, bolt.id, { lengthTicks: length('30 cm'), typed: '', tierId: top, strips: 1 }),
    );
    const ledger = () => house.book.all(house.book.db.selectFrom('entry').selectAll()).length;
    const before = ledger();
    const made = await house.send(`/garments/${code}/copies`, { name: 'Second petticoat' }).expect(200);
    expect(ledger()).toBe(before);
    const copied = made.body.location.split('/').at(-1);
    const [first, copy] = [await pageOf(house, code), await pageOf(house, copied)];
    expect(copy).toMatchObject({ name: 'Second petticoat', due: '', girths: first.girths, version: 1 });
    const wanted = (page: typeof first) =>
      page.needs.map(({ cloth, chip, strips, length: long }) => [cloth, chip.name, strips, long]);
    expect(wanted(copy)).toEqual(wanted(first));
    expect(copy.needs.map(({ cut }) => cut)).toEqual(copy.needs.map(() => 0));
    expect(copy.tiers.map(({ name, worked }) => [name, worked?.hangs, worked?.steps])).toEqual(
      first.tiers.map(({ name, worked }) => [name, worked?.hangs, worked?.steps]),
    );
    expect(copy.takenOut).toEqual([]);
    const compared = await house.data(`/garments/${code}/versions/compare?from=${code}&to=${copied}`);
    const differing = compared.body.changes.map(({ what }: { what: string }) => what);
    expect(differing).toEqual(['Name', 'Due']);
    expect(compared.body.needs.some(({ differs }: { differs: boolean }) => differs)).toBe(false);
  });

  it('is of its own: what is changed in it leaves the first as it was', async () => {
    const { stock, code } = await makeWhole();
    const made = await house.send(`/garments/${code}/copies`, { name: 'Third' }).expect(200);
    const copied = made.body.location.split('/').at(-1);
    const before = await pageOf(house, code);
    const [tier] = (await pageOf(house, copied)).tiers;
    await house.send(`/garments/${copied}/tiers/${tier?.id}`, tierFields(stock, { depth: '55' })).expect(200);
    const after = await pageOf(house, code);
    expect(after.needs).toEqual(before.needs);
    // The sizes that the copy asks for are kept from the start, so that what is cut for it can be told apart.
    const sizes = house.book.db
      .selectFrom('tier_size')
      .selectAll()
      .where('tier_id', '=', tier?.id ?? 0);
    expect(house.book.all(sizes).length).toBeGreaterThan(0);
  });

  it('asks for a name, keeps what was typed, and is made once for one form', async () => {
    const { code } = await makeWhole();
    const form = await house.page(`/garments/${code}/copies`);
    expect(form.text).toContain('value="Petticoat, copy"');
    const blank = await house.send(`/garments/${code}/copies`, { name: ' ' });
    expect(blank.status).toBe(422);
    expect(problemsOf(blank).name).toBeTruthy();
    const twice = { name: 'Once', request_key: 'copy-key-of-this-test' };
    const [one, two] = [
      await house.send(`/garments/${code}/copies`, twice),
      await house.send(`/garments/${code}/copies`, twice),
    ];
    expect(one.body.location).toBe(two.body.location);
    const named = house.book.db.selectFrom('garment').select('code').where('name', '=', 'Once');
    expect(house.book.all(named)).toHaveLength(1);
  });
});

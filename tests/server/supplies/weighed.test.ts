import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { addVessel, furnish, plan, start } from '../dye-bench/recipe/making.ts';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
let pots = 0;
let furnished: Awaited<ReturnType<typeof furnish>>;
const supplyIds: Record<string, string> = {};
beforeAll(async () => {
  house = await openTestHouse();
  await house
    .send('/dye-bench/dyes', { name: 'Fern A', dye_class: 'acid-levelling', price: '', price_for: '' })
    .expect(200);
  furnished = await furnish(house, '40 m');
  const dye = house.book.first(house.book.db.selectFrom('dye').select('id'));
  await keep('Fern tub', { kind: 'dye', measure: 'mass', used_as: `dye/${dye?.id}`, least: '5 g' }, '6 g');
  await keep('Acid', { kind: 'chemical', measure: 'volume', used_as: 'acetic-acid/56' }, '1 L');
});
afterAll(() => house.shut());

async function keep(name: string, supply: object, amount: string): Promise<void> {
  const { body } = await house.send('/supplies/new', { name, ...supply }).expect(200);
  const id = /\d+$/.exec(body.location)?.[0] ?? '';
  supplyIds[name] = id;
  await house
    .send('/supplies/receive', { rows: [{ supply_id: id, amount, lot: 'L-1', cost: '6.00' }] })
    .expect(200);
}

/** 2 m of organza are 90 g: 1.8 g of dye at 2 %, and 1.8 g of acid at 1 g/L of 1.8 L. */
async function planned(): Promise<string> {
  const { piece, recipeId } = furnished;
  pots += 1;
  const vesselId = await addVessel(house, `Pot ${pots}`, '5');
  return plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
}

async function step(code: string, name: string) {
  const { body } = await house
    .send(`/dye-bench/batches/${code}/logs/steps`, { bath: '1', step: name, skip_hold: 'yes' })
    .expect(200);
  return [body.said, body.after ?? ''];
}

async function steps(code: string, names: readonly string[]) {
  const told: string[][] = [];
  for (const name of names) told.push(await step(code, name));
  return told;
}

const onHand = async (name: string) => (await house.data(`/supplies/${supplyIds[name]}`)).body.onHand;
const needs = async () => (await house.data('/supplies')).body.called;

describe('what is weighed at the pot', () => {
  let code: string;

  it('is told beforehand: what planned batches need, have and lack', async () => {
    code = await planned();
    const before = await needs();
    expect(
      before.calls.map(({ name, forBatches, shortBy }: Record<string, string>) => [
        name,
        forBatches,
        shortBy,
      ]),
    ).toEqual([
      ['Fern tub', '1.8 g', ''],
      // 1.8 g at 1.0625 g/mL.
      ['Acid', '≈ 1.7 mL', ''],
    ]);
    expect(before.notKept).toContain('levelling agent');
  });

  it('goes off the stock with its batch, and low stock is told at the pot', async () => {
    await start(house, code);
    const told = await steps(code, ['begin', 'prepare', 'weigh', 'dissolve']);
    expect(told.map(([, after]) => after).filter((after) => after !== '')).toEqual([
      'Fern tub is low: 4.2 g left.',
    ]);
    const { body } = await house.data(`/supplies/${supplyIds['Fern tub']}`);
    expect(body.onHand).toBe('4.2 g');
    expect(body.entries[0]).toMatchObject({
      what: 'Used',
      amount: '−1.8 g',
      cost: '−€1.80',
      link: { text: `batch ${code}` },
      undoKey: '',
    });
    // What was weighed is needed no more; what is still to go in is.
    expect((await needs()).calls.map(({ name }: { name: string }) => name)).toEqual(['Acid']);
  });

  it('comes back to the stock with a step that is taken back, and goes again', async () => {
    const takeBack = async () => {
      const bench = await house.data(`/dye-bench/batches/${code}/bench?bath=1`).expect(200);
      const { id } = bench.body.bath.last;
      return house.send(`/dye-bench/batches/${code}/logs/take-backs`, { bath: '1', id: String(id) });
    };
    await takeBack().then(({ status }) => expect(status).toBe(200));
    await takeBack().then(({ status }) => expect(status).toBe(200));
    expect(await onHand('Fern tub')).toBe('6 g');
    await steps(code, ['weigh', 'dissolve']);
    expect(await onHand('Fern tub')).toBe('4.2 g');
    // Counted since: the count saw it, so that the stock stays.
    const lot = (await house.data(`/supplies/${supplyIds['Fern tub']}`)).body.lots[0];
    const count = { lot_id: String(lot.id), amount: '4 g' };
    await house.send(`/supplies/${supplyIds['Fern tub']}/counts`, count).expect(200);
    await takeBack();
    const { body } = await takeBack();
    expect(body.after).toBe('Fern tub was counted since: the stock stays as counted.');
    expect(await onHand('Fern tub')).toBe('4 g');
  });

  it('is undone with the start of its batch', async () => {
    const other = await planned();
    const key = await start(house, other);
    await steps(other, ['begin', 'prepare', 'weigh']);
    expect(await onHand('Fern tub')).toBe('2.2 g');
    await house.send('/undo', { undoes: key }).expect(200);
    expect(await onHand('Fern tub')).toBe('4 g');
  });

  it('does not wait for the stock: what the book lacks is told', async () => {
    await house.send(`/supplies/${supplyIds['Fern tub']}/uses`, { amount: '3 g' }).expect(200);
    const other = await planned();
    expect((await needs()).short).toBe(1);
    // This batch, the one whose start was undone, and the one whose weighing was taken back.
    expect((await house.data('/short')).body.supplies).toMatchObject([
      { name: 'Fern tub', forBatches: '5.4 g', free: '1 g', shortBy: '4.4 g', toGet: '4.4 g', buy: null },
    ]);
    expect((await house.page('/short')).text).toContain('For planned batches and open garments');
    const batch = (await house.data(`/dye-bench/batches/${other}`)).body;
    expect(batch.shortOf).toEqual(['Fern tub: 1.8 g needed, 1 g free.']);
    const text = (await house.page(`/dye-bench/batches/${other}`)).text;
    expect(text).toContain('The stock has too little for this batch.');
    await start(house, other);
    const told = await steps(other, ['begin', 'prepare', 'weigh']);
    expect(told.at(-1)?.[1]).toBe('The stock had 0.8 g too little of Fern tub: count it.');
    expect(await onHand('Fern tub')).toBe('0 g');
    expect(checkBook(house.book).findings).toEqual([]);
  });
});

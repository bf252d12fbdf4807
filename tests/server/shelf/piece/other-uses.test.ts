import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { holdLength, splitPiece } from '../../../../server/ledger/verbs.ts';
import { type OnTable, putOnTable } from '../../cutting-table/tier/tier.ts';
import { length, makeBolt, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
let table: OnTable;
const USES = '/shelf/pieces/B1/uses';

/** B1 is 10 m for €100.00, of which a tier of a garment may hold some. */
beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house);
  house.write((tx) => makeBolt(tx, table.stock.lotId, '10', 10_000));
});
afterEach(() => {
  expect(checkBook(house.book).findings).toEqual([]);
  return house.shut();
});

const repair = () => ({ kind: 'repair', garment: table.code, note: 'torn ruffle' });
const said = () => `repair of ${table.code} Petticoat: torn ruffle`;
const read = async () => (await house.data('/shelf/pieces/B1').expect(200)).body;
const hold = (text: string, use: object = repair()) =>
  house.send(USES, { ...use, length: text, doing: 'hold' });
const cut = (text: string, use: object = repair()) =>
  house.send(USES, { ...use, length: text, doing: 'cut' });

describe('the form of a piece', () => {
  it('asks for a length, what for, a garment and a note, and offers open garments', async () => {
    const { useForms } = await read();
    expect(useForms.newUse).toMatchObject({ action: USES, open: false });
    const { fields } = useForms.newUse;
    expect(fields.kind.options.map(({ value }: { value: string }) => value)).toEqual([
      'repair',
      'sample',
      'swatch',
      'part',
      'sold',
      'lent',
      'other',
    ]);
    expect(fields.garment.suggest).toEqual([`${table.code} Petticoat`]);
    expect(fields.length.unit).toBe('m');
    const { text } = await house.page('/shelf/pieces/B1').expect(200);
    expect(text).toContain('Cut or hold for something else');
    expect(text).toContain('<option value="swatch">Swatch</option>');
    expect(text).not.toContain('<details id="other-use" open');
  });

  it('is not there where nothing is left of the piece', async () => {
    await cut('10').expect(200);
    expect((await read()).useForms).toEqual({ newUse: null, heldUses: [] });
  });
});

describe('cutting for something else', () => {
  it('takes the length and its cost, and tells what it was for', async () => {
    const { body } = await cut('2.5').expect(200);
    expect(body).toMatchObject({
      location: '/shelf/pieces/B1',
      said: `2.5 m of B1 cut for ${said()}.`,
      after: '7.5 m of B1 is left.',
    });
    const { piece, entries } = await read();
    expect(piece).toMatchObject({ onHand: '7.5 m', free: '7.5 m', cost: '€75.00', holds: [] });
    expect(entries[0]).toMatchObject({
      kindWords: 'Cut',
      length: '−2.5 m',
      cost: '−€25.00',
      otherUse: said(),
      links: [{ text: table.code, href: `/garments/${table.code}` }],
    });
    const { text } = await house.page('/shelf/pieces/B1').expect(200);
    expect(text).toContain(said());
  });

  it('is undone from the page of the piece', async () => {
    await cut('2.5').expect(200);
    const { entries } = await read();
    expect(entries[0].undoKey).not.toBe('');
    await house.submit('/undo', { undoes: entries[0].requestKey }).expect(303);
    expect((await read()).piece).toMatchObject({ onHand: '10 m', cost: '€100.00' });
  });

  it('needs no garment', async () => {
    await cut('1', { kind: 'sold', garment: '', note: 'to the school' }).expect(200);
    const { entries } = await read();
    expect(entries[0]).toMatchObject({ otherUse: 'sale: to the school', links: [] });
  });

  it('takes a garment by its code in any case, with its name behind it, finished or not', async () => {
    await house.send(`/garments/${table.code}/finished`, {}).expect(200);
    await cut('1', { ...repair(), garment: ` ${table.code.toLowerCase()} Petticoat` }).expect(200);
    expect((await read()).entries[0].otherUse).toBe(said());
  });

  it('takes all that is free by a tick, to the last tick of length', async () => {
    await hold('2').expect(200);
    house.write((tx) => splitPiece(tx, 1, { lengthTicks: 1_000_003, typed: '' }));
    const { fields } = (await read()).useForms.newUse;
    expect(fields.all).toMatchObject({
      kind: 'checkbox',
      label: 'All that is free (≈ 1.74 m)',
      checked: false,
    });
    const { body } = await house
      .send(USES, { kind: 'sold', garment: '', note: '', all: 'yes', doing: 'cut' })
      .expect(200);
    expect(body.said).toBe('≈ 1.74 m of B1 cut for sale.');
    expect((await read()).piece).toMatchObject({ onHand: '2 m', free: '0 m' });
  });

  it('goes on to the piece from a browser', async () => {
    const done = await house.submit(USES, { ...repair(), length: '1', doing: 'cut' }).expect(303);
    const { text } = await house.page(done.headers.location ?? '').expect(200);
    expect(text).toContain(`1 m of B1 cut for ${said()}.`);
  });
});

describe('a refused form', () => {
  it('tells every problem at its field and keeps what was typed', async () => {
    const { body } = await house
      .send(USES, { length: 'much', kind: 'dress', garment: 'G99 Gone', note: 'x'.repeat(201) })
      .expect(422);
    expect(body.error.problems.map(({ field }: { field: string }) => field)).toEqual([
      'length',
      'kind',
      'garment',
      'note',
      'doing',
    ]);
    expect(body.error.problems[2].message).toBe('There is no garment G99: check the code.');
    const { text } = await house
      .submit(USES, { ...repair(), length: '1', garment: 'G99 Gone', doing: 'cut' })
      .expect(422);
    expect(text).toMatch(/<details id="other-use" open>/);
    expect(text).toContain('value="G99 Gone"');
    expect(text).toContain(
      '<p class="wrong" id="f-garment-error">There is no garment G99: check the code.</p>',
    );
    expect(text).toContain('value="torn ruffle"');
  });

  it('asks for one length, and for one that there is', async () => {
    const use = { kind: 'sold', garment: '', note: '', doing: 'cut' };
    const neither = await house.send(USES, use).expect(422);
    expect(neither.body.error.problems).toEqual([
      { field: 'length', message: 'Give a length, or tick all that is free.' },
    ]);
    const both = await house.submit(USES, { ...use, length: '1', all: 'yes' }).expect(422);
    expect(both.text).toContain('Give a length or tick all that is free, not both.');
    expect(both.text).toMatch(/name="all"[^>]* checked/);
    await hold('10').expect(200);
    const none = await house.send(USES, { ...use, all: 'yes' }).expect(409);
    expect(none.body.error.problems[0].message).toBe('Nothing of B1 is free.');
  });

  it('asks for a note where it is for something else', async () => {
    const { body } = await cut('1', { kind: 'other', garment: '', note: ' ' }).expect(422);
    expect(body.error.problems).toEqual([{ field: 'note', message: 'Say what it is for.' }]);
    const { text } = await house
      .submit(USES, { kind: 'other', garment: '', note: '', length: '1', doing: 'hold' })
      .expect(422);
    expect(text).toContain('<p class="wrong" id="f-note-error">Say what it is for.</p>');
    expect(house.book.all(house.book.db.selectFrom('other_use').selectAll())).toEqual([]);
  });

  it('for more than is free says who holds what', async () => {
    house.write((tx) => holdLength(tx, 1, table.tierId, { lengthTicks: length('3'), typed: '3' }));
    await hold('4').expect(200);
    const { body } = await cut('3.5').expect(409);
    const [{ message }] = body.error.problems;
    expect(message).toContain('3.5 m was asked of B1, and 3 m can be had.');
    expect(message).toContain(`4 m is held for ${said()}.`);
    expect(message).toContain(`3 m is held for Tier 1 of ${table.code}.`);
    const { text } = await house.submit(USES, { ...repair(), length: '3.5', doing: 'cut' }).expect(409);
    expect(text).toContain('value="3.5"');
    expect(text).toMatch(/<details id="other-use" open>/);
  });

  it('is of a piece that is there', async () => {
    await house.send('/shelf/pieces/B99/uses', { ...repair(), length: '1', doing: 'cut' }).expect(404);
  });
});

describe('a length held for something else', () => {
  it('is told by its words, with a form of its own', async () => {
    const { body } = await hold('3').expect(200);
    expect(body.said).toBe(`3 m of B1 held for ${said()}.`);
    await hold('1', { kind: 'lent', garment: '', note: '' }).expect(200);
    const { piece, useForms } = await read();
    expect(piece).toMatchObject({ held: '4 m', free: '6 m' });
    expect(piece.holds).toEqual([
      {
        heldTicks: length('3'),
        held: '3 m',
        heldFor: said(),
        href: `/garments/${table.code}`,
        otherUseId: 1,
      },
      { heldTicks: length('1'), held: '1 m', heldFor: 'loan', href: '', otherUseId: 2 },
    ]);
    expect(useForms.heldUses).toMatchObject([
      { otherUseId: 1, cuts: `${USES}/1/cuts`, releases: `${USES}/1/releases` },
      { otherUseId: 2 },
    ]);
    const { text } = await house.page('/shelf/pieces/B1').expect(200);
    expect(text).toContain(`<a href="/garments/${table.code}">${said()}</a>`);
    expect(text).toContain('<th scope="row">loan</th>');
    expect(text).toContain(`formaction="${USES}/1/releases"`);
  });

  it('is cut whole where no length is given, else the length, out of what is free besides', async () => {
    await hold('3').expect(200);
    const part = await house.send(`${USES}/1/cuts`, { length: '1' }).expect(200);
    expect(part.body).toMatchObject({ said: `1 m of B1 cut for ${said()}.`, after: '9 m of B1 is left.' });
    expect((await read()).piece).toMatchObject({ held: '2 m', onHand: '9 m', cost: '€90.00' });
    await house.submit(`${USES}/1/cuts`, { length: '' }).expect(303);
    expect((await read()).piece).toMatchObject({ held: '', onHand: '7 m', cost: '€70.00' });
    await hold('1').expect(200);
    await house.send(`${USES}/2/cuts`, { length: '1.5' }).expect(200);
    expect((await read()).piece).toMatchObject({ held: '', onHand: '5.5 m' });
  });

  it('is released, in part or whole', async () => {
    await hold('3').expect(200);
    const part = await house.send(`${USES}/1/releases`, { length: '1' }).expect(200);
    expect(part.body.said).toBe(`1 m of B1 released; it was held for ${said()}.`);
    expect((await read()).piece).toMatchObject({ held: '2 m', onHand: '10 m' });
    await house.submit(`${USES}/1/releases`, {}).expect(303);
    expect((await read()).piece).toMatchObject({ held: '', free: '10 m' });
  });

  it('is refused beside its own field', async () => {
    await hold('3').expect(200);
    const { text } = await house.submit(`${USES}/1/cuts`, { length: 'some' }).expect(422);
    expect(text).toMatch(/id="use-1" open>/);
    expect(text).toMatch(/<input type="text" value="some" id="f-length"/);
    expect(text).toMatch(/<p class="wrong" id="f-length-error">/);
    const more = await house.send(`${USES}/1/releases`, { length: '4' }).expect(409);
    expect(more.body.error.problems[0].message).toContain('4 m was to be released of B1, and 3 m is held.');
  });

  it('is gone once it was cut or released', async () => {
    await hold('3').expect(200);
    await house.send(`${USES}/1/releases`, {}).expect(200);
    for (const what of ['cuts', 'releases']) {
      const { body } = await house.send(`${USES}/1/${what}`, {}).expect(409);
      expect(body.error.problems[0].message).toBe(`Nothing of B1 is held for ${said()}.`);
    }
    await house.send(`${USES}/9/cuts`, {}).expect(404);
    await house.send(`${USES}/x/releases`, {}).expect(404);
  });
});

describe('elsewhere in the house', () => {
  it('the ledger and its list tell what a length was for', async () => {
    await hold('3').expect(200);
    await cut('1', { kind: 'swatch', garment: '', note: '' }).expect(200);
    const { body } = await house.data('/shelf/ledger').expect(200);
    expect(body.entries.map(({ otherUse }: { otherUse: string }) => otherUse)).toEqual([
      'swatch',
      said(),
      '',
    ]);
    const { text } = await house.page('/setup/lists/out/ledger.csv').expect(200);
    const [heading = '', ...rows] = text.trim().split(/\r?\n/);
    expect(heading).toContain('Garment,Tier,Other use,Strips');
    expect(rows[1]).toContain(`,${table.code},,${said()},,`);
    expect(rows[2]).toContain(',,,swatch,,');
  });

  it('the cutting table says who holds the rest of a piece', async () => {
    await hold('9.9').expect(200);
    const { body } = await house.data(`${table.path}/holds?piece=B1`).expect(200);
    expect(body.card).toMatchObject({ heldHere: '', holds: [`9.9 m is held for ${said()}`] });
    const refused = await house.send(`${table.path}/holds`, { piece: 'B1', length: '0.96' }).expect(409);
    expect(refused.body.error.problems[0].message).toContain(`9.9 m is held for ${said()}.`);
  });

  it('a garment tells of it, costs it in a line of its own, and is not finished while it is held', async () => {
    await hold('3').expect(200);
    await cut('1', { kind: 'part', garment: table.code, note: 'sash' }).expect(200);
    await cut('1', { kind: 'part', garment: table.code, note: 'sash undone' }).expect(200);
    await house.submit('/undo', { undoes: (await read()).entries[0].requestKey }).expect(303);
    const path = `/garments/${table.code}`;
    const piece = { code: 'B1', href: '/shelf/pieces/B1' };
    expect((await house.data(path).expect(200)).body.otherUses).toEqual([
      { use: 'repair: torn ruffle', piece, held: '3 m', cut: '' },
      { use: 'part: sash', piece, held: '', cut: '1 m' },
    ]);
    expect((await house.page(path).expect(200)).text).toContain('part: sash');
    const { sums } = (await house.data(`${path}/cost`).expect(200)).body;
    expect(sums).toMatchObject({ committed: '€30.00', spent: '€10.00', planned: '€9.60', unpriced: 0 });
    expect(
      sums.rows.map((row: Record<string, string>) => [row.otherUse, row.planned, row.held, row.cut]),
    ).toEqual([
      ['', '€9.60', '', ''],
      ['repair: torn ruffle', '', '€30.00', ''],
      ['part: sash', '', '', '€10.00'],
    ]);
    for (const page of ['cost', 'book']) {
      expect((await house.page(`${path}/${page}`).expect(200)).text).toContain('repair: torn ruffle');
    }
    const refused = await house.send(`${path}/finished`, {}).expect(409);
    expect(refused.body.error.problems[0].message).toBe(
      `Cloth is still held for ${table.code}: B1. Cut or release it, then mark it finished.`,
    );
    await house.send(`${USES}/1/releases`, {}).expect(200);
    await house.send(`${path}/finished`, {}).expect(200);
  });

  it('a sale stands in the month in which it was cut, beside what was spent', async () => {
    await cut('2', { kind: 'sold', garment: '', note: '' }).expect(200);
    await cut('1').expect(200);
    const { body } = await house.data('/orders/spend').expect(200);
    expect(body.months.at(-1)).toMatchObject({ otherUses: '€20.00', spent: '€100.00', writtenOff: '' });
    expect((await house.page('/orders/spend').expect(200)).text).toContain('€20.00');
  });
});

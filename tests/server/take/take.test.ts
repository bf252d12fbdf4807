import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cutLength } from '../../../server/ledger/verbs.ts';
import type { takePage } from '../../../server/take/page.ts';
import { makeGarment, makeTierOf, stockOf } from '../garments/making.ts';
import { length, makeBolt, makeLot, openTestHouse, type Stock, type TestHouse } from '../support.ts';

type Data = ReturnType<typeof takePage>['data'];

let house: TestHouse;
let stock: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterEach(() => house.shut());

const nameOf = (table: 'cloth' | 'shade', id: number) =>
  house.book.first(house.book.db.selectFrom(table).select('name').where('id', '=', id))?.name ?? '';

/** Asks in the cloth and shade of the stock, unless it is asked otherwise. */
async function ask(asked: Record<string, string>): Promise<Data> {
  const of = { cloth: String(stock.clothId), shade: String(stock.shadeId), ...asked };
  const answer = await house.data(`/take?${new URLSearchParams(of)}`);
  expect(answer.status).toBe(200);
  return answer.body;
}

async function said(asked: Record<string, string>): Promise<string> {
  return (await ask(asked)).answer?.said ?? '';
}

/** A garment whose tier needs 2 strips of 30 cm depth, one beside the other: 60 cm of cloth. */
async function need60cm(): Promise<string> {
  const code = await makeGarment(house);
  await makeTierOf(house, code, stock);
  return code;
}

const bolt = (text: string, lotId = stock.lotId) => house.write((tx) => makeBolt(tx, lotId, text));
const lotOf = () =>
  house.book.first(house.book.db.selectFrom('lot').select('code').where('id', '=', stock.lotId))?.code;

describe('Can I take', () => {
  it('says yes, from which piece and lot, and what is to spare after that', async () => {
    await need60cm();
    const { code } = bolt('5 m');
    expect(await said({ length: '3 m' })).toBe(
      `Yes: 3 m of ${code}, lot ${lotOf()}. That leaves 1.4 m of ${code} to spare.`,
    );
    // 5 m less 60 cm that the garment needs.
    expect(await said({ length: '4.4 m' })).toContain(`That leaves nothing of ${code} to spare.`);
    const afterOf = async (asked: string) =>
      (await ask({ length: asked })).answer?.takings.map(({ after }) => after);
    expect(await afterOf('4 m')).toEqual(['After that 1 m is free and 0.4 m to spare.']);
    expect(await afterOf('4.4 m')).toEqual(['After that 0.6 m is free and nothing to spare.']);
    expect(await afterOf('5 m')).toEqual(['After that nothing is free.']);
    expect((await ask({ length: '1 m' })).answer?.lengths).toMatchObject({
      onHand: '5 m',
      held: '',
      needed: '0.6 m',
      spare: '4.4 m',
      longestSpare: '4.4 m',
    });
  });

  it('says which garment would become short of what', async () => {
    const garment = await need60cm();
    const { code } = bolt('5 m');
    const { answer } = await ask({ length: '4.6 m' });
    // 40 cm are left: one strip of 30 cm instead of two.
    expect(answer?.said).toBe(
      `Yes, 4.6 m of ${code}, lot ${lotOf()}; but then ${garment} Petticoat would be short of 1 more strip.`,
    );
    expect(answer?.lost.map(({ text }) => text)).toEqual([
      `${garment} Petticoat: Tier 1 would be short of 1 more strip`,
    ]);
  });

  it('lets garments find what they need in other pieces', async () => {
    await need60cm();
    bolt('1 m');
    const { code } = bolt('5 m');
    // The garment is given the tighter piece; all of the other is to spare.
    expect(await said({ length: '5 m' })).toContain(`Yes: 5 m of ${code}`);
    // The 1 m piece has 40 cm to spare: the garment moves to the other one and is short of nothing.
    const { answer } = await ask({ length: '1 m', lots: 'one' });
    expect(answer?.may).toBe('spare');
  });

  it('takes it where garments find what they need elsewhere, before it costs one of them anything', async () => {
    const lot = () => house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId));
    const [fixed, other] = [lot(), lot()];
    // One strip is cut, so that the other must be of its lot: 30 cm of the 70 cm that are left.
    const bound = bolt('1 m', fixed);
    const tierId = await makeTierOf(house, await makeGarment(house), stock);
    const cut = { lengthTicks: length('30 cm'), typed: '', tierId, strips: 1 };
    house.write((tx) => cutLength(tx, bound.id, cut));
    // Another garment takes 60 cm of the lot of which there is most, and may as well have those of the next.
    await need60cm();
    const { code } = bolt('90 cm');
    bolt('60 cm', other);
    bolt('20 cm', other);
    expect(await said({ length: '65 cm' })).toBe(
      `Yes: 0.65 m of ${code}, lot ${lotOf()}. That leaves 0.25 m of ${code} to spare.`,
    );
    // Of several cloths it is not looked at so closely.
    const more = stockOf(house);
    house.write((tx) => makeBolt(tx, makeLot(tx, more.clothId, stock.shadeId), '5 m'));
    const all = (await house.data(`/take?length=65+cm&shade=${stock.shadeId}`).expect(200)).body as Data;
    expect(all.others.map(({ may, said: text }) => [may, text])).toEqual([
      ['spare', expect.stringContaining('Yes: 0.65 m')],
      [
        'perhaps',
        expect.stringMatching(`^Perhaps: 0.65 m of ${bound.code}, .*garments need 0.25 m of that.$`),
      ],
    ]);
  });

  it('says no, with the longest there is, and what would cure it', async () => {
    const [one, other] = [bolt('2 m'), bolt('1.5 m')];
    const { answer } = await ask({ length: '3 m' });
    expect(answer?.said).toBe('No: the longest free length is 2 m.');
    const cures = answer?.cures.map(({ text }) => text) ?? [];
    expect(cures[0]).toBe(
      `With a seam: 2 m of ${one.code}, lot ${lotOf()} and 1 m of ${other.code}, lot ${lotOf()}, the seam allowance not counted.`,
    );
    expect(cures.at(-1)).toBe('Buy 3 m.');
    expect(await said({ length: '4 m', shade: String(stockOf(house).shadeId) })).toBe('No: nothing is free.');
  });

  it('does not mix lots unless it may', async () => {
    const second = house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId));
    bolt('50 cm');
    bolt('50 cm', second);
    // 147 cm are 4 strips of 35 cm beside each other; 50 cm are 2 drops of 20 cm: 8 strips a piece.
    const strips = { strips: '16', depth: '20', strip_length: '35' };
    const { answer } = await ask(strips);
    expect(answer?.said).toBe('No: what is free gives 8 of these strips, of one lot.');
    expect(answer?.cures.map(({ text }) => text)).toContain('From several lots, if the lots match.');
    expect((await ask({ ...strips, lots: 'any' })).answer?.takings).toHaveLength(2);
    expect((await ask({ ...strips, strips: '8' })).answer?.takings).toMatchObject([{ length: '0.4 m' }]);
  });

  it('points to undyed cloth, and to what is held', async () => {
    const ground = stockOf(house, { ground: true });
    const undyed = house.write((tx) => makeLot(tx, stock.clothId, ground.shadeId));
    bolt('9 m', undyed);
    const { answer } = await ask({ length: '3 m' });
    const dye = answer?.cures.find(({ text }) => text.includes('undyed'));
    expect(dye?.text).toBe('9 m is to spare undyed, in 1 piece.');
    expect(dye?.link?.href).toBe(
      `/dye-bench/batches/new?cloth=${stock.clothId}&shade=${stock.shadeId}&wanted=3`,
    );
  });

  it('is asked in one text, from the field for codes too', async () => {
    const { code } = bolt('5 m');
    const [cloth, shade] = [nameOf('cloth', stock.clothId), nameOf('shade', stock.shadeId)];
    const asked = async (text: string) =>
      (await house.data(`/take?${new URLSearchParams({ ask: text })}`)).body;
    expect((await asked(`3 m ${shade.toUpperCase()}`)).answer.said).toContain(`Yes: 3 m of ${code}`);
    expect((await asked(`3 m ${cloth} ${shade}`)).answer.said).toContain('Yes: 3 m');
    expect((await asked(`2 1/2 yd ${shade} ${cloth}`)).answer.takings).toHaveLength(1);
    const unclear = await house.data('/take?ask=3+m+mauve');
    expect(unclear.status).toBe(422);
    expect(unclear.body.error.problems).toEqual([
      { field: 'shade', message: 'No cloth or shade is called “mauve”: choose them.' },
    ]);
    const found = await house.page(`/find?${new URLSearchParams({ code: `3 m ${shade}` })}`).expect(303);
    expect(found.headers.location).toBe(`/take?${new URLSearchParams({ ask: `3 m ${shade}` })}`);
    const behind = await house.page(`/find?${new URLSearchParams({ code: `${shade} 3 m` })}`).expect(303);
    expect(behind.headers.location).toBe(`/take?${new URLSearchParams({ ask: `${shade} 3 m` })}`);
    // A number alone is a code that nothing has.
    for (const code of ['zz', '4471', '2026-07'])
      expect((await house.page(`/find?code=${code}`).expect(404)).text).toContain(code);
  });

  it('finds the names by words in any order, and answers for all that have them', async () => {
    const named = (shade: string, cloth: string, ground = false) => {
      const of = stockOf(house, { ground });
      const { db } = house.book;
      house.write((tx) => {
        tx.run(db.updateTable('cloth').set({ name: cloth }).where('id', '=', of.clothId));
        tx.run(db.updateTable('shade').set({ name: shade }).where('id', '=', of.shadeId));
        makeBolt(tx, of.lotId, '5 m');
      });
    };
    named('Plum', 'Voile 150');
    named('Plum dark', 'Stiff voile');
    named('Satin rose', 'Ivory tulle');
    named('Ivory', 'Satin');
    named('Natural', 'Lawn 2 ply', true);
    const asked = async (text: string) => {
      const { body }: { body: Data } = await house
        .data(`/take?${new URLSearchParams({ ask: text })}`)
        .expect(200);
      return [body.answer, ...body.others].flatMap((one) =>
        one ? [`${one.cloth.name}, ${one.chip.name}`] : [],
      );
    };
    expect(await asked('3 m voile')).toEqual(['Stiff voile, Plum dark', 'Voile 150, Plum']);
    expect(await asked('3 m DARK  voile')).toEqual(['Stiff voile, Plum dark']);
    expect(await asked('voile plum 3 m')).toEqual(['Stiff voile, Plum dark', 'Voile 150, Plum']);
    expect(await asked('3 m of dark, stiff')).toEqual(['Stiff voile, Plum dark']);
    expect(await asked('3 m of voile in plum')).toEqual(['Stiff voile, Plum dark', 'Voile 150, Plum']);
    expect(await asked('plum 150cm')).toEqual(['Voile 150, Plum']);
    // A name that is whole comes before another that has it in it.
    expect(await asked('3 m plum')).toEqual(['Voile 150, Plum']);
    expect(await asked('3 m satin')).toEqual(['Satin, Ivory']);
    expect(await asked('3 m ivory')).toEqual(['Satin, Ivory']);
    expect(await asked('3 m ivory t')).toEqual(['Ivory tulle, Satin rose']);
    expect(await asked('3 m sat')).toEqual(['Ivory tulle, Satin rose', 'Satin, Ivory']);
    expect(await asked('3 m undyed')).toEqual(['Lawn 2 ply, Natural']);
    expect(await asked('3 m 2 ply')).toEqual(['Lawn 2 ply, Natural']);
    expect(await asked('3 voile 150')).toEqual(['Voile 150, Plum']);
    const problems = async (text: string) =>
      (await house.data(`/take?${new URLSearchParams({ ask: text })}`)).body.error.problems;
    expect(await problems('voile 150')).toEqual([
      { field: 'length', message: expect.stringContaining('how much') },
    ]);
    expect(await problems('voile')).toEqual([
      { field: 'length', message: expect.stringContaining('“voile”') },
    ]);
    expect(await problems('3 m v m')).toMatchObject([{ field: 'shade' }]);
    expect(await problems('1,500 m plum')).toMatchObject([{ field: 'length' }]);
    expect(await problems('-1 m plum')).toMatchObject([{ field: 'length' }]);
    // The words are asked again with the form, until something is chosen.
    expect((await house.page('/take?ask=3+m+voile')).text).toContain('name="ask" value="voile"');
    const again: Data = (await house.data('/take?ask=voile&length=1').expect(200)).body;
    expect(again.others).toHaveLength(2);
    expect(again.said).toBe('1 m of “voile”');
  });

  it('says what is wrong with strips that no piece gives, and buys and dyes as much as they take', async () => {
    const ground = stockOf(house, { ground: true });
    bolt('1 m');
    bolt(
      '9 m',
      house.write((tx) => makeLot(tx, stock.clothId, ground.shadeId)),
    );
    const cures = async (asked: Record<string, string>) =>
      (await ask(asked)).answer?.cures.map(({ link }) => link?.href) ?? [];
    const wide = { strips: '4', depth: '20', strip_length: '150' };
    expect(await said(wide)).toBe('No: the widest free piece is 147 cm wide, and a strip lies across it.');
    expect(await cures(wide)).toEqual([]);
    expect(await said({ ...wide, depth: '110', strip_length: '35' })).toBe(
      'No: the longest free length is 1 m.',
    );
    // 4 strips of 35 cm lie beside each other; 24 are 6 drops of 20 cm.
    const many = { strips: '24', depth: '20', strip_length: '35' };
    expect(await said(many)).toBe('No: what is free gives 20 of these strips, of one lot.');
    const of = `cloth=${stock.clothId}&shade=${stock.shadeId}`;
    expect(await cures(many)).toEqual([
      `/dye-bench/batches/new?${of}&wanted=1.2`,
      `/orders/basket?needs.0.cloth_id=${stock.clothId}&needs.0.shade_id=${stock.shadeId}&needs.0.length=1.2`,
    ]);
  });

  it('tells a flaw in a length, and what a garment loses by a flaw that comes nearer', async () => {
    const garment = await need60cm();
    const flawAt = async (code: string, at: string, to: string) =>
      house.send(`/shelf/pieces/${code}/flaws`, {
        from: at,
        to,
        left: '',
        right: '',
        what: 'hole',
        back: '',
      });
    const { code } = bolt('90 cm');
    await flawAt(code, '65 cm', '67 cm');
    // Behind 20 cm the flaw leaves 45 and 23 cm: one strip of 30 cm instead of two.
    expect(await said({ length: '20 cm' })).toBe(
      `Yes, 0.2 m of ${code}, lot ${lotOf()}; but then ${garment} Petticoat would be short of 1 more strip (quick estimate, without the planner).`,
    );
    const { code: long } = bolt('3 m');
    await flawAt(long, '50 cm', '52 cm');
    await flawAt(long, '1.2 m', '1.3 m');
    const { answer } = await ask({ length: '2.9 m' });
    expect(answer?.said).toBe(
      `Yes: 2.9 m of ${long}, lot ${lotOf()}, with 2 flaws in it. That leaves 0.1 m of ${long} to spare.`,
    );
    expect(answer?.takings).toMatchObject([
      { code: long, flaws: '2 flaws in that length, the first 0.5 m from the free end' },
    ]);
    const page = await house.page(`/take?length=2.9+m&cloth=${stock.clothId}&shade=${stock.shadeId}`);
    expect(page.text).toContain(`/shelf/pieces/${long}/flaws`);
    // Clean cloth comes first, though the piece is less tight.
    const { code: clean } = bolt('6 m');
    expect(await said({ length: '2.9 m' })).toContain(`Yes: 2.9 m of ${clean}`);
    const [seam] = (await ask({ length: '8 m' })).answer?.cures.map(({ text }) => text) ?? [];
    expect(seam).toContain(`and 2 m of ${long}, lot ${lotOf()}, with 2 flaws in it, the seam allowance`);
  });

  it('of a shade alone tells every cloth, those that have it first', async () => {
    bolt('1 m');
    const other = stockOf(house);
    const wide = house.write((tx) => makeLot(tx, other.clothId, stock.shadeId));
    bolt('4 m', wide);
    const data: Data = (await house.data(`/take?length=3+m&shade=${stock.shadeId}`).expect(200)).body;
    expect(data.others.map(({ cloth, may }) => [cloth.name, may])).toEqual([
      [nameOf('cloth', other.clothId), 'spare'],
      [nameOf('cloth', stock.clothId), 'no'],
    ]);
    expect(data.others[0]?.href).toBe(
      `/take?length=3+m&cloth=${other.clothId}&shade=${stock.shadeId}&lots=one`,
    );
  });

  it('asks the same of whoever follows a link, and links where what it writes is read', async () => {
    const ground = stockOf(house, { ground: true });
    bolt(
      '9 m',
      house.write((tx) => makeLot(tx, stock.clothId, ground.shadeId)),
    );
    const of = `cloth=${stock.clothId}&shade=${stock.shadeId}`;
    expect((await ask({ length: '3' })).link).toBe(`/take?length=3+m&${of}&lots=one`);
    expect((await ask({ strips: '4', depth: '2½', strip_length: '9 in' })).link).toBe(
      `/take?strips=4&depth=2%C2%BD+cm&strip_length=9+in&${of}&lots=one`,
    );
    const { db } = house.book;
    house.write((tx) => tx.run(db.updateTable('person').set({ length_system: 'imperial' })));
    const { answer, link } = await ask({ length: '2.301 m' });
    expect(link).toBe(`/take?length=2.301+m&${of}&lots=one`);
    const [dye, buy = ''] = answer?.cures.flatMap((cure) => cure.link?.href ?? []) ?? [];
    expect(dye).toContain('&wanted=2301+mm');
    expect((await house.page(buy).expect(200)).text).toContain('value="2301 mm"');
    // A bare number is in yards now.
    expect((await ask({ length: '3' })).link).toBe(`/take?length=3+yd&${of}&lots=one`);
  });

  it('keeps what was typed where it cannot be read, and says what is missing', async () => {
    const problems = async (asked: Record<string, string>) => {
      const { status, body } = await house.data(`/take?${new URLSearchParams(asked)}`);
      expect(status).toBe(422);
      return body.error.problems.map(({ field }: { field: string }) => field);
    };
    expect(await problems({ length: 'much', shade: '1' })).toEqual(['length']);
    expect(await problems({ length: '3 m', strips: '4', shade: '1' })).toEqual(['strips']);
    expect(await problems({ strips: '4', shade: '1' })).toEqual(['depth']);
    expect(await problems({ strips: '4', depth: '20', shade: '1' })).toEqual(['strip_length']);
    expect(await problems({ depth: '20', strip_length: '1 m', shade: '1' })).toEqual(['strips']);
    expect(await problems({ length: '3 m' })).toEqual(['cloth']);
    // A link from a shade's page leaves open how much.
    const begun = await house.data(`/take?shade=${stock.shadeId}`).expect(200);
    expect(begun.body).toMatchObject({ answer: null, others: [], said: '' });
    expect(begun.body.fields.shade.value).toBe(String(stock.shadeId));
    const page = await house.page('/take?length=much&shade=1').expect(422);
    expect(page.text).toContain('value="much"');
    expect((await house.page('/take').expect(200)).text).toContain('Can I take it?');
  });

  it('takes it at once, or holds it, for what is typed', async () => {
    const { code } = bolt('5 m');
    const { answer } = await ask({ length: '3 m' });
    const use = answer?.takings[0]?.use;
    expect(use?.fields.length.value).toBe('3');
    const sent = { length: '3 m', kind: 'repair', garment: '', note: 'torn ruffle', all: '', doing: 'cut' };
    await house.submit(use?.action ?? '', sent).expect(303);
    const left = house.book.first(
      house.book.db.selectFrom('piece').select('on_hand_ticks').where('code', '=', code),
    );
    expect(left?.on_hand_ticks).toBe(length('2 m'));
    expect((await ask({ length: '3 m' })).answer?.may).toBe('no');
  });
});

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import {
  CONE,
  makeGarment,
  makeTierOf,
  pageOf,
  problemsOf,
  stockOf,
  tierOfPage,
  workedOf,
} from '../making.ts';

let house: TestHouse;
let stock: Stock;
beforeAll(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterAll(() => house.shut());

const edit = (code: string, fields: object) => house.send(`/garments/${code}/edit`, { ...CONE, ...fields });

describe('a garment with an opening', () => {
  it('makes its tiers bands, half-open rings and rings, with their strips, and says so wherever they stand', async () => {
    const code = await makeGarment(house);
    // On the cone of 95 cm at the waist, 2 cm more a cm down, three times full; each strip is the whole width.
    await makeTierOf(house, code, stock, { name: 'Yoke', depth: '10', end: '3' });
    await makeTierOf(house, code, stock, { name: 'Skirt', drop: '10', depth: '60', end: '3' });
    await makeTierOf(house, code, stock, {
      name: 'Net',
      drop: '12',
      depth: '60',
      end: '3',
      opening_way: 'unsewn',
    });
    await makeTierOf(house, code, stock, { name: 'Hem', drop: '70', depth: '20', end: '3' });
    const before = await tierOfPage(house, code, 'Skirt');
    expect(workedOf(before).closing).toBe('Ring');
    expect((await edit(code, { opening: '25', fastening: 'hooks', fastener: '5' })).status).toBe(200);

    const page = await pageOf(house, code);
    expect(page.opening?.text).toBe('It opens 25 cm below the waist and is closed by hooks.');
    expect(page.opening?.tiers).toEqual([
      { name: 'Yoke (1)', how: 'Open' },
      { name: 'Skirt (2)', how: 'Open 15 cm down from its upper edge, a ring below' },
      {
        name: 'Net (3)',
        how: 'Open 13 cm down from its upper edge, a ring below; the seam is left unsewn there',
      },
    ]);
    expect(page.opening?.rings).toBe('Hem (4)');
    // 25 ÷ 5 and one; laps of 2 × 10 and 2 × 15, none for the net.
    expect(page.opening?.wants.map(({ what, text }: { what: string; text: string }) => [what, text])).toEqual(
      [
        ['Hooks', '6'],
        ['Lap strip', '50 cm'],
      ],
    );
    const skirt = workedOf(await tierOfPage(house, code, 'Skirt'));
    expect(skirt.steps.join('\n')).toContain('2 × 3 cm end');
    expect(skirt.steps.join('\n')).toContain('as one seam is open above');

    const book = await house.page(`/garments/${code}/book`).expect(200);
    expect(book.text).toContain('Leave the last seam open for 15 cm of its finished depth: turn in 3 cm');
    expect(book.text).toContain(
      'Leave the last seam open for 13 cm of its finished depth, the edges as they are.',
    );
    expect(book.text).toContain('Leave it open from top to bottom: turn in 3 cm');
    const versions = await house.page(`/garments/${code}/versions`).expect(200);
    expect(versions.text).toContain('Depth of the opening');
  });

  it('wants another strip where two ends cost one, in needs and Short', async () => {
    const code = await makeGarment(house);
    // 200 cm of girth at 52.5 cm down, twice full: 4 strips of 102 cm are just 400 cm as a ring.
    const exact = { drop: '52.5', depth: '30', fullness: '2', strip_length: '102', end: '3' };
    await makeTierOf(house, code, stock, exact);
    const strips = async () => (await pageOf(house, code)).needs[0]?.strips;
    expect(await strips()).toBe(4);
    await edit(code, { opening: '60' });
    expect(await strips()).toBe(5);
    const short = await house.data(`/short?garment=${code}`).expect(200);
    expect(JSON.stringify(short.body)).toContain('"strips":5');
  });

  it('says of a ring that hips do not pass it, before it is saved and on its page', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock, { name: 'Skirt', depth: '60' });
    const tight =
      'Skirt (1) is a ring of 95 cm: the 110 cm that it is put on over cannot pass. Make the opening deeper, or draw it up with a cord or elastic.';
    const tried = await edit(code, { over: '110', act: 'work-out' });
    expect(tried.body.outcome.warnings).toContain(tight);
    await edit(code, { over: '110' });
    expect((await pageOf(house, code)).warnings).toContain(tight);
    // 95 + 2 × 7 = 109 is still too small, 95 + 2 × 8 is not.
    await edit(code, { over: '110', opening: '7' });
    expect((await pageOf(house, code)).warnings.join()).toContain('which lets 109 cm through');
    await edit(code, { over: '110', opening: '8' });
    expect((await pageOf(house, code)).warnings.join()).not.toContain('cannot pass');
  });

  it('says that nothing opens where every tier begins below its foot', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock, { drop: '30' });
    await edit(code, { opening: '20' });
    expect((await pageOf(house, code)).warnings).toContain(
      'No tier begins above the foot of the opening, 20 cm down: nothing opens.',
    );
  });

  it('refuses fasteners of no opening', async () => {
    const code = await makeGarment(house);
    const answer = await edit(code, { fastener: '5' });
    expect(answer.status).toBe(422);
    expect(problemsOf(answer)).toEqual({
      opening: 'Give the depth of the opening that the fasteners close.',
    });
  });

  it('is copied with its garment', async () => {
    const code = await makeGarment(house, { opening: '22', fastening: 'lacing', over: '100' });
    const copied = await house.send(`/garments/${code}/copies`, { name: 'Twin' });
    const twin = copied.body.location.split('/').at(-1);
    expect((await pageOf(house, twin)).opening?.text).toBe(
      'It opens 22 cm below the waist and is closed by lacing.',
    );
  });
});

import { HtmlValidate } from 'html-validate';
import { JSDOM } from 'jsdom';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../support.ts';
import { asForm, makeGarment, makeTierOf, stockOf, tierFields } from './making.ts';

let house: TestHouse;
let paths: string[];
beforeAll(async () => {
  house = await openTestHouse();
  const [stock, other] = [stockOf(house), stockOf(house)];
  const code = await makeGarment(house, { name: 'A <b>bold</b> "petticoat" & more' });
  const blocks = [
    { shade_id: String(stock.shadeId), strips: '1' },
    { shade_id: String(other.shadeId), strips: '1' },
  ];
  const id = await makeTierOf(house, code, stock, { blocks, drop: '40', fullness: '6' });
  await makeTierOf(house, code, stock, {
    name: 'Ruffle',
    hangs: `edge-${id}`,
    depth: '9',
    drop: '',
  });
  const out = await makeTierOf(house, code, stock, { name: 'Out' });
  await house.send(`/garments/${code}/tiers/${out}/taken-out`, {});
  house.write((tx) => makeBolt(tx, stock.lotId, '1 m'));
  const finished = await makeGarment(house);
  await house.send(`/garments/${finished}/finished`, {});
  const form = `/garments/${code}/tiers/${id}`;
  paths = ['/garments', '/garments/new', `/garments/${code}`, `/garments/${code}/edit`, form];
  paths.push(
    ...['versions', 'versions/compare', 'copies', 'book'].map((page) => `/garments/${code}/${page}`),
  );
  paths.push(`/garments/${finished}/book`, `/garments/${code}/versions/compare?from=${code}&to=${finished}`);
  const band = 'base=95&closing=open&fullness=3&usable_width=58&seam=1&cut_depth=10&price=4';
  paths.push(`/garments/${code}/sewing`, `${form}/backwards`, '/garments/quick', `/garments/quick?${band}`);
  paths.push('/setup/rates', '/setup/rates/gathering');
  paths.push(`/garments/${code}/tiers/new`, `/garments/${finished}`, '/short', `/short?garment=${code}`);
});
afterAll(() => house.shut());

const validator = new HtmlValidate({
  extends: ['html-validate:standard'],
  rules: {
    'doctype-style': 'off',
    'no-trailing-whitespace': 'off',
    'void-style': ['error', { style: 'omit' }],
  },
});

async function faults(text: string): Promise<string[]> {
  const report = await validator.validateString(text);
  return report.results.flatMap(({ messages }) => messages.map(({ line, message }) => `${line}: ${message}`));
}

describe('the pages of Garments and Short', () => {
  it('are valid HTML', async () => {
    for (const path of paths) {
      const page = await house.page(path);
      expect([path, page.status, await faults(page.text)]).toEqual([path, 200, []]);
    }
  });

  it('are valid HTML when they are refused', async () => {
    const wrong = asForm(tierFields({ clothId: 1, shadeId: 1 }, { depth: 'x', blocks: [] }));
    for (const path of paths.filter((one) => one.endsWith('/new'))) {
      const page = await house.submit(path, wrong);
      expect([path, page.status, await faults(page.text)]).toEqual([path, 422, []]);
    }
  });

  it('lead only to pages and places that are there, within these rooms', async () => {
    let looked = 0;
    for (const path of paths) {
      const { document } = new JSDOM((await house.page(path)).text).window;
      for (const link of document.querySelectorAll('main a')) {
        const href = link.getAttribute('href') ?? '';
        if (!/^\/(garments|short)/.test(href)) continue;
        const [address = '', place] = href.split('#');
        const page = await house.page(address);
        expect([href, page.status]).toEqual([href, 200]);
        if (place) expect(page.text).toContain(`id="${place}"`);
        looked += 1;
      }
    }
    expect(looked).toBeGreaterThan(20);
  });
});

describe('the side elevation', () => {
  it('names every tier and drop in words, and marks shades by letters as well as colour', async () => {
    const text = (await house.page(paths[2] ?? '')).text;
    const svg = new JSDOM(text).window.document.querySelector('svg.elevation');
    expect(svg?.querySelector('title')?.textContent).toContain(
      'Tier 1 from 40 cm to 70 cm; Ruffle (1r) from 70',
    );
    const letters = [...(svg?.querySelectorAll('.elevation-letter') ?? [])].map((one) => one.textContent);
    expect(new Set(letters)).toEqual(new Set(['A', 'B']));
    const drops = [...(svg?.querySelectorAll('.elevation-drop') ?? [])].map((one) => one.textContent);
    expect(drops).toEqual(['40 cm', '70 cm', '79 cm']);
  });
});

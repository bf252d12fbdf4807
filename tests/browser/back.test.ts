import { expect, it } from 'vitest';
import { Refusal } from '../../server/refusal.ts';
import { furnish as furnishBench } from '../server/dye-bench/recipe/making.ts';
import { type Furnished, furnish } from '../server/shelf/furnished.ts';
import type { TestHouse } from '../server/support.ts';
import { describeWalks, type Walk } from './walk.ts';
import type { Walker } from './walker.ts';

let house: TestHouse;
let walker: Walker;

function begin(walk: Walk): void {
  ({ house, walker } = walk);
}

const FIRST = ', piece 1';

/** Where Back leads, and how the page there was come to: a browser resends what it reached by POST. */
async function goBack(): Promise<{ readonly path: string; readonly methods: readonly string[] }> {
  const methods: string[] = [];
  const note = (request: { isNavigationRequest(): boolean; method(): string }) => {
    if (request.isNavigationRequest()) methods.push(request.method());
  };
  walker.page.on('request', note);
  await walker.page.goBack().catch(() => null);
  // A page that was reached by POST is an error page here, until a person lets the browser resend.
  if (walker.page.url().startsWith('chrome-error:')) await walker.page.reload();
  walker.page.off('request', note);
  return { path: new URL(walker.page.url()).pathname, methods };
}

async function fillDelivery(ids: Furnished, length: string): Promise<void> {
  await walker.go(`/shelf/receive?cloth=${ids.organza}&shade=${ids.moss}`);
  await walker.fill({ [`Mill lot${FIRST}`]: 'K7', [`Length (m)${FIRST}`]: length });
}

const orders = () => house.book.all(house.book.db.selectFrom('order').select('code')).map(({ code }) => code);
const batches = () =>
  house.book.all(house.book.db.selectFrom('batch').select('code')).map(({ code }) => code);
const shades = () => house.book.all(house.book.db.selectFrom('shade').select('name')).length;
const pieces = () =>
  house.book.all(house.book.db.selectFrom('piece').select(['code', 'on_hand_ticks'])).map(({ code }) => code);

describeWalks('the browser’s Back', { begin }, () => {
  it('after a delivery leads to its check again, and put on the shelf again it is the first receipt', async () => {
    const ids = await furnish(house);
    await fillDelivery(ids, '12');
    await walker.press('Check');
    await walker.press('Put on shelf');
    expect(pieces()).toEqual(['B1']);
    expect(await goBack()).toMatchObject({ methods: ['GET'] });
    expect(await walker.text()).toContain('Already saved');
    expect(await walker.text()).not.toContain('Nothing is on the shelf yet');
    await walker.press('Put on shelf');
    expect(pieces()).toEqual(['B1']);
    expect(new URL(walker.page.url()).pathname).toBe('/shelf/receipts/1');
  });

  it('after rows were drawn, looked at and gone back to keeps the one key of the delivery', async () => {
    const ids = await furnish(house);
    await fillDelivery(ids, '12');
    await walker.press('More rows');
    await walker.press('Check');
    await walker.press('Back to the rows');
    await walker.press('Check');
    await walker.press('Put on shelf');
    for (let step = 0; step < 5; step += 1) expect((await goBack()).methods).toEqual(['GET']);
    await walker.page.goForward();
    await walker.press('Check');
    await walker.press('Put on shelf');
    expect(pieces()).toEqual(['B1']);
  });

  it('after a basket was drafted leads to the basket, which drafts nothing more', async () => {
    const ids = await furnish(house);
    await house
      .send(`/orders/suppliers/${ids.supplier}/offers/new`, {
        cloth_id: ids.organza,
        shade_id: ids.moss,
        price_per: 'm',
        prices: [{ length: '', price: '5' }],
      })
      .expect(200);
    const need = { 'needs.0.cloth_id': ids.organza, 'needs.0.shade_id': ids.moss, 'needs.0.length': '38' };
    await walker.go(`/orders/basket?${new URLSearchParams(need)}`);
    await walker.press('Draft the order');
    expect((await goBack()).methods).toEqual(['GET']);
    expect(await walker.text()).toContain('Already saved');
    await walker.press('Draft the order');
    expect(orders()).toEqual(['P1']);
    await goBack();
    await walker.page.locator('details:has(form[action="/orders/basket"]) > summary').click();
    await walker.press('Work the basket out');
    await walker.press('Draft the order');
    expect(orders()).toEqual(['P1']);
  });

  it('after an order was drafted leads to its form, which drafts it once', async () => {
    const ids = await furnish(house);
    await walker.go('/orders/new?from=short');
    const fill = async () => {
      await walker.fill({ Supplier: 'Weaver' });
      await walker.page.locator('[name="lines.0.cloth_id"]').selectOption(ids.organza);
      await walker.page.locator('[name="lines.0.shade_id"]').selectOption(ids.moss);
      await walker.page.locator('[name="lines.0.length"]').fill('5');
    };
    await fill();
    await walker.press('Save the draft');
    expect((await goBack()).methods).toEqual(['GET']);
    await fill();
    await walker.press('Save the draft');
    expect(orders()).toEqual(['P1']);
  });

  it('while a recipe is worked out goes on under the key of its first page', async () => {
    await furnish(house);
    await walker.go('/dye-bench/recipes/new');
    await walker.page.getByRole('button', { name: 'More rows', exact: true }).click();
    const first = new URL(walker.page.url()).searchParams.get('request_key');
    await walker.page.getByRole('button', { name: 'More rows', exact: true }).click();
    expect(new URL(walker.page.url()).searchParams.get('request_key')).toBe(first);
    expect(first).toMatch(/^[0-9a-f-]{36}$/);
  });

  it('after a dye batch was planned leads to its form, which plans it once', async () => {
    const { piece, recipeId } = await furnishBench(house);
    await walker.go(`/dye-bench/batches/new?recipe_id=${recipeId}`);
    const fill = () =>
      walker.fill({ Vessel: 'Small pot, 5 L', [`Length to dye (m), piece ${piece.code}`]: '4' });
    await fill();
    await walker.press('Work it out');
    await walker.press('Plan batch');
    expect(await goBack()).toMatchObject({ path: '/dye-bench/batches/new', methods: ['GET'] });
    expect(await walker.text()).toContain('Already saved');
    await walker.press('Plan batch');
    await goBack();
    await goBack();
    await fill();
    await walker.press('Plan batch');
    expect(batches()).toEqual(['D1']);
  });

  it('after an error page leads on by GET alone', async () => {
    const { piece } = await furnishBench(house);
    await walker.go(`/shelf/pieces/${piece.code}`);
    // The page stays open while the book stops taking anything.
    house.book.write = () => {
      throw new Refusal('not-saved', 'The disk is full.');
    };
    await walker.page.locator('form[action$="/moves"]').evaluate((form: HTMLFormElement) => form.submit());
    await walker.page.waitForURL(/\/forms\//);
    expect(await walker.text()).toContain('The disk is full.');
    expect(await goBack()).toEqual({ path: `/shelf/pieces/${piece.code}`, methods: ['GET'] });
    await walker.page.goForward();
    expect(await walker.text()).toContain('The disk is full.');
  });

  it('after a list was handed in leads to its form by GET', async () => {
    await walker.go('/setup/lists/new');
    await walker.page.locator('textarea').fill('Cloth,Width,Shade,Lot,Length\nOrganza,150,Moss,7,12');
    await walker.page.locator('main form button[type=submit], main form button.main').first().click();
    await walker.page.waitForURL(/\/setup\/lists\/\d+/);
    expect((await goBack()).methods).toEqual(['GET']);
  });

  it('after a form was refused and mended leads to the refused page by GET, with what was typed', async () => {
    await walker.go('/shelf/shades/new');
    await walker.fill({ Name: 'Plum', 'L*': 'x' });
    await walker.page.getByRole('button', { name: 'Save', exact: true }).first().click();
    await walker.page.waitForSelector('.wrong');
    expect(await walker.page.getByLabel('Name').inputValue()).toBe('Plum');
    await walker.fill({ 'L*': '' });
    await walker.press('Save');
    const after = shades();
    expect((await goBack()).methods).toEqual(['GET']);
    await walker.fill({ 'L*': '' });
    await walker.press('Save');
    expect(shades()).toBe(after);
  });
});

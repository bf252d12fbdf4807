import { expect, it } from 'vitest';
import { checkBook } from '../../server/ledger/check.ts';
import { length, type TestHouse } from '../server/support.ts';
import { describeWalks, type Walk } from './walk.ts';
import type { Walker } from './walker.ts';

let house: TestHouse;
let walker: Walker;

function begin(walk: Walk): void {
  ({ house, walker } = walk);
}

describeWalks('the whole road', { begin }, () => {
  it('goes from bolts to strips and remnants with every length accounted for', async () => {
    await describeStock();
    await receiveBolts();
    await describeGarment();
    await orderWhatIsShort();
    await dye();
    await holdAndCut();
    await compareBalances();
    expect(walker.complaints).toEqual([]);
  });
});

async function describeStock(): Promise<void> {
  await walker.go('/orders/suppliers');
  await walker.fill({ Name: 'Invented Mill' });
  await walker.press('Add');
  await walker.go('/shelf/places');
  await walker.page.locator('#f-add-name').fill('Rack 1');
  await walker.press('Add');
  await walker.go('/shelf/cloths/new');
  await walker.fill({
    Name: 'Organza',
    Construction: 'organza',
    'Fibre 1': 'nylon',
    Width: '150',
    'Usable width': '147',
  });
  await walker.fill({ 'Mass per area': '30', Supplier: 'Invented Mill' });
  await walker.press('Save');
  for (const [name, ground] of [
    ['White', 'yes'],
    ['Ember', 'no'],
    ['Marigold', 'no'],
  ] as const) {
    await walker.go('/shelf/shades/new');
    await walker.fill({ Name: name, 'Undyed ground: cloth in this shade may be dyed': ground });
    await walker.press('Save');
  }
}

// B1: 20 m of white for 60.00; B2: 10 m of white for 30.00; B3: 0.2 m of ember for 1.00.
async function receiveBolts(): Promise<void> {
  await walker.go('/shelf/receive');
  const rows = [
    ['White', 'W1', '20', '60'],
    ['White', 'W1', '10', '30'],
    ['Ember', 'E1', '0.2', '1'],
  ] as const;
  for (const [place, [shade, lot, metres, price]] of rows.entries()) {
    const row = `, piece ${place + 1}`;
    await walker.fill({
      [`Cloth${row}`]: 'Organza',
      [`Shade${row}`]: shade,
      [`Mill lot${row}`]: lot,
      [`Length (m)${row}`]: metres,
      [`Price of the piece (EUR)${row}`]: price,
      [`Place${row}`]: 'Rack 1',
    });
  }
  await walker.press('Check');
  await walker.press('Put on shelf');
}

// The tier hangs where the form is 190 cm round: 3 × 190 = 570 cm flat. A strip of 100 cm less two seams of 1 cm gives
// 98 cm: 570 / 98 = 5.8, so 6 strips, 3 of each shade. Cut depth 28 + 1 + 1 = 30 cm: 3 strips take 0.9 m.
async function describeGarment(): Promise<void> {
  await walker.go('/garments/new');
  await walker.fill({ Name: 'Parade skirt' });
  await walker.fill({ 'Drop, cm': '0', 'Girth, cm': '90' }, 'Girth 1');
  await walker.fill({ 'Drop, cm': '50', 'Girth, cm': '190' }, 'Girth 2');
  await walker.press('Save');
  await walker.follow('Add a tier');
  await walker.fill({ Cloth: 'Organza', Drop: '50', 'Finished depth': '28', Fullness: '3' });
  await walker.fill({ Shade: 'Ember', Strips: '1' }, 'Colour block 1');
  await walker.fill({ Shade: 'Marigold', Strips: '1' }, 'Colour block 2');
  for (const part of ['Seams and edges', 'The strip on the cloth']) {
    await walker.page.getByText(part, { exact: true }).click();
  }
  await walker.fill({
    'Seam allowance': '1',
    Heading: '0',
    'Gathering seam allowance': '1',
    'Hem allowance': '1',
    'Strip length': '100',
  });
  await walker.press('Work it out');
  await walker.press('Save');
}

async function orderWhatIsShort(): Promise<void> {
  await walker.go('/short');
  const short = await walker.text();
  expect(short.match(/3 strips short\. To get: 90 cm|3 strips short\. To get: 0\.90? m/g)).toHaveLength(2);
  await walker.follow('Order what is short');
  await walker.fill({ Supplier: 'Invented Mill' });
  // Marigold is to be dyed: its line is left blank. Of ember 2 m are bought, and some of it will be over.
  const lines = walker.page.getByRole('group', { name: /^Line \d+$/ });
  for (const line of await lines.all()) {
    const chosen = await line.getByLabel('Shade', { exact: true }).locator('option:checked').textContent();
    if (chosen?.trim() === 'Ember') await line.getByLabel('Length', { exact: true }).fill('2');
    if (chosen?.trim() !== 'Marigold') continue;
    await line.getByLabel('Cloth', { exact: true }).selectOption('');
    await line.getByLabel('Shade', { exact: true }).selectOption('');
    await line.getByLabel('Length', { exact: true }).fill('');
  }
  await walker.press('Save the draft');
  await walker.follow('Mark as sent');
  await walker.press('Mark as sent');
  await walker.follow('Receive what came');
  // B4: the 2 m of ember for 10.00, as measured.
  await walker.fill({ Length: '2', 'Mill lot': 'E2', 'Paid for it': '10', Place: 'Rack 1' });
  await walker.press('Put on shelf');
}

// 2 m of B1 go into the pot with 2 / 20 of its 60.00, 6.00; 1.9 m come back, 5 % shorter: B5.
async function dye(): Promise<void> {
  await walker.go('/dye-bench/vessels');
  await walker.fill({ Name: 'Pot', 'Volume to the brim': '20' });
  await walker.press('Add');
  await walker.go('/dye-bench/recipes/new');
  await walker.fill({
    'Name of the recipe': 'Marigold on nylon',
    'Shade wanted': 'Marigold',
    Fibre: 'Nylon',
  });
  await walker.press('Suggest figures');
  await walker.fill({ Dye: 'Yellow', 'On fabric': '1' }, 'Dye 1');
  await walker.fill({ 'Shrinkage to allow for': '5' });
  await walker.press('Save recipe');
  await walker.go('/dye-bench/batches/new');
  await walker.follow('Choose Marigold on nylon');
  await walker.fill({ Vessel: 'Pot' });
  await walker.page.getByLabel(/^Length to dye.*B1$/).fill('2');
  await walker.press('Plan batch');
  await walker.press('Start');
  await walker.follow('Finish');
  await walker.fill({ 'Measured length': '1.9' });
  await walker.press('Back on the shelf');
}

// Two strips of ember and one of marigold are cut, the last undone again.
async function holdAndCut(): Promise<void> {
  await walker.go('/cutting-table');
  await walker.page.getByRole('row').getByRole('link', { name: 'Tier 1', exact: true }).click();
  await walker.page.waitForURL(/\/cutting-table\/G1\/\d+$/);
  list = walker.page.url();
  for (const code of ['B4', 'B5']) await hold(code);
  await cut('B4', {
    'Strips cut': '2',
    'Length taken': '0.6',
    Offcut: 'Keep as a remnant',
    'Remnant width': '47',
    'Remnant length': '0.6',
  });
  await cut('B5', { 'Strips cut': '1', 'Length taken': '0.3', Offcut: 'Waste' });
  await walker.press('Undo');
}

let list: string;

async function hold(code: string): Promise<void> {
  await walker.page.goto(list);
  await walker.page.getByLabel(`Length of ${code} to hold`).fill('0.9');
  await walker.press(`Hold ${code}`);
}

async function cut(code: string, fields: Record<string, string>): Promise<void> {
  await walker.page.goto(list);
  await walker.follow(`Cut from ${code}`);
  await walker.fill(fields);
  await walker.press('Enter the cut');
}

// B1: 20 − 2 = 18 m, 60.00 − 6.00 = 54.00. B2 and B3 are as they came. B4: 2 m less 2 strips of 30 cm = 1.4 m, of
// which 0.9 − 0.6 = 0.3 m are held; the 0.6 m cut took 0.6 / 2 of 10.00 = 3.00, and of that the remnant of 47 cm in
// 147 cm takes its share of the area, 3.00 × 47 / 147 = 0.959, whole cents of it: 0.95. B5: 1.9 m for 6.00, 0.9 m of it held, the cut undone.
async function compareBalances(): Promise<void> {
  const wanted = [
    ['B1', '18 m', '0 m', 5400],
    ['B2', '10 m', '0 m', 3000],
    ['B3', '0.2 m', '0 m', 100],
    ['B4', '1.4 m', '0.3 m', 700],
    ['B5', '1.9 m', '0.9 m', 600],
    ['R6', '0.6 m', '0 m', 95],
  ] as const;
  const found = await Promise.all(
    wanted.map(async ([code]) => {
      const { piece } = (await house.data(`/shelf/pieces/${code}`).expect(200)).body;
      return [code, piece.onHandTicks, piece.heldTicks, piece.costMinor];
    }),
  );
  expect(found).toEqual(
    wanted.map(([code, onHand, held, cost]) => [code, length(onHand), length(held), cost]),
  );
  // 6 strips wanted, 2 of ember cut, the one of marigold undone.
  const cuts = (await house.data('/garments/G1').expect(200)).body.needs.map(
    (need: { cut: number }) => need.cut,
  );
  expect(cuts).toEqual([2, 0]);
  expect(checkBook(house.book).findings).toEqual([]);
}

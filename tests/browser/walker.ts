import type { BrowserContext, Locator, Page } from 'playwright-core';

/** A person at a browser: goes to pages, fills fields by their labels, presses buttons by their names. */
export interface Walker {
  readonly page: Page;
  /** what went wrong on the way: page errors, console errors, answers of 500 and above */
  readonly complaints: readonly string[];
  go(path: string): Promise<void>;
  /** Fills text fields and chooses options; `within` narrows to a group of that name. */
  fill(fields: Readonly<Record<string, string>>, within?: string): Promise<void>;
  press(button: string): Promise<void>;
  follow(link: string): Promise<void>;
  text(): Promise<string>;
}

export async function startWalker(context: BrowserContext, origin: string): Promise<Walker> {
  const page = await context.newPage();
  // A step that never comes fails the test; on a machine that is busy one may take its time.
  page.setDefaultTimeout(60_000);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(`page error: ${error.message}`));
  page.on('console', (message) => {
    // A refused content security policy is told as an error of the console too.
    if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
  });
  page.on('response', (answer) => {
    if (answer.status() >= 400) complaints.push(`${answer.status()} ${answer.url()}`);
  });
  // Every step leads to a new document: the next one waits until that is there.
  const settled = async (step: () => Promise<unknown>) => {
    const before = page.url();
    await Promise.all([page.waitForEvent('load'), step()]);
    // An answer that came without a new address is a form drawn again, with its problems.
    const wrong = await page.locator('.wrong').allTextContents();
    if (wrong.length > 0) throw new Error(`${before} refused: ${wrong.join(' ')}`);
  };
  return {
    page,
    complaints,
    go: (path) => settled(() => page.goto(origin + path)),
    async fill(fields, within) {
      const scope = within ? page.getByRole('group', { name: within, exact: true }) : page.locator('main');
      for (const [label, value] of Object.entries(fields)) await fillOne(scope, label, value);
    },
    press: (button) =>
      settled(async () => {
        await page.getByRole('button', { name: button, exact: true }).first().click();
      }),
    follow: (link) =>
      settled(() => page.locator('main').getByRole('link', { name: link, exact: true }).first().click()),
    text: async () => ((await page.locator('main').textContent()) ?? '').replace(/\s+/g, ' '),
  };
}

async function fillOne(scope: Locator, label: string, value: string): Promise<void> {
  const escaped = label.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  const field = scope.getByLabel(new RegExp(`^${escaped}( \\(optional\\))?$`)).first();
  const kind = await field.evaluate((node) => `${node.tagName} ${node.getAttribute('type')}`);
  if (kind.startsWith('SELECT')) await choose(field, value);
  else if (kind === 'INPUT checkbox') await field.setChecked(value === 'yes');
  else await field.fill(value);
}

/** Chooses the option that says so, or that begins so: "White" is "White, undyed ground" too. */
async function choose(field: Locator, text: string): Promise<void> {
  const said = (await field.locator('option').allTextContents()).map((option) => option.trim());
  const exact = said.indexOf(text);
  const index = exact >= 0 ? exact : said.findIndex((option) => option.startsWith(text));
  if (index < 0) throw new Error(`no option is ${text}: ${said.join(' | ')}`);
  await field.selectOption({ index });
}

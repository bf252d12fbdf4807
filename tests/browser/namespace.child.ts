import { readFileSync } from 'node:fs';
import { get } from 'node:http';
import { get as getSecurely } from 'node:https';
import { createInterface } from 'node:readline';
import { chromium } from 'playwright-core';
import { findChromium } from './chromium.ts';

// A browser on one machine of a network, told a step a line: it runs in a network namespace of its own, where the test
// itself is not. Each answer is a line.

const browser = await chromium.launch({
  executablePath: findChromium(),
  args: ['--no-sandbox', '--disable-gpu', '--host-resolver-rules=MAP evil.example 10.77.0.1'],
});
let page = await newPage();
const errors: string[] = [];

async function newPage() {
  const context = await browser.newContext({ viewport: { width: 390, height: 800 }, locale: 'en-GB' });
  const opened = await context.newPage();
  opened.setDefaultTimeout(60_000);
  opened.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
  return opened;
}

const STEPS: Record<string, (...args: string[]) => Promise<unknown>> = {
  async open(url = '') {
    const answer = await page.goto(url);
    return [answer?.status(), page.url(), await page.locator('body').textContent()];
  },
  async fill(selector = '', value = '') {
    await page.fill(selector, value);
  },
  async choose(selector = '', label = '') {
    await page.selectOption(selector, { label });
  },
  async press(selector = '') {
    await Promise.all([page.waitForLoadState('load'), page.click(selector)]);
    await page.waitForTimeout(300);
    return [page.url(), await page.locator('body').textContent()];
  },
  async value(selector = '') {
    return page.inputValue(selector);
  },
  async back() {
    await page.goBack();
    return page.url();
  },
  /** Presses a button and waits until the page says so. */
  async pressUntil(selector = '', text = '') {
    await page.click(selector);
    await page.getByText(text).first().waitFor();
  },
  async picture(selector = '', file = '') {
    await page.locator(selector).screenshot({ path: file });
  },
  async whole(file = '') {
    await page.screenshot({ path: file, fullPage: true });
  },
  /** Another device: nothing of the former one is known to it. */
  async stranger() {
    page = await newPage();
  },
  async errors() {
    return errors.splice(0);
  },
  /** Asks without a browser: by any host, from any address of this machine. */
  ask(url = '', host = '', from = '') {
    return new Promise((resolve) => {
      const asked = get(
        url,
        { ...(host && { headers: { host } }), ...(from && { localAddress: from }) },
        (answer) => {
          answer.resume();
          resolve(answer.statusCode);
        },
      );
      asked.on('error', (error: NodeJS.ErrnoException) => resolve(error.code));
    });
  },
  /** Asks over TLS, trusting one root only. */
  trusting(url = '', root = '') {
    return new Promise((resolve) => {
      const asked = getSecurely(url, { ca: readFileSync(root), agent: false }, (answer) => {
        answer.resume();
        resolve(answer.statusCode);
      });
      asked.on('error', (error) => resolve(error.message));
    });
  },
};

for await (const line of createInterface({ input: process.stdin })) {
  const [step = '', ...args] = JSON.parse(line) as string[];
  try {
    const said = await STEPS[step]?.(...args);
    process.stdout.write(`${JSON.stringify({ said: said ?? null })}\n`);
  } catch (error) {
    process.stdout.write(`${JSON.stringify({ failed: String(error) })}\n`);
  }
}
await browser.close();

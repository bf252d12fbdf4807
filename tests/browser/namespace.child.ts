import { readFileSync } from 'node:fs';
import { Agent, createServer, get, type RequestListener, request } from 'node:http';
import {
  createServer as createSecureServer,
  get as getSecurely,
  request as requestSecurely,
  Agent as SecureAgent,
} from 'node:https';
import { createInterface } from 'node:readline';
import { checkServerIdentity } from 'node:tls';
import { type Browser, type BrowserContext, chromium, type Request, type Response } from 'playwright-core';
import { priceIn } from '../seed-demo/prices.ts';
import { findChromium } from './chromium.ts';
import { startKillable } from './killable.ts';

// A browser on one machine of a network, told a step a line: it runs in a network namespace of its own, where the test
// itself is not. Each answer is a line. The arguments are further switches of the browser; with "--kept=FOLDER" it keeps
// there what a phone keeps, and can be killed and started again.

const KEPT = '--kept=';
const switches = process.argv.slice(2).filter((one) => !one.startsWith(KEPT));
const profile = process.argv.find((one) => one.startsWith(KEPT))?.slice(KEPT.length);

/** A browser, with the window that it opens and its end where it is killed. */
interface Started {
  readonly browser: Browser;
  readonly context: BrowserContext;
  kill(): Promise<void>;
  close(): Promise<void>;
}

let started = await startBrowser();
let page = await openPage(started.context);
const errors: string[] = [];

async function startBrowser(): Promise<Started> {
  if (profile !== undefined) {
    const killable = await startKillable(profile, switches);
    const browser = killable.context.browser();
    if (!browser) throw new Error('the browser that was started is gone');
    return { ...killable, browser };
  }
  const args = ['--no-sandbox', '--disable-gpu', ...switches];
  const browser = await chromium.launch({ executablePath: findChromium(), args });
  const close = () => browser.close();
  return { browser, context: await newContext(browser), kill: close, close };
}

function newContext(browser: Browser): Promise<BrowserContext> {
  return browser.newContext({ viewport: { width: 390, height: 800 }, locale: 'en-GB' });
}

async function openPage(context: BrowserContext) {
  const opened = await context.newPage();
  opened.setDefaultTimeout(120_000);
  opened.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
  return opened;
}

const STEPS: Record<string, (...args: string[]) => Promise<unknown>> = {
  async open(url = '') {
    const answer = await page.goto(url);
    return [answer?.status(), page.url(), await page.locator('body').textContent()];
  },
  /** Why the browser does not open an address; '' where it does. */
  async refused(url = '') {
    return page.goto(url).then(
      () => '',
      (error) => /net::(\w+)/.exec(String(error))?.[1] ?? String(error),
    );
  },
  async isSecure() {
    return page.evaluate(() => isSecureContext);
  },
  async fill(selector = '', value = '') {
    await page.fill(selector, value);
  },
  async choose(selector = '', label = '') {
    await page.selectOption(selector, { label });
  },
  async press(selector = '') {
    let answer: Promise<unknown> | undefined;
    const hear = (asked: Request) => {
      if (asked.isNavigationRequest()) answer ??= page.waitForEvent('load');
    };
    page.on('request', hear);
    await page.click(selector);
    // A form asks first whether the machine is there.
    await page.waitForTimeout(300);
    page.off('request', hear);
    await answer;
    return [page.url(), await page.locator('body').textContent()];
  },
  /** The data of a page. */
  async data(url = '') {
    return (await page.request.get(url, { headers: { accept: 'application/json' } })).json();
  },
  async textOf(selector = '') {
    return page.locator(selector).textContent();
  },
  async value(selector = '') {
    return page.inputValue(selector);
  },
  async back() {
    await page.goBack();
    return page.url();
  },
  /** Presses a button that leads to a page, however long that takes. */
  async pressTo(selector = '', url = '') {
    await page.click(selector);
    await page.waitForURL(url);
    return page.locator('body').textContent();
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
    page = await openPage(await newContext(started.browser));
  },
  /** As a phone whose battery is empty: what it keeps is what lies on its disk. */
  async kill() {
    await started.kill();
  },
  async startAgain() {
    started = await startBrowser();
    page = await openPage(started.context);
  },
  /** Ended and started as a person does: within half a minute a killed browser forgets a cookie that it was given. */
  async putAway() {
    await started.close();
    started = await startBrowser();
    page = await openPage(started.context);
  },
  /** Waits until there are so many of something. */
  async waitFor(selector = '', count = '1') {
    await page
      .locator(selector)
      .nth(Number(count) - 1)
      .waitFor({ state: 'attached' });
  },
  /** The prices in pages and their data, as who holds the cookies of this browser gets them, and how many were read. */
  async prices(list = '[]') {
    const found: string[] = [];
    let read = 0;
    for (const url of JSON.parse(list) as string[])
      for (const accept of ['text/html', 'application/json']) {
        const answer = await page.request.get(url, { headers: { accept } });
        const price = priceIn(await answer.text(), accept);
        if (answer.status() === 200) read += 1;
        if (price !== undefined) found.push(`${url} ${accept} ${price}`);
      }
    return [found, read];
  },
  async errors() {
    return errors.splice(0);
  },
  /** From now on an empty page is served there, over TLS where the files of a key and its certificate are named. */
  async elsewhere(address = '', port = '', key = '', cert = '') {
    const answer: RequestListener = (_, reply) =>
      reply.setHeader('content-type', 'text/html').end(EMPTY_PAGE);
    const server =
      key === ''
        ? createServer(answer)
        : createSecureServer({ key: readFileSync(key), cert: readFileSync(cert) }, answer);
    await new Promise<void>((resolve) => server.listen(Number(port), address, resolve));
  },
  /** Opens a page of a name that leads to the book by now: as it was when it led to whoever wrote the page. */
  async rebound(url = '') {
    await page.route(url, (route) => route.fulfill({ contentType: 'text/html', body: EMPTY_PAGE }));
    await page.goto(url);
  },
  async cookie(url = '', name = '', value = '') {
    const secure = url.startsWith('https:');
    await page.context().addCookies([{ url, name, value, secure, sameSite: 'Lax', httpOnly: true }]);
  },
  /** What the page that is open brings about at another address: the status of its answer, or why none came. */
  async deed(kind = '', url = '', fields = '') {
    const before = page.url();
    const came = cameOf(url);
    const read = await page.evaluate(DEEDS[kind] ?? '', [url, fields] as const);
    const status = await came;
    if (kind === 'form') await page.waitForURL((at) => at.href !== before);
    return [status, read ?? ''];
  },
  /** Asks one machine many things without a browser, some at a time, trusting a root where one is named; the statuses. */
  async askAll(list = '', root = '') {
    const asked = JSON.parse(list) as AskedPlainly[];
    const kept = { keepAlive: true, maxSockets: 8 };
    const number = new URL(asked[0]?.url ?? '').hostname;
    const agent =
      root === ''
        ? new Agent(kept)
        : new SecureAgent({
            ...kept,
            ca: readFileSync(root),
            // The certificate is held against the number, whatever host is asked for.
            servername: '',
            checkServerIdentity: (_, cert) => checkServerIdentity(number, cert),
          });
    const came = await Promise.all(asked.map((one) => askPlainly(one, agent)));
    agent.destroy();
    return came;
  },
  /** The text of an answer to a request with these headers. */
  text(url = '', headers = '{}') {
    return new Promise((resolve, reject) => {
      const asked = get(url, { headers: JSON.parse(headers) }, async (answer) => {
        resolve((await answer.setEncoding('utf8').toArray()).join(''));
      });
      asked.on('error', reject);
    });
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

const EMPTY_PAGE = '<!doctype html><title>Elsewhere</title>';

/** Scripts of a page: each is told an address and the fields of a form. */
const DEEDS: Record<string, (told: readonly [string, string]) => unknown> = {
  form([url, fields]) {
    const form = document.createElement('form');
    form.method = 'post';
    form.action = url;
    for (const [name, value] of new URLSearchParams(fields)) {
      const input = document.createElement('input');
      [input.name, input.value] = [name, value];
      form.append(input);
    }
    document.body.append(form);
    form.submit();
  },
  script([url, fields]) {
    const sent = { method: 'POST', credentials: 'include', body: new URLSearchParams(fields) } as const;
    return fetch(url, { ...sent, mode: 'no-cors' }).then(
      () => 'sent',
      (error) => String(error),
    );
  },
  beacon([url, fields]) {
    return navigator.sendBeacon(url, new URLSearchParams(fields));
  },
  read([url]) {
    return fetch(url, { credentials: 'include' }).then(
      (answer) => answer.text(),
      (error) => String(error),
    );
  },
  image([url]) {
    const image = new Image();
    image.src = url;
    document.body.append(image);
  },
  frame([url]) {
    const frame = document.createElement('iframe');
    frame.src = url;
    document.body.append(frame);
    return new Promise((resolve) => {
      frame.onload = () => resolve(frame.contentDocument === null ? 'unreadable' : 'readable');
    });
  },
};

/** What comes of the next request to an address. */
function cameOf(url: string): Promise<number | string> {
  return new Promise((resolve) => {
    const end = (said: number | string) => {
      page.off('response', hear).off('requestfailed', fail);
      clearTimeout(timer);
      resolve(said);
    };
    const timer = setTimeout(end, 5000, 'nothing was asked');
    const hear = (answer: Response) => answer.url() === url && end(answer.status());
    const fail = (asked: Request) => asked.url() === url && end(asked.failure()?.errorText ?? 'failed');
    page.on('response', hear).on('requestfailed', fail);
  });
}

/** A request of a program. */
export interface AskedPlainly {
  readonly method: string;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
}

function askPlainly({ method, url, headers }: AskedPlainly, agent: Agent): Promise<number | string> {
  const ask = agent instanceof SecureAgent ? requestSecurely : request;
  return new Promise((resolve) => {
    const asked = ask(url, { method, headers, agent }, (answer) => {
      answer.resume().once('end', () => resolve(answer.statusCode ?? 0));
    });
    asked.once('error', (error: NodeJS.ErrnoException) => resolve(error.code ?? error.message));
    asked.end();
  });
}

for await (const line of createInterface({ input: process.stdin })) {
  const [step = '', ...args] = JSON.parse(line) as string[];
  try {
    const said = await STEPS[step]?.(...args);
    process.stdout.write(`${JSON.stringify({ said: said ?? null })}\n`);
  } catch (error) {
    process.stdout.write(`${JSON.stringify({ failed: String(error) })}\n`);
  }
}
await started.kill();

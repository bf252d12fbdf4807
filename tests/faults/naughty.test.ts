import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Chromium, startChromium } from '../browser/chromium.ts';
import { addressesOf } from '../seed-demo/addresses.ts';
import { type DemoHouse, openDemoHouse } from '../seed-demo/demo.ts';
import { openedForms } from '../seed-demo/opened-forms.ts';
import { newKey } from '../server/support.ts';
import { isFull, PATIENCE_MS, report } from './scale.ts';

/** What people and programs type that has broken programs before: common practice. Each would show itself in a page. */
const NAUGHTY = [
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  "' onmouseover='alert(1)' x='",
  'javascript:alert(1)',
  "Robert'); DROP TABLE piece;--",
  '=cmd|calc!A0',
  '{{7*7}} <%= 7*7 %> #{7*7}',
  '\u202egnirts\u202c \u200b\ufeff',
  '👩‍👩‍👧‍👦 𝕿 ﷽ Z̮̞̠͙͔ͅ',
  '../../etc/passwd',
  '%00 %n %s %0d%0aSet-Cookie:x=1',
  'NaN',
  '-0',
  '1e999',
  '99999999999999999999',
  'constructor',
  ' '.repeat(50),
  'W'.repeat(5000),
] as const;
/** What names nothing: as a field, where a text is asked for. */
const REFUSED = ['\u0000', '\ud800'];

let house: DemoHouse;
let chromium: Chromium;

describe.skipIf(!isFull)('what nobody should type', () => {
  beforeAll(async () => {
    [house, chromium] = await Promise.all([openDemoHouse(), startChromium()]);
  }, 120_000);
  afterAll(async () => {
    await chromium.close();
    await house.shut();
  });

  const addresses = () => [...new Set(house.routes.flatMap((route) => addressesOf(route, house.book)))];
  const post = async (path: string, body: URLSearchParams | FormData) => {
    const reply = await fetch(`${house.origin}${path}`, {
      method: 'POST',
      headers: { accept: 'application/json', origin: house.origin },
      body,
      redirect: 'manual',
    });
    await reply.text();
    return reply.status;
  };

  it(
    'is saved or refused in every field of every form, and never fails',
    async () => {
      const done = new Set<string>();
      const wrong: string[] = [];
      const counts = { forms: 0, fields: 0, sent: 0, saved: 0 };
      for (const address of addresses()) {
        const { text } = await house.get(address, 'text/html');
        for (const { action, fields } of openedForms(text)) {
          // Forms of one kind are tried on one thing.
          const kind = action.replaceAll(/\/[A-Z]?\d[\w.]*/g, '/:');
          if (done.has(kind)) continue;
          done.add(kind);
          counts.forms += 1;
          for (const name of Object.keys(fields).filter((field) => field !== 'request_key')) {
            counts.fields += 1;
            for (const naughty of [...NAUGHTY, ...REFUSED]) {
              counts.sent += 1;
              const filled = new URLSearchParams({ ...fields, request_key: newKey(), [name]: naughty });
              const status = await post(action, filled);
              if (status === 200) counts.saved += 1;
              if (status >= 500 && status !== 503)
                wrong.push(`${status} for ${name} of ${action}: ${naughty.slice(0, 40)}`);
            }
          }
        }
      }
      report('naughty strings', counts);
      expect(wrong).toEqual([]);
      expect(counts.forms).toBeGreaterThan(60);
      expect(counts.saved).toBeGreaterThan(100);
    },
    PATIENCE_MS,
  );

  it(
    'is taken as the name of a file and as a cell of a list',
    async () => {
      for (const naughty of NAUGHTY) {
        const form = new FormData();
        form.set('request_key', newKey());
        form.set('pasted', '');
        const cell = `"${naughty.replaceAll('"', '""')}"`;
        const list = `Cloth,Shade,Lot,Length\n${[cell, cell, cell, '3 m'].join()}\n${cell},a,b,${cell}\n`;
        form.set('file', new Blob([list]), `${naughty.slice(0, 100)}.csv`);
        expect(await post('/setup/lists', form), naughty).toBeLessThan(500);
      }
    },
    PATIENCE_MS,
  );

  it(
    'runs nowhere: every page opens without a dialog, an error or a report of the policy',
    async () => {
      const context = await chromium.open();
      const wrong: string[] = [];
      await context.exposeFunction('tellPolicy', (said: string) => wrong.push(said));
      await context.addInitScript(() => {
        addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) =>
          (globalThis as unknown as { tellPolicy(said: string): void }).tellPolicy(
            `${location.pathname}: the policy refused ${violatedDirective} ${blockedURI}`,
          ),
        );
      });
      const page = await context.newPage();
      page.on('dialog', async (dialog) => {
        wrong.push(`${page.url()}: a dialog`);
        await dialog.dismiss();
      });
      page.on('pageerror', (error) => wrong.push(`${page.url()}: ${error.message}`));
      let pages = 0;
      for (const address of addresses()) {
        if (/\.(csv|json|pdf|svg|png)|\/out\//.test(address)) continue;
        const reply = await page.goto(`${house.origin}${address}`, { waitUntil: 'load' });
        pages += 1;
        if ((reply?.status() ?? 500) >= 500) wrong.push(`${address} was answered with ${reply?.status()}`);
      }
      report('pages with naughty strings', { pages });
      expect(wrong).toEqual([]);
      expect(pages).toBeGreaterThan(100);
      // The trap itself catches both.
      await page.evaluate("document.body.insertAdjacentHTML('beforeend', '<img src=x onerror=alert(1)>')");
      await page.waitForTimeout(300);
      expect(wrong.join()).toContain('the policy refused');
      await context.close();
    },
    PATIENCE_MS,
  );
});

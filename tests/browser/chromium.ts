import { accessSync, constants, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { type Browser, type BrowserContext, chromium } from 'playwright-core';

// Without a window first: it is the same engine at half the work.
const NAMES = [
  'chromium-headless-shell',
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'chrome',
];
const USUAL = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** Where a Chromium is: named in the environment, on the PATH, or in a usual place. */
export function findChromium(env: NodeJS.ProcessEnv = process.env, usual: readonly string[] = USUAL): string {
  const named = env.CLOTHROOM_CHROMIUM;
  if (named) {
    if (isProgram(named)) return named;
    throw new Error(`CLOTHROOM_CHROMIUM names ${named}, which is no program.`);
  }
  const onPath = (env.PATH ?? '')
    .split(delimiter)
    .flatMap((folder) => NAMES.map((name) => join(folder, name)));
  const found = [...onPath, ...usual].find(isProgram);
  if (found) return found;
  throw new Error(
    'The browser tests need a Chromium: install one ("apt-get install chromium-headless-shell" on Debian), or name it in CLOTHROOM_CHROMIUM.',
  );
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

export interface Chromium {
  readonly browser: Browser;
  /** A fresh context; `javaScript: false` is a browser with scripts switched off. */
  open(options?: { javaScript?: boolean; width?: number; dark?: boolean }): Promise<BrowserContext>;
  close(): Promise<void>;
}

/** Starts a real browser that reaches nothing but this machine. */
export async function startChromium(): Promise<Chromium> {
  const home = mkdtempSync(join(tmpdir(), 'clothroom-browser-'));
  const browser = await chromium.launch({
    executablePath: findChromium(),
    env: { ...process.env, HOME: home },
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
  return {
    browser,
    open: ({ javaScript = true, width = 1280, dark = false } = {}) =>
      browser.newContext({
        javaScriptEnabled: javaScript,
        viewport: { width, height: 900 },
        colorScheme: dark ? 'dark' : 'light',
        locale: 'en-GB',
      }),
    async close() {
      await browser.close();
      rmSync(home, { recursive: true, force: true });
    },
  };
}

/** The page objects of a file that Chromium printed: its tree of pages is not packed. */
export function pagesIn(pdf: Buffer): number {
  return [...pdf.toString('latin1').matchAll(/\/Type\s*\/Page\b/g)].length;
}

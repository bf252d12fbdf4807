import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { type Browser, type BrowserContext, chromium } from 'playwright-core';
import { findChromium } from './chromium.ts';

/** A browser with a profile on the disk, which can be killed as a phone does and started again with what it kept. */
export interface Killable {
  readonly context: BrowserContext;
  kill(): Promise<void>;
  /** Ends it as a person does: what it had not written to the disk yet is written. */
  close(): Promise<void>;
}

export async function startKillable(profile: string, args: readonly string[] = []): Promise<Killable> {
  const child = spawn(
    findChromium(),
    [
      '--headless',
      '--no-sandbox',
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--remote-debugging-port=0',
      `--user-data-dir=${profile}`,
      ...args,
      'about:blank',
    ],
    // A group of its own, so that all of its processes are killed at once.
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'], env: { ...process.env, HOME: profile } },
  );
  const browser: Browser = await chromium.connectOverCDP(await addressOf(child));
  const [context] = browser.contexts();
  if (!context) throw new Error('the browser opened without a window');
  return {
    context,
    async kill() {
      const ended = once(child, 'exit');
      process.kill(-(child.pid ?? 0), 'SIGKILL');
      await ended;
      await browser.close().catch(() => undefined);
    },
    async close() {
      const ended = once(child, 'exit');
      const session = await browser.newBrowserCDPSession();
      await session.send('Browser.close').catch(() => undefined);
      await ended;
    },
  };
}

async function addressOf(child: ChildProcess): Promise<string> {
  const told: string[] = [];
  for await (const line of createInterface({ input: child.stderr as NodeJS.ReadableStream })) {
    told.push(line);
    const [, address] = /^DevTools listening on (ws:\S+)$/.exec(line) ?? [];
    if (address !== undefined) return address;
  }
  throw new Error(told.join('\n'));
}

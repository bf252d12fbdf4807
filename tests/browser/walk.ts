import { afterAll, afterEach, beforeAll, beforeEach, describe } from 'vitest';
import { openTestHouse, type TestHouse } from '../server/support.ts';
import { type Chromium, startChromium } from './chromium.ts';
import { startWalker, type Walker } from './walker.ts';

/** A fresh house, and somebody at a browser in it. */
export interface Walk {
  readonly house: TestHouse;
  readonly walker: Walker;
}

/**
 * The same tests through a real browser with JavaScript and without. Before each of them `begin` is given its walk,
 * which ends with the test.
 */
export function describeWalks(
  what: string,
  { width = 1280, begin }: { readonly width?: number; readonly begin: (walk: Walk) => void },
  tests: (javaScript: boolean) => void,
): void {
  let chromium: Chromium;
  beforeAll(async () => {
    chromium = await startChromium();
  });
  afterAll(() => chromium.close());
  describe.each([
    { name: 'with JavaScript', javaScript: true },
    { name: 'without JavaScript', javaScript: false },
  ])(`${what} $name`, ({ javaScript }) => {
    let walk: Walk;
    beforeEach(async () => {
      const house = await openTestHouse();
      walk = { house, walker: await startWalker(await chromium.open({ javaScript, width }), house.origin) };
      begin(walk);
    });
    afterEach(async () => {
      await walk.walker.page.context().close();
      await walk.house.shut();
    });
    tests(javaScript);
  });
}

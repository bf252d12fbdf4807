import { describe, expect, it } from 'vitest';
import { findChromium } from './chromium.ts';

describe('finding a Chromium', () => {
  it('takes the one that is named', () => {
    expect(findChromium({ CLOTHROOM_CHROMIUM: process.execPath, PATH: '' })).toBe(process.execPath);
  });

  it('refuses a name that is no program, rather than taking another', () => {
    expect(() => findChromium({ CLOTHROOM_CHROMIUM: '/no/such/program', PATH: process.env.PATH })).toThrow(
      '/no/such/program',
    );
  });

  it('says in one line how to get one where there is none', () => {
    expect(() => findChromium({ PATH: '/no/such/folder' }, [])).toThrow(
      /^The browser tests need a Chromium: .*$/,
    );
  });
});

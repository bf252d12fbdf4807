import { describe, expect, it } from 'vitest';
import { MOST_TICKS } from '../../../src/cut-plan/job.ts';
import { readTypedFlaws } from '../../../src/cut-plan/typed-flaws.ts';
import { cm, m } from '../../lengths.ts';

const BARE = { length: 'm', size: 'cm' } as const;
const read = (raw: unknown) => {
  const flaws = readTypedFlaws(raw, BARE);
  return flaws.ok ? flaws.value : flaws.reason;
};

describe('flaws as they are typed', () => {
  it('run over the full width and are a centimetre long unless more is said', () => {
    const whole = { leftTicks: 0, rightTicks: MOST_TICKS };
    expect(read('3.2; 4 m to 4.1 m')).toEqual([
      { fromTicks: m('3.2'), toTicks: m('3.2') + cm(1), ...whole },
      { fromTicks: m(4), toTicks: m('4.1'), ...whole },
    ]);
    expect(read('')).toEqual([]);
  });

  it('have a place across, typed or from a script', () => {
    const flaw = { fromTicks: m('3.2'), toTicks: m('3.3'), leftTicks: cm(40), rightTicks: cm(45) };
    expect(read('3.2 to 3.3, 40 to 45')).toEqual([flaw]);
    expect(read([{ from: '3.2', to: '3.3', left: '40', right: '45' }])).toEqual([flaw]);
  });

  it.each([
    ['3.3 to 3.2', /ends after it begins/],
    ['3.2 to 3.3, 45 to 40', /ends after it begins/],
    ['3.2, 1, 2', /too many parts/],
    ['somewhere', /Write a flaw as/],
  ])('refuse %s in words', (typed, reason) => {
    expect(read(typed)).toMatch(reason);
  });
});

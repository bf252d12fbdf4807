import { describe, expect, it } from 'vitest';
import { MOST_READINGS, readReadingsList } from '../../../src/colour/readings-list.ts';

const labs = (text: string) => readReadingsList(text).readings.map(({ lab }) => [lab.l, lab.a, lab.b]);

describe('a list of readings', () => {
  it.each([
    ['blanks', '52.3 -12.5 0\n50 1 2'],
    ['tabs', '52,3\t-12,5\t0\n50\t1\t2'],
    ['semicolons and decimal commas', '52,3;−12,5;0\r\n50;1;2\r\n'],
    ['commas', '52.3,-12.5,0\n\n50,1,2'],
    ['blanks and decimal commas', '52,3 -12,5 0,0\n50 1 2'],
    ['a mark of byte order', '\uFEFF52.3\t-12.5\t0\n50\t1\t2'],
  ])('is read by %s', (_, text) => {
    expect(readReadingsList(text).problems).toEqual([]);
    expect(labs(text)).toEqual([
      [52.3, -12.5, 0],
      [50, 1, 2],
    ]);
  });

  it('is read by its headings, in any order', () => {
    const text = 'Sample;b*(D65, 10°);a*(D65, 10°);L*(D65, 10°);Lot;Place\n"first; left";3;2;50;L3;Left';
    expect(readReadingsList(text)).toEqual({
      problems: [],
      readings: [{ line: 2, lot: 'L3', place: 'left', lab: { l: 50, a: 2, b: 3 }, note: 'first; left' }],
    });
  });

  it('takes a code before the figures for the lot, and a word behind them for the place', () => {
    expect(readReadingsList('L3,50,1,2\nL4,51,1,2,end').readings).toMatchObject([
      { lot: 'L3', place: null },
      { lot: 'L4', place: 'end', lab: { l: 51, a: 1, b: 2 } },
    ]);
  });

  it('tells all that is wrong, each with its line', () => {
    const text = '50 1 2\n\n50 x 2\n120 0 0\n5 90 90\nL*';
    const { readings, problems } = readReadingsList(text);
    expect(readings).toHaveLength(1);
    expect(problems).toEqual([
      'Line 3: a*: “x” is no figure. Write it as 52.3.',
      'Line 4: Enter 0 to 100 for L*.',
      expect.stringMatching(
        /^Line 5: No cloth has this colour: at L\* 5 .* chroma of \d+ at most, and these to 127\./,
      ),
      'Line 6: L*: “L*” is no figure. Write it as 52.3.',
      'Line 6: a*: nothing is there. Write it as 52.3.',
      'Line 6: b*: nothing is there. Write it as 52.3.',
    ]);
    expect(readReadingsList('lot,l,a,b,place\nL1,50,0,0,top').problems).toEqual([
      'Line 2: Place: “top” is none. Write begin, middle, end, left or right.',
    ]);
  });

  it('refuses nothing, a heading alone, and more than it takes', () => {
    expect(readReadingsList(' \n').problems[0]).toContain('The list is empty');
    expect(readReadingsList('L* a* b*').problems[0]).toContain('no reading below it');
    const many = Array.from({ length: MOST_READINGS + 1 }, () => '50 0 0').join('\n');
    expect(readReadingsList(many).problems).toEqual([`The list has 501 readings: divide it, 500 at a time.`]);
  });
});

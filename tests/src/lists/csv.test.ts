import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defuseCell, restoreCell, writeCsv } from '../../../src/lists/csv.ts';

describe('a list as CSV', () => {
  it('has the mark of UTF-8, commas, CRLF and doubled quotes (RFC 4180)', () => {
    expect(writeCsv([['a', 'b "c"', 'd,e'], ['1\n2']])).toBe('\uFEFFa,"b ""c""","d,e"\r\n"1\n2"\r\n');
  });

  it.each([
    ...['=1+1', '+44 20', '-2+3', '@sum', '\t=1', ' =1', "'x"],
    ...['＝1+1', '＋1', '－1', '＠sum', ' ＝1'],
  ])('defuses %j', (cell) => {
    expect(defuseCell(cell)).toBe(`'${cell}`);
  });

  it.each(['-3', '-3.25', '12', 'Foam', ''])('leaves %j', (cell) => expect(defuseCell(cell)).toBe(cell));

  it('read back by a common reader and restored is what was written', () => {
    const cell = fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom(...'=+-@＝＋－＠\'"\t\r\n, a1') }));
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 2 }), { minLength: 1 }), (rows) => {
        const read = parse(writeCsv(rows), { bom: true, record_delimiter: '\r\n' }) as string[][];
        expect(read.map((cells) => cells.map(restoreCell))).toEqual(rows);
      }),
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guessSeparator, readCsv } from '../../../../server/lists/in/reading/csv.ts';
import { rowsOf } from '../../../../server/lists/in/reading/rows.ts';
import { decodeText } from '../../../../server/lists/in/reading/text.ts';
import { writeCsv } from '../../../../src/lists/csv.ts';

describe('what Clothroom writes', () => {
  it('reads back as it was, cell by cell', () => {
    const cell = fc.oneof(
      fc.string({ unit: 'grapheme', maxLength: 12 }),
      fc.constantFrom('=1+1', '-2.5', "'x", '@a', '\ta', 'a,b', '"', '\r\n', '-', '+44', "'=1", ' =1', ''),
    );
    const rows = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(rows, (given) => {
        // A row of blank cells only is no row of a list.
        const kept = [['Cloth', 'Shade'], ...given].filter((row) => row.some((text) => text !== ''));
        const text = writeCsv(kept.map((row) => row.map((each) => each.replaceAll('\0', ''))));
        const back = readCsv(text).filter((row) => row.some((each) => each !== ''));
        expect(back).toEqual(kept.map((row) => row.map((each) => each.replaceAll('\0', ''))));
      }),
    );
  });
});

// The kinds of case of the public collection csv-spectrum (names from memory), with cells of our own.
describe('a list with separators', () => {
  it.each([
    [
      'simple',
      'a,b,c\n1,2,3',
      [
        ['a', 'b', 'c'],
        ['1', '2', '3'],
      ],
    ],
    [
      'simple_crlf',
      'a,b,c\r\n1,2,3\r\n',
      [
        ['a', 'b', 'c'],
        ['1', '2', '3'],
      ],
    ],
    [
      'comma_in_quotes',
      'cloth,place\nnet,"Rack 2, top"',
      [
        ['cloth', 'place'],
        ['net', 'Rack 2, top'],
      ],
    ],
    [
      'empty',
      'a,b,c\n1,"",""\n2,3,4',
      [
        ['a', 'b', 'c'],
        ['1', '', ''],
        ['2', '3', '4'],
      ],
    ],
    [
      'escaped_quotes',
      'a,b\n1,"ha ""ha"" ha"\n3,4',
      [
        ['a', 'b'],
        ['1', 'ha "ha" ha'],
        ['3', '4'],
      ],
    ],
    [
      'json',
      'key,val\n1,"{""at"": [102.0, 0.5]}"',
      [
        ['key', 'val'],
        ['1', '{"at": [102.0, 0.5]}'],
      ],
    ],
    [
      'newlines',
      'a,b\n"one\ntwo",5\n7,8',
      [
        ['a', 'b'],
        ['one\ntwo', '5'],
        ['7', '8'],
      ],
    ],
    [
      'newlines_crlf',
      'a,b\r\n"one\r\ntwo",5\r\n',
      [
        ['a', 'b'],
        ['one\r\ntwo', '5'],
      ],
    ],
    [
      'quotes_and_newlines',
      'a,b\n1,"ha \n""ha"" \nha"\n3,4',
      [
        ['a', 'b'],
        ['1', 'ha \n"ha" \nha'],
        ['3', '4'],
      ],
    ],
    [
      'utf8',
      'a,b\n1,ʤ',
      [
        ['a', 'b'],
        ['1', 'ʤ'],
      ],
    ],
    [
      'semicolons',
      'a;b\n1,5;2',
      [
        ['a', 'b'],
        ['1,5', '2'],
      ],
    ],
    [
      'tabs',
      'a\tb\n"1\t2"\t3',
      [
        ['a', 'b'],
        ['1\t2', '3'],
      ],
    ],
    [
      'inches in a bare cell',
      'cloth,width\nnet,54"',
      [
        ['cloth', 'width'],
        ['net', '54"'],
      ],
    ],
  ])('%s', (_, text, rows) => {
    expect(readCsv(text)).toEqual(rows);
  });

  it('is separated by what parts its heading most, quotes minded', () => {
    expect(guessSeparator('a;b,c;d\n')).toBe(';');
    expect(guessSeparator('"a;b;c;d",e\n')).toBe(',');
    expect(guessSeparator('Cloth\n')).toBe(',');
  });
});

describe('the letters of a file', () => {
  const text = 'Cloth;Façon\nOrganza;Crème – ½ m';
  const utf16 = (mark: number[], swapped: boolean) => {
    const bytes = new Uint8Array(Buffer.from(text, 'utf16le'));
    if (swapped) Buffer.from(bytes.buffer).swap16();
    return new Uint8Array([...mark, ...bytes]);
  };

  it.each([
    ['UTF-8', new TextEncoder().encode(text)],
    ['UTF-8 with its mark', new TextEncoder().encode(`\uFEFF${text}`)],
    ['UTF-16, little end first', utf16([0xff, 0xfe], false)],
    ['UTF-16, big end first', utf16([0xfe, 0xff], true)],
    ['UTF-16 without its mark', utf16([], false)],
    // é is E9, ç E7, ½ BD and the dash 96 in windows-1252 (the WHATWG Encoding Standard's index).
    ['windows-1252', new Uint8Array(Buffer.from(text.replace('–', '\x96'), 'latin1'))],
  ])('are read as %s', (_, bytes) => {
    expect(decodeText(bytes).replace('\uFEFF', '')).toBe(text);
  });

  it('of any bytes are read without a fault', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        expect(typeof decodeText(bytes)).toBe('string');
      }),
    );
  });
});

describe('a list beyond all use', () => {
  it('is refused by its rows', () => {
    const bytes = new TextEncoder().encode(`a,b\n${'1,2\n'.repeat(100_001)}`);
    expect(() => rowsOf(bytes)).toThrow('This list has 100001 rows.');
  });

  it('is refused by its lines, where most are blank', () => {
    expect(() => rowsOf(new TextEncoder().encode(' \n'.repeat(400_001)))).toThrow(
      'This list has 400001 lines',
    );
    expect(rowsOf(new TextEncoder().encode(`a,b\n${' \n'.repeat(1000)}1,2`))).toHaveLength(2);
  });

  it('is refused by its columns, blank ones at the end left out', () => {
    const wide = (columns: number, filler: string) =>
      new TextEncoder().encode(`a,b${`,${filler}`.repeat(columns - 2)}\n1,2`);
    expect(() => rowsOf(wide(300, 'x'))).toThrow('This list has 300 columns. A list takes 100');
    expect(rowsOf(wide(20_000, ''))).toEqual([
      ['a', 'b'],
      ['1', '2'],
    ]);
    expect(rowsOf(new TextEncoder().encode('a,b,\n1,2,3'))[0]).toEqual(['a', 'b', '']);
  });

  it.each([
    [
      'a workbook of the old kind',
      [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1, 10, 65],
      'save it as XLSX',
    ],
    ['a picture', [0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 1, 2], 'characters that no text has'],
    ['a quotation mark left open', [...'a,b\n"1,2'].map((each) => each.charCodeAt(0)), 'closed nowhere'],
  ])('is refused where it is %s', (_, bytes, said) => {
    expect(() => rowsOf(new Uint8Array(bytes))).toThrow(said);
  });
});

import { randomBytes } from 'node:crypto';
import fc from 'fast-check';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { guessSeparator, readCsv } from '../../../server/lists/reading/csv.ts';
import { readListFile } from '../../../server/lists/reading/read-file.ts';
import { rowsOf } from '../../../server/lists/reading/rows.ts';
import { decodeText } from '../../../server/lists/reading/text.ts';
import { unpackedZip } from '../../../server/lists/reading/zip.ts';
import { writeCsv } from '../../../src/csv.ts';

/** All rows of a file, as the runner reads them. */
async function read(bytes: Uint8Array): Promise<string[][]> {
  const rows: string[][] = [];
  for await (const some of readListFile(bytes).rows()) rows.push(...some.map((row) => [...row]));
  return rows;
}

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

/** A workbook of one sheet (ECMA-376), its cells given as the XML of a sheet's rows. */
function workbook(rows: string): Uint8Array {
  const relations = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const packed = 'http://schemas.openxmlformats.org/package/2006/relationships';
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  return zipSync({
    '[Content_Types].xml': strToU8(
      '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>',
    ),
    '_rels/.rels': strToU8(
      `<Relationships xmlns="${packed}"><Relationship Id="rId1" Type="${relations}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    ),
    'xl/workbook.xml': strToU8(
      `<workbook xmlns="${main}" xmlns:r="${relations}"><sheets><sheet name="Stock" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    ),
    'xl/_rels/workbook.xml.rels': strToU8(
      `<Relationships xmlns="${packed}"><Relationship Id="rId1" Type="${relations}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    ),
    'xl/styles.xml': strToU8(
      `<styleSheet xmlns="${main}"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>`,
    ),
    'xl/worksheets/sheet1.xml': strToU8(
      `<worksheet xmlns="${main}"><sheetData>${rows}</sheetData></worksheet>`,
    ),
  });
}

const text = (at: string, words: string) => `<c r="${at}" t="inlineStr"><is><t>${words}</t></is></c>`;

describe('a workbook', () => {
  it('gives the texts of its first sheet: figures as they are meant, what formulas came to, dates as days', async () => {
    const rows = await read(
      workbook(
        `<row r="1">${text('A1', 'Cloth')}${text('B1', 'Length')}${text('C1', 'Bought')}</row>
         <row r="2">${text('A2', 'Organza')}<c r="B2"><f>0.1+0.2</f><v>0.30000000000000004</v></c><c r="C2" s="1"><v>46083</v></c></row>`,
      ),
    );
    // Day 46083 of a workbook's count is 2 March 2026: 46023 is 1 January 2026, and 60 days follow.
    expect(rows).toEqual([
      ['Cloth', 'Length', 'Bought'],
      ['Organza', '0.3', '2026-03-02'],
    ]);
  });

  it('that is none, or unpacks beyond all use, is refused in a sentence', async () => {
    await expect(read(new Uint8Array([0x50, 0x4b, 3, 4, 9, 9, 9]))).rejects.toThrow('no XLSX workbook');
    await expect(read(workbook('').slice(0, 600))).rejects.toThrow('no XLSX workbook');
  });

  it('that unpacks beyond all use is refused, whatever it says of its sizes', async () => {
    const bomb = zipSync({ 'xl/worksheets/sheet1.xml': new Uint8Array(129 * 1024 * 1024) }, { level: 1 });
    expect(bomb.length).toBeLessThan(4 * 1024 * 1024);
    // Size unpacked: 22 bytes into a file's own head, 24 into its entry in the directory (PKWARE's APPNOTE, 4.3).
    const entry = Buffer.from(bomb.buffer).lastIndexOf(Buffer.from([0x50, 0x4b, 1, 2]));
    const view = new DataView(bomb.buffer);
    for (const at of [22, entry + 24]) view.setUint32(bomb.byteOffset + at, 10, true);
    // Two hundred and fifty times what it is packed: no sheet of cells packs so well.
    const mostMb = Math.round((250 * bomb.length) / (1024 * 1024));
    await expect(read(bomb)).rejects.toThrow(`unpacks to more than ${mostMb} MB`);
    const large = {
      'xl/media/noise.bin': randomBytes(2 * 1024 * 1024),
      'xl/worksheets/sheet1.xml': new Uint8Array(129 * 1024 * 1024),
    };
    await expect(read(zipSync(large, { level: 1 }))).rejects.toThrow('unpacks to more than 128 MB');
  });

  it('of a thousand bytes unpacks to 4 MB at most, however often it says the same', async () => {
    const bomb = zipSync({ 'xl/worksheets/sheet1.xml': new Uint8Array(5 * 1024 * 1024) }, { level: 9 });
    expect(bomb.length).toBeLessThan(8 * 1024);
    await expect(read(bomb)).rejects.toThrow('unpacks to more than 4 MB');
  });

  it('with a cell far out is refused before it takes memory for all between', async () => {
    for (const place of ['XFD1048576', 'A20000001', 'ZZ99999']) {
      const far = `<row r="1">${text('A1', 'Cloth')}</row><row r="9">${text(place, 'x')}</row>`;
      await expect(read(workbook(far)), place).rejects.toThrow('clear what stands far out');
    }
  });

  it('is read after the one before it, and one that waits can be stopped', async () => {
    const sheet = (name: string) =>
      workbook(`<row r="1">${text('A1', 'Cloth')}</row><row r="2">${text('A2', name)}</row>`);
    const [first, second, third] = ['Net', 'Tulle', 'Lawn'].map((name) => readListFile(sheet(name)));
    const heard: string[] = [];
    const all = async (reading: typeof first, name: string) => {
      for await (const rows of reading?.rows() ?? []) heard.push(`${name} ${rows[1]?.[0]}`);
      heard.push(`${name} done`);
    };
    second?.stop();
    const later = all(third, 'third');
    const stopped = expect(all(second, 'second')).rejects.toThrow('was stopped');
    await all(first, 'first');
    await Promise.all([later, stopped]);
    expect(heard).toEqual(['first Net', 'first done', 'third Lawn', 'third done']);
  });

  it('whose files are stored or deflated comes out of unpacking as it went in', () => {
    const files = { 'a.xml': strToU8('<a>net</a>'), 'xl/b.rels': strToU8('<b/>'), 'c.png': strToU8('no') };
    for (const level of [0, 6] as const) {
      const unpacked = unzipSync(unpackedZip(zipSync(files, { level }), 100));
      expect(Object.keys(unpacked)).toEqual(['a.xml', 'xl/b.rels']);
      expect(strFromU8(unpacked['a.xml'] ?? new Uint8Array())).toBe('<a>net</a>');
    }
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

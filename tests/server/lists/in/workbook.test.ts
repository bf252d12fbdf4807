import { randomBytes } from 'node:crypto';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { readListFile } from '../../../../server/lists/in/reading/read-file.ts';
import { unpackedZip } from '../../../../server/lists/in/reading/zip.ts';

/** All rows of a file, as the runner reads them. */
async function read(bytes: Uint8Array): Promise<string[][]> {
  const rows: string[][] = [];
  for await (const some of readListFile(bytes).rows()) rows.push(...some.map((row) => [...row]));
  return rows;
}

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

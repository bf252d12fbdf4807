import { createServer } from 'node:http';
import BetterSqlite3 from 'better-sqlite3';
import { bareCut } from './bare-cut.ts';

// What a page of the shelf, or a cut, costs at the least on the same file: node:http, SQLite prepared once, texts put
// together. `bare.child.ts FILE [cuts]`: only then it writes.

const cuts = process.argv[3] === 'cuts';
const book = new BetterSqlite3(process.argv[2] ?? '', { readonly: !cuts });
const cut = cuts ? bareCut(book) : null;
const JOINS = `FROM piece JOIN lot ON lot.id = piece.lot_id JOIN cloth ON cloth.id = lot.cloth_id
  JOIN shade ON shade.id = lot.shade_id LEFT JOIN place ON place.id = piece.place_id WHERE piece.on_hand_ticks > 0`;
const NARROW = {
  all: '',
  cloth: 'AND lot.cloth_id = ? AND lot.shade_id = ?',
  lot: 'AND lot.code = ?',
} as const;

type Row = Readonly<Record<string, string | number | null>>;
const pages = Object.fromEntries(
  Object.entries(NARROW).map(([name, narrow]) => [
    name,
    {
      sums: book.prepare<unknown[], Row>(`SELECT count(*) AS pieces, count(DISTINCT lot.id) AS lots,
        max(piece.on_hand_ticks - piece.held_ticks) AS longest, sum(piece.on_hand_ticks - piece.held_ticks) AS free
        ${JOINS} ${narrow}`),
      rows: book.prepare<unknown[], Row>(`SELECT piece.code, piece.on_hand_ticks, piece.held_ticks,
        piece.usable_width_ticks, lot.code AS lot, cloth.name AS cloth, shade.name AS shade, place.name AS place
        ${JOINS} ${narrow} ORDER BY shade.name, cloth.name, lot.id,
        piece.on_hand_ticks - piece.held_ticks DESC, piece.id LIMIT 50 OFFSET ?`),
    },
  ]),
);

const server = createServer(async (request, response) => {
  const { pathname, searchParams } = new URL(request.url ?? '/', 'http://127.0.0.1');
  if (request.method === 'POST') {
    let body = '';
    for await (const part of request) body += part;
    const sent = new URLSearchParams(body);
    cut?.(sent.get('piece') ?? '', Number(sent.get('tier')), sent.get('request_key') ?? '');
    response.writeHead(303, { location: '/all' }).end();
    return;
  }
  const page = pages[pathname.slice(1)];
  if (!page) throw new Error(`no bare page ${pathname}`);
  const asked = searchParams.getAll('by');
  const sums = page.sums.get(...asked) ?? {};
  const rows = page.rows.all(...asked, Number(searchParams.get('from') ?? 0));
  const metres = (ticks: string | number | null | undefined) => (Number(ticks) / 160_000).toFixed(2);
  const lines = rows
    .map(
      (row) =>
        `<tr><td><a href="/shelf/pieces/${row.code}">${row.code}</a></td><td>${row.cloth}</td><td>${row.shade}</td>` +
        `<td>${row.lot}</td><td>${metres(row.on_hand_ticks)} m</td><td>${metres(row.held_ticks)} m</td>` +
        `<td>${metres(row.usable_width_ticks)} m</td><td>${row.place ?? ''}</td></tr>`,
    )
    .join('\n');
  response.setHeader('content-type', 'text/html; charset=utf-8');
  response.end(
    `<!doctype html><title>Shelf</title><p>${metres(sums.free)} m in ${sums.pieces} pieces of ${sums.lots} lots, ` +
      `longest ${metres(sums.longest)} m</p><table>${lines}</table>`,
  );
});
server.listen(0, '127.0.0.1', () => {
  const address = server.address();
  if (typeof address === 'object') process.stdout.write(`http://127.0.0.1:${address?.port}\n`);
});

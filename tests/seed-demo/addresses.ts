import type { Book } from '../../server/database/book.ts';
import type { Schema } from '../../server/database/schema.ts';
import { ROOMS } from '../../server/web/shell-data.ts';
import { SEWING_JOBS } from '../../src/garment/sewing.ts';

/** Where no page stands for a plain GET: the search and the codes of labels go on to what they name. */
export const NO_PAGES = [
  // While nothing is wrong with the book these lead back to Today; tests/faults looks at them.
  '/trouble',
  '/trouble/workroom.json',
  // Plans that are kept in memory until Clothroom stops: the demo has asked for none.
  '/cutting-table/quick/:id',
  '/find',
  // Signing in leads back to Today while the network is off, and the poster waits for it; tests/server/network asks them.
  '/who',
  '/who/keeper',
  '/setup/network/poster',
  '/certificate/root.crt',
  '/ping',
  // What changed since, in a few numbers: tests/server/pulse asks it.
  '/pulse',
  '/forms/:token',
  '/P/:code',
  '/p/:code',
  '/D/:code',
  '/d/:code',
  '/R/:id',
  '/r/:id',
  // No length of the demo is at a pleater: tests/server/shelf/pleating looks at it.
  '/shelf/pleating/:id',
  '/orders/:code/lines.csv',
  '/setup/lists/out/:name',
  '/setup/lists/:id/left-out.csv',
];

/**
 * The addresses of a route in the demo: every piece, lot, cloth, shade, receipt, order, garment, tier, recipe and
 * batch that the route can show. @throws for a route that nothing is known of
 */
export function addressesOf(route: string, book: Book): string[] {
  if (NO_PAGES.includes(route)) return [];
  if (route === '/shelf/together') return [route, ...comparedShades(book)];
  if (!route.includes(':')) return [route];
  const found = ROUTES.find(([start]) => route === start || route.startsWith(`${start}/`));
  if (!found)
    throw new Error(`the test knows no address for ${route}: add one to tests/seed-demo/addresses.ts`);
  const [start, addresses] = found;
  const rest = route.slice(start.length);
  return addresses(book, rest).map((address) => `${address}${rest}${QUERIES[rest]?.(book) ?? ''}`);
}

type Addresses = (book: Book, rest: string) => string[];

const ROUTES: readonly [start: string, addresses: Addresses][] = [
  ['/shelf/pleating/strips/:id', () => ['/shelf/pleating/strips/1']],
  // The demo has no photos; tests/server/shelf/photo looks at them.
  ['/shelf/photos/:id', () => []],
  ['/shelf/photo-files/:name', () => []],
  [
    '/garments/parts/:part',
    () =>
      [
        'flounce',
        'flounce?seam=300&depth=25&circles=2&sectors=4&join=1&upper=1&hem=2&width=150&unit=cm',
        'pleats?kind=box&finished=300&face=5&strip=150&seam=1&unit=cm',
        'bias?cut=10&length=30+m&width=145&join=1&unit=cm',
        'repeat?height=240&repeat=37&count=4&half=yes&unit=cm',
        'closing?waist=70&finished=4&opening=25&spacing=5&pull_over=100&unit=cm',
        'cage?girths=130,+188,+246,+305&lap=10&tapes=8&drop=90&coil=500&unit=cm',
        'trim?edge=3+m&fullness=1.5&edges=12&put_up=25+m&unit=cm',
        'gathering?flat=900&finished=300&rows=2&most=300&unit=cm',
      ].map((part) => `/garments/parts/${part}`),
  ],
  ['/help/:room', () => ROOMS.map(({ key }) => `/help/${key}`)],
  ['/setup/people/:id/passphrase', () => ['/setup/people/1/passphrase']],
  ['/setup/rates/:job', () => SEWING_JOBS.map((job) => `/setup/rates/${job}`)],
  ['/setup/lists/:id', () => ['/setup/lists/1']],
  ['/setup/labels/sheets/:id', () => ['/setup/labels/sheets/1']],
  ['/setup/labels/runs/:id', () => ['/setup/labels/runs/1']],
  [
    '/shelf/pieces/:code/inspections',
    (book) => received(book).map((code) => `/shelf/pieces/${code}/inspections`),
  ],
  ['/shelf/pieces/:code', (book) => codes(book, 'piece').map((code) => `/shelf/pieces/${code}`)],
  ['/shelf/together/:one/:other', (book) => lotsOfOneShade(book)],
  ['/shelf/lots/:code', (book) => codes(book, 'lot').map((code) => `/shelf/lots/${code}`)],
  ['/shelf/cloths/:id', (book) => ids(book, 'cloth').map((id) => `/shelf/cloths/${id}`)],
  ['/shelf/shades/:id', (book) => ids(book, 'shade').map((id) => `/shelf/shades/${id}`)],
  ['/shelf/receipts/:id', (book) => ids(book, 'receipt').map((id) => `/shelf/receipts/${id}`)],
  ['/orders/suppliers/:id', (book) => ids(book, 'supplier').map((id) => `/orders/suppliers/${id}`)],
  ['/orders/offers/:id', (book) => ids(book, 'offer').map((id) => `/orders/offers/${id}`)],
  [
    '/orders/supply-offers/:id',
    (book) => ids(book, 'supply_offer').map((id) => `/orders/supply-offers/${id}`),
  ],
  ['/orders/:code', (book, rest) => ordersFor(book, rest).map((code) => `/orders/${code}`)],
  ['/garments/:code/parts/new/:kind', (book) => openGarments(book).slice(0, 2).flatMap(kindsOfPart)],
  ['/garments/:code/parts/new', (book) => openGarments(book).map((code) => `/garments/${code}/parts/new`)],
  [
    '/garments/:code/parts/:id',
    (book) => keptParts(book).map(([code, id]) => `/garments/${code}/parts/${id}`),
  ],
  ['/garments/:code/tiers/new', (book) => openGarments(book).map((code) => `/garments/${code}/tiers/new`)],
  ['/garments/:code/tiers/:id', (book) => tiers(book).map(([code, id]) => `/garments/${code}/tiers/${id}`)],
  [
    '/garments/:code',
    (book, rest) =>
      (rest === '' ? codes(book, 'garment') : openGarments(book)).map((code) => `/garments/${code}`),
  ],
  ['/cutting-table/:code/bench', (book) => openGarments(book).map((code) => `/cutting-table/${code}/bench`)],
  ['/cutting-table/:code/sheet', (book) => openGarments(book).map((code) => `/cutting-table/${code}/sheet`)],
  [
    '/cutting-table/:code/lays/:id',
    (book) => lays(book).map(([code, id]) => `/cutting-table/${code}/lays/${id}`),
  ],
  ['/cutting-table/:code/plan', (book) => openGarments(book).map((code) => `/cutting-table/${code}/plan`)],
  ['/cutting-table/:code/:tier', tablesFor],
  ['/supplies/:id', (book) => ids(book, 'supply').map((id) => `/supplies/${id}`)],
  ['/dye-bench/dyes/:id', (book) => ids(book, 'dye').map((id) => `/dye-bench/dyes/${id}`)],
  ['/dye-bench/vessels/:id', (book) => ids(book, 'vessel').map((id) => `/dye-bench/vessels/${id}`)],
  ['/dye-bench/recipes/:id', (book) => ids(book, 'recipe').map((id) => `/dye-bench/recipes/${id}`)],
  [
    '/dye-bench/swatches/:code',
    (book) => codes(book, 'swatch_job').map((code) => `/dye-bench/swatches/${code}`),
  ],
  ['/dye-bench/series/:code', (book) => codes(book, 'series').map((code) => `/dye-bench/series/${code}`)],
  [
    '/dye-bench/batches/:code',
    (book, rest) => batchesFor(book, rest).map((code) => `/dye-bench/batches/${code}`),
  ],
];

/** What a page needs to be told besides its own address. */
const QUERIES: Readonly<Record<string, (book: Book) => string>> = {
  '/holds': (book) => `?piece=${heldPiece(book).code}`,
  '/releases': (book) => `?piece=${heldPiece(book).code}`,
  '/cuts': (book) => `?piece=${heldPiece(book).code}`,
};

/** Every cloth and shade by itself, and for the garment that wants it. */
function comparedShades(book: Book): string[] {
  const lots = book.db.selectFrom('lot').select(['cloth_id', 'shade_id']).distinct();
  return book
    .all(lots)
    .flatMap(({ cloth_id, shade_id }) =>
      ['', '&garment=G2'].map((garment) => `/shelf/together?cloth=${cloth_id}&shade=${shade_id}${garment}`),
    );
}

/** Two lots of one shade, side by side. */
function lotsOfOneShade(book: Book): string[] {
  const { db } = book;
  const two = db
    .selectFrom('lot as one')
    .innerJoin('lot as other', (join) =>
      join
        .onRef('other.cloth_id', '=', 'one.cloth_id')
        .onRef('other.shade_id', '=', 'one.shade_id')
        .onRef('other.id', '>', 'one.id'),
    )
    .select(['one.code as one', 'other.code as other'])
    .limit(1);
  return book.all(two).map(({ one, other }) => `/shelf/together/${one}/${other}`);
}

function tablesFor(book: Book, rest: string): string[] {
  const { garment, tierId } = heldPiece(book);
  if (rest === '' || rest === '/bench')
    return stripRows(book).map(([code, row]) => `/cutting-table/${code}/${row}`);
  return [`/cutting-table/${garment}/${tierId}`];
}

/** Pieces that came with a delivery. */
function received(book: Book): string[] {
  const query = book.db
    .selectFrom('entry')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .select('piece.code')
    .where('entry.kind', '=', 'received');
  return book.all(query).map(({ code }) => code);
}

/** A draft is changed and sent, what was sent is received. */
function ordersFor(book: Book, rest: string): string[] {
  const { db } = book;
  const orders = db.selectFrom('order').select('code');
  const drafts = book.all(orders.where('sent_at', 'is', null)).map(({ code }) => code);
  const sent = book.all(orders.where('sent_at', 'is not', null)).map(({ code }) => code);
  if (rest === '') return [...drafts, ...sent];
  return rest === '/receipts' ? sent : drafts;
}

/** Only what was dyed can be repeated, added to by hand, and has a card. */
function batchesFor(book: Book, rest: string): string[] {
  if (!['/repeat', '/card', '/by-hand'].includes(rest)) return codes(book, 'batch');
  const started = book.db.selectFrom('batch').select('code').where('card', 'is not', null);
  return book.all(started).map(({ code }) => code);
}

function openGarments(book: Book): string[] {
  const query = book.db.selectFrom('garment').select('code').where('finished_at', 'is', null);
  return book.all(query).map(({ code }) => code);
}

function kindsOfPart(code: string): string[] {
  const kinds = ['flounce', 'pleats', 'bias', 'repeat', 'closing', 'cage', 'trim', 'gathering'];
  return kinds.map((kind) => `/garments/${code}/parts/new/${kind}`);
}

function keptParts(book: Book): [code: string, partId: number][] {
  const query = book.db
    .selectFrom('garment_part')
    .innerJoin('garment', 'garment.id', 'garment_part.garment_id')
    .select(['garment.code', 'garment_part.id']);
  return book.all(query).map(({ code, id }) => [code, id]);
}

function tiers(book: Book): [code: string, tierId: number][] {
  const query = book.db
    .selectFrom('tier')
    .innerJoin('garment', 'garment.id', 'tier.garment_id')
    .select(['garment.code', 'tier.id'])
    .where('tier.garment_part_id', 'is', null);
  return book.all(query).map(({ code, id }) => [code, id]);
}

/** What strips are held and cut for: the tiers, and the parts by their rows. */
function stripRows(book: Book): [code: string, rowId: number][] {
  const query = book.db
    .selectFrom('tier')
    .innerJoin('garment', 'garment.id', 'tier.garment_id')
    .select(['garment.code', 'tier.id']);
  return fewOfEach(
    book.all(query).map(({ code, id }) => [code, id]),
    8,
  );
}

function lays(book: Book): [code: string, layId: number][] {
  const query = book.db
    .selectFrom('cut_lay')
    .innerJoin('cut_plan', 'cut_plan.id', 'cut_lay.plan_id')
    .innerJoin('garment', 'garment.id', 'cut_plan.garment_id')
    .select(['garment.code', 'cut_lay.id']);
  return fewOfEach(
    book.all(query).map(({ code, id }) => [code, id]),
    6,
  );
}

/** Of a garment of very many tiers or lays the first are looked at: the others are their like. */
function fewOfEach(all: readonly [code: string, id: number][], most: number): [code: string, id: number][] {
  const seen = new Map<string, number>();
  return all.filter(([code]) => {
    const before = seen.get(code) ?? 0;
    seen.set(code, before + 1);
    return before < most;
  });
}

function heldPiece(book: Book): { code: string; garment: string; tierId: number } {
  const held = book.first(
    book.db
      .selectFrom('hold')
      .innerJoin('piece', 'piece.id', 'hold.piece_id')
      .innerJoin('tier', 'tier.id', 'hold.tier_id')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      .select(['piece.code', 'garment.code as garment', 'tier.id as tierId'])
      .orderBy('hold.held_ticks', 'desc'),
  );
  if (!held) throw new Error('the demo holds nothing');
  return held;
}

function ids(
  book: Book,
  table:
    | 'cloth'
    | 'shade'
    | 'receipt'
    | 'supplier'
    | 'recipe'
    | 'dye'
    | 'supply'
    | 'vessel'
    | 'offer'
    | 'supply_offer',
): number[] {
  return book.all(book.db.selectFrom(table).select('id')).map(({ id }) => id);
}

function codes(
  book: Book,
  table: Extract<keyof Schema, 'piece' | 'lot' | 'garment' | 'batch' | 'swatch_job' | 'series'>,
): string[] {
  return book.all(book.db.selectFrom(table).select('code')).map(({ code }) => code);
}

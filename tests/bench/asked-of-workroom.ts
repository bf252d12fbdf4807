import type BetterSqlite3 from 'better-sqlite3';
import type { Served } from './served.ts';

// What is asked of a workroom that is measured: a page is a line of PAGES, a deed a line of DEEDS.

/** What the addresses name: of each kind one that a person would look at. */
export interface Facts {
  readonly clothId: number;
  readonly shadeId: number;
  /** a lot on the shelf of that cloth and shade, and the longest of its pieces */
  readonly lot: string;
  readonly piece: string;
  /** an open garment that is due early, and a tier of it that wants that cloth and shade */
  readonly garment: string;
  readonly tierId: number;
  /** a finished garment; null where there is none */
  readonly finished: string | null;
}

export function readFacts(book: BetterSqlite3.Database): Facts {
  const facts = book
    .prepare<[], Facts>(
      `SELECT lot.cloth_id AS clothId, lot.shade_id AS shadeId, lot.code AS lot, piece.code AS piece,
        garment.code AS garment, tier.id AS tierId,
        (SELECT code FROM garment WHERE finished_at IS NOT NULL ORDER BY id LIMIT 1) AS finished
      FROM garment JOIN tier ON tier.garment_id = garment.id JOIN colour_block ON colour_block.tier_id = tier.id
      JOIN lot ON lot.cloth_id = tier.cloth_id AND lot.shade_id = colour_block.shade_id
      JOIN piece ON piece.lot_id = lot.id
      WHERE garment.finished_at IS NULL AND piece.on_hand_ticks > 0
      ORDER BY piece.on_hand_ticks - piece.held_ticks DESC, piece.id LIMIT 1`,
    )
    .get();
  if (!facts) throw new Error('the workroom has nothing on the shelf that a garment wants');
  return facts;
}

/** null where the workroom has no such page */
type Address = (facts: Facts) => string | null;

export const PAGES: Readonly<Record<string, Address>> = {
  Today: () => '/',
  Shelf: () => '/shelf',
  'Shelf, cloth and shade': ({ clothId, shadeId }) => `/shelf?cloth=${clothId}&shade=${shadeId}`,
  'Shelf, lot': ({ lot }) => `/shelf?lot=${lot}`,
  'Shelf, page 20': () => '/shelf?page=20',
  'By place': () => '/shelf/by-place',
  Piece: ({ piece }) => `/shelf/pieces/${piece}`,
  Lot: ({ lot }) => `/shelf/lots/${lot}`,
  Shade: ({ shadeId }) => `/shelf/shades/${shadeId}`,
  Cloth: ({ clothId }) => `/shelf/cloths/${clothId}`,
  Ledger: () => '/shelf/ledger',
  Garments: () => '/garments',
  Garment: ({ garment }) => `/garments/${garment}`,
  'Finished garment': ({ finished }) => finished && `/garments/${finished}`,
  Tier: ({ garment, tierId }) => `/garments/${garment}/tiers/${tierId}`,
  Short: () => '/short',
  'Short of one garment': ({ garment }) => `/short?garment=${garment}`,
  'Can I take': ({ clothId, shadeId }) => `/take?length=3+m&cloth=${clothId}&shade=${shadeId}`,
  Basket: () => '/orders/basket',
  'Cutting table': () => '/cutting-table',
  'Cut list of a tier': ({ garment, tierId }) => `/cutting-table/${garment}/${tierId}`,
  'Plan page': ({ garment }) => `/cutting-table/${garment}/plan`,
  'Find a code': ({ piece }) => `/find?code=${piece.toLowerCase()}`,
};

/** The same pages of the shelf by the bare server. */
export const BARE_PAGES: Readonly<Record<string, Address>> = {
  Shelf: () => '/all',
  'Shelf, cloth and shade': ({ clothId, shadeId }) => `/cloth?by=${clothId}&by=${shadeId}`,
  'Shelf, lot': ({ lot }) => `/lot?by=${lot}`,
  'Shelf, page 20': () => '/all?from=950',
};

/** What one run of a deed needs to be told: `keys` are those of the deeds before, for Undo. */
type Deed = (served: Served, facts: Facts, keys: string[]) => Promise<unknown>;

const doAndKeep =
  (path: (facts: Facts) => string, fields: (facts: Facts) => Readonly<Record<string, string>>): Deed =>
  async (served, facts, keys) =>
    keys.push(await served.post(path(facts), fields(facts)));

export const DEEDS: Readonly<Record<string, Deed>> = {
  'Hold a metre': doAndKeep(
    ({ garment, tierId }) => `/cutting-table/${garment}/${tierId}/holds`,
    ({ piece }) => ({ piece, length: '1 m', lots_meet: 'yes' }),
  ),
  'Cut a strip': doAndKeep(
    ({ garment, tierId }) => `/cutting-table/${garment}/${tierId}/cuts`,
    ({ piece }) => ({ piece, strips: '1', more_than_wanted: 'yes', lots_meet: 'yes' }),
  ),
  Undo: (served, _, keys) => served.post('/undo', { undoes: keys.pop() ?? '' }),
  'Receive 10': doAndKeep(
    () => '/shelf/receipts',
    ({ clothId, shadeId }) => ({
      'pieces.0.kind': 'bolt',
      'pieces.0.cloth_id': String(clothId),
      'pieces.0.shade_id': String(shadeId),
      'pieces.0.length': Array.from({ length: 10 }, (_, place) => `${5 + place} m`).join('; '),
    }),
  ),
  'Cut a strip, then Today': async (served, facts, keys) => {
    await DEEDS['Cut a strip']?.(served, facts, keys);
    return served.get('/');
  },
};

/** What a workroom is asked in turn where many requests are counted: every page, and after ten of them a deed, which is undone. */
export const MIXED_DEEDS: readonly string[] = [
  'Hold a metre',
  'Undo',
  'Cut a strip',
  'Undo',
  'Receive 10',
  'Undo',
];
export const PAGES_A_DEED = 10;

import type BetterSqlite3 from 'better-sqlite3';

/** What writes have touched since it was asked last. */
export interface Touched {
  /** true where it cannot be told what follows from a change, or nothing was looked at yet */
  readonly all: boolean;
  readonly garmentIds: ReadonlySet<number>;
  /** cloth and shade, as `needKey` writes them */
  readonly keys: ReadonlySet<string>;
  readonly orders: boolean;
  /** batches, what they are made of, or what was sent to them and came back */
  readonly dyeing: boolean;
}

type Event = 'INSERT' | 'DELETE' | `UPDATE${'' | ` OF ${string}`}`;

/** The tables that needs follow from, what must happen to a row, and what that touches. */
interface Followed {
  readonly table: string;
  readonly events: readonly Event[];
  /** `NEW` and `OLD` stand for the row */
  readonly touches: (row: 'NEW' | 'OLD') => string;
}

const EVERY: readonly Event[] = ['INSERT', 'UPDATE', 'DELETE'];
/** Of what is only added and undone. */
const READ: readonly Event[] = ['INSERT', 'UPDATE'];
const ALL = () => `SELECT 'all', 0, 0`;
const ORDERS = () => `SELECT 'orders', 0, 0`;
const DYEING = () => `SELECT 'dyeing', 0, 0`;
const garment = (id: string) => `SELECT 'garment', ${id}, 0`;
const ofTier = (id: string) => `SELECT 'garment', garment_id, 0 FROM tier WHERE id = ${id}`;
const ofLot = (id: string) => `SELECT 'need', cloth_id, shade_id FROM lot WHERE id = ${id}`;
/**
 * Entries and holds are followed by the piece, which carries their sums, and those of a batch by themselves; a piece stays of its lot, and a lot of its cloth. Where a flaw lies follows its cloth from piece to
 * piece, dyed or not, so that a flaw touches everything.
 */
export const FOLLOWED: readonly Followed[] = [
  {
    table: 'piece',
    events: ['INSERT', 'UPDATE OF on_hand_ticks, held_ticks, usable_width_ticks'],
    // How wide a piece is counts for the batch that is planned of it, too.
    touches: (row) =>
      `${ofLot(`${row}.lot_id`)} UNION ALL ${DYEING()} WHERE EXISTS (SELECT 1 FROM batch_piece WHERE piece_id = ${row}.id)`,
  },
  { table: 'piece_flaw', events: EVERY, touches: ALL },
  {
    table: 'lot',
    events: ['UPDATE OF code, joined_to_id, shade_id'],
    // A lot that is kept as another shade leaves the needs of the former.
    touches: (row) => `SELECT 'need', ${row}.cloth_id, ${row}.shade_id`,
  },
  { table: 'colour_reading', events: READ, touches: (row) => ofLot(`${row}.lot_id`) },
  {
    table: 'pair_judgement',
    events: READ,
    touches: (row) => `${ofLot(`${row}.lot_id`)} UNION ALL ${ofLot(`${row}.to_lot_id`)}`,
  },
  {
    table: 'cut_plan',
    events: ['INSERT', 'UPDATE'],
    touches: (row) =>
      `SELECT 'need', ${row}.cloth_id, ${row}.shade_id UNION ALL ${garment(`${row}.garment_id`)}`,
  },
  { table: 'garment', events: EVERY, touches: (row) => garment(`${row}.id`) },
  { table: 'girth', events: EVERY, touches: (row) => garment(`${row}.garment_id`) },
  { table: 'tier', events: EVERY, touches: (row) => garment(`${row}.garment_id`) },
  { table: 'colour_block', events: EVERY, touches: (row) => ofTier(`${row}.tier_id`) },
  { table: 'cloth', events: ['UPDATE OF name, usable_width_ticks, one_way, repeat_ticks'], touches: ALL },
  { table: 'shade', events: ['UPDATE'], touches: ALL },
  { table: 'workroom', events: ['UPDATE'], touches: ALL },
  { table: 'person', events: ['UPDATE OF name'], touches: ALL },
  { table: 'order', events: EVERY, touches: ORDERS },
  { table: 'supplier', events: ['UPDATE OF name'], touches: ORDERS },
  { table: 'batch', events: EVERY, touches: DYEING },
  // Of the entries only those of a batch: what they undo is about the same batch.
  { table: 'entry', events: ['INSERT'], touches: (row) => `${DYEING()} WHERE ${row}.batch_id IS NOT NULL` },
];

/**
 * Tables that no need follows from, or only together with one that is followed: a remnant's place comes with its piece,
 * a lay with its plan and its hold, a part with its row among the tiers, a measure on the stand with its tier, a batch's lengths with it, lines and terms of an order before it is sent, what is received with its pieces.
 */
export const NOT_FOLLOWED: readonly string[] = [
  'auxiliary_price',
  'batch_amount',
  'batch_bath',
  'batch_log',
  'batch_log_auxiliary',
  'batch_piece',
  'batch_repeat',
  'cloth_fibre',
  'cloth_spare',
  'closed_day',
  'cut_lay',
  'cut_lay_tier',
  'device',
  'dip',
  'dip_move',
  'dye',
  'dyed_swatch',
  'dyed_swatch_dye',
  'energy_price',
  'garment_budget',
  'garment_part',
  'garment_version',
  'garment_work',
  'grading_rule',
  'hold',
  'hour_price',
  'inspection',
  'invitation',
  'label',
  'label_address',
  'label_run',
  'label_sheet',
  'list_in',
  'list_row',
  'lot_join',
  'made_measure',
  'wash_test',
  'lot_shade',
  'maker_label',
  'network',
  'offer',
  'offer_price',
  'order_line',
  'order_line_offer',
  'order_terms',
  'other_use',
  'person_hours',
  'person_secret',
  'photo',
  'photo_marking',
  'photo_result',
  'photo_set',
  'piece_width',
  'place',
  'pleating',
  'pleating_back',
  'strips_pleated',
  'receipt',
  'order_line_lot',
  'lot_answer',
  'reservation',
  'sample_request',
  'return_credit',
  'received_cost',
  'recipe',
  'recipe_auxiliary',
  'recipe_copy',
  'recipe_dye',
  'recipe_fixing',
  'remnant_from',
  'request',
  'series',
  'series_step',
  'sewing',
  'sewing_job',
  'sign_in',
  'supplier_terms',
  'supply',
  'supply_entry',
  'supply_hold',
  'supply_lot',
  'supply_offer',
  'supply_offer_price',
  'supply_order_line',
  'supply_received_cost',
  'swatch',
  'swatch_dye_lot',
  'swatch_job',
  'swatch_result',
  'table_rate',
  'tier_size',
  'tier_thread',
  'vessel',
  'water_test',
  'work_day',
  'work_tap',
];

/**
 * Keeps, on one connection, which needs are touched by what is written through it. The notes are made by triggers within
 * the very transaction that writes, so that nothing is missed, and what is rolled back leaves no note.
 */
export class TouchedNeeds {
  readonly #take: () => Touched;

  constructor(connection: BetterSqlite3.Database) {
    connection.exec('CREATE TEMP TABLE IF NOT EXISTS touched_need (what TEXT, one INTEGER, other INTEGER)');
    for (const followed of FOLLOWED) connection.exec(triggersOf(followed));
    const read = connection.prepare<[], { what: string; one: number; other: number }>(
      'SELECT DISTINCT what, one, other FROM temp.touched_need',
    );
    const clear = connection.prepare('DELETE FROM temp.touched_need');
    let isFirst = true;
    this.#take = () => {
      const rows = read.all();
      if (rows.length > 0) clear.run();
      const all = isFirst || rows.some(({ what }) => what === 'all');
      isFirst = false;
      const of = (kind: string) => rows.filter(({ what }) => what === kind);
      return {
        all,
        garmentIds: new Set(of('garment').map(({ one }) => one)),
        keys: new Set(of('need').map(({ one, other }) => `${one} ${other}`)),
        orders: of('orders').length > 0,
        dyeing: of('dyeing').length > 0,
      };
    };
  }

  take(): Touched {
    return this.#take();
  }
}

function triggersOf({ table, events, touches }: Followed): string {
  return events
    .map((event) => {
      const rows =
        event === 'INSERT'
          ? (['NEW'] as const)
          : event === 'DELETE'
            ? (['OLD'] as const)
            : (['OLD', 'NEW'] as const);
      const name = `touched_by_${table}_${event.slice(0, 6).toLowerCase()}`;
      const notes = rows.map((row) => `INSERT INTO touched_need ${touches(row)};`).join('\n');
      return `CREATE TEMP TRIGGER IF NOT EXISTS ${name} AFTER ${event} ON main."${table}" BEGIN\n${notes}\nEND;`;
    })
    .join('\n');
}

import { type Finish, stateToldBy } from '../../../src/dye/cloth-finish.ts';
import { readStockRow, type StockRow } from '../../../src/lists/stock-list.ts';
import type { Tx } from '../../database/book.ts';
import { findNamed, nameKey } from '../../kit/same-name.ts';
import { receivePiece } from '../../ledger/verbs.ts';
import { findPiece } from '../../shelf/piece/facts.ts';
import { freshLotCode, knownMillLot } from '../../shelf/receive/receiving.ts';
import { areOthersIn, codeTaken, isTaken, isTwin } from './checking.ts';
import type { ListIn, ListRow } from './store.ts';

/** Puts rows of a list on the shelf: the names that are new, the lots, the pieces and their entries. */
export class TakingIn {
  readonly #list: ListIn;
  readonly #lots = new Map<string, number>();
  readonly #ids = new Map<string, number>();
  readonly #usableWidths = new Map<number, number>();

  constructor(list: ListIn) {
    this.#list = list;
  }

  take(tx: Tx, rows: readonly ListRow[]): void {
    // Another list may have come in, or have been taken back, since this one was checked.
    const anyTwins = areOthersIn(tx, this.#list.id);
    for (const { number, cells, mark } of rows) {
      const read = readStockRow(cells, this.#list.columns, this.#list.writing);
      if (!read.ok) throw new Error(`Row ${number} was checked and cannot be read.`);
      const twin = anyTwins && isTwin(tx, this.#list.id, mark);
      const problems =
        !twin && read.row.code !== '' && isTaken(tx, read.row.code) ? [codeTaken(read.row.code)] : [];
      const leaveOut = problems.length > 0 || (twin && this.#list.skipTwins);
      const came = leaveOut
        ? { problems: JSON.stringify(problems) }
        : { piece_id: this.#takeRow(tx, read.row), request_key: tx.requestKey };
      tx.run(
        tx.db
          .updateTable('list_row')
          .set({ ...came, twin: twin ? 1 : 0 })
          .where('list_in_id', '=', this.#list.id)
          .where('row_number', '=', number),
      );
    }
  }

  #takeRow(tx: Tx, row: StockRow): number {
    const clothId = this.#clothOf(tx, row);
    const shadeId = this.#idOf(tx, 'shade', row.shade, () => ({ ground: row.undyed ? 1 : 0 }));
    const supplierId = row.supplier === '' ? null : this.#idOf(tx, 'supplier', row.supplier, () => ({}));
    const piece = {
      kind: row.kind,
      lotId: this.#lotOf(tx, row, clothId, shadeId, supplierId),
      usableWidthTicks: row.usableWidthTicks ?? this.#usableWidthOf(tx, clothId),
      placeId: row.place === '' ? null : this.#idOf(tx, 'place', row.place, () => ({})),
      lengthTicks: row.lengthTicks,
      typed: row.typed,
      costMinor: row.costMinor,
      ...(row.code === '' || findPiece(tx, row.code) ? {} : { code: row.code }),
    };
    return receivePiece(tx, piece, { why: `From the list ${this.#list.name}.` }).id;
  }

  #clothOf(tx: Tx, row: StockRow): number {
    const described = () => {
      const { clothWidthTicks: width } = row;
      if (width === null)
        throw new Error(`The cloth ${row.cloth} has another name by now: take the list back, and mend it.`);
      return {
        construction: row.construction || 'not said',
        width_ticks: width,
        usable_width_ticks: row.clothUsableWidthTicks ?? row.usableWidthTicks ?? width,
        mass_per_area_mg_m2: row.massPerAreaMgM2,
        ...finishColumns(row.finish ?? ''),
      };
    };
    return this.#idOf(tx, 'cloth', row.cloth, described, (clothId) => {
      for (const { fibre, shareBp } of row.fibres)
        tx.run(tx.db.insertInto('cloth_fibre').values({ cloth_id: clothId, fibre, share_bp: shareBp }));
    });
  }

  #usableWidthOf(tx: Tx, clothId: number): number {
    const known =
      this.#usableWidths.get(clothId) ??
      tx.first(tx.db.selectFrom('cloth').select('usable_width_ticks').where('id', '=', clothId))
        ?.usable_width_ticks;
    if (known === undefined) throw new Error('the cloth of a row is in the book');
    this.#usableWidths.set(clothId, known);
    return known;
  }

  #lotOf(tx: Tx, row: StockRow, clothId: number, shadeId: number, supplierId: number | null): number {
    const same = `${clothId} ${shadeId} ${supplierId} ${row.lot.toLowerCase()}`;
    const known =
      this.#lots.get(same) ??
      (row.lot === ''
        ? this.#namelessBefore(tx, clothId, shadeId, supplierId)
        : knownMillLot(tx, { clothId, shadeId, millLot: row.lot }, supplierId)?.id);
    const lotId =
      known ??
      tx.run(
        tx.db.insertInto('lot').values({
          code: freshLotCode(tx),
          cloth_id: clothId,
          shade_id: shadeId,
          origin: 'mill',
          mill_lot: row.lot,
          supplier_id: supplierId,
          batch_id: null,
        }),
      ).lastId;
    this.#lots.set(same, lotId);
    return lotId;
  }

  /** The lot that rows without one were given before taking in was interrupted. */
  #namelessBefore(tx: Tx, clothId: number, shadeId: number, supplierId: number | null): number | undefined {
    return tx.first(
      tx.db
        .selectFrom('list_row')
        .innerJoin('piece', 'piece.id', 'list_row.piece_id')
        .innerJoin('lot', 'lot.id', 'piece.lot_id')
        .select('lot.id')
        .where('list_row.list_in_id', '=', this.#list.id)
        .where('lot.cloth_id', '=', clothId)
        .where('lot.shade_id', '=', shadeId)
        .where('lot.supplier_id', supplierId === null ? 'is' : '=', supplierId)
        .where('lot.mill_lot', '=', ''),
    )?.id;
  }

  /** The row of a name, whatever its case and spaces; made where there is none. */
  #idOf(
    tx: Tx,
    table: 'cloth' | 'shade' | 'place' | 'supplier',
    name: string,
    more: () => object,
    made: (id: number) => void = () => undefined,
  ): number {
    const key = `${table} ${nameKey(name)}`;
    const known = this.#ids.get(key) ?? findNamed(tx, table, name)?.id;
    const id = known ?? tx.run(tx.db.insertInto(table).values({ name, ...more() } as never)).lastId;
    if (known === undefined) made(id);
    this.#ids.set(key, id);
    return id;
  }
}

/** What the words of a list tell of a cloth's finish and state. */
function finishColumns(finish: string) {
  const { state = '', nylon = '', finishes = [] } = stateToldBy(finish);
  const given = (wanted: Finish) => (finishes.includes(wanted) ? 1 : 0);
  return {
    finish,
    state,
    nylon,
    flame_retardant: given('flame-retardant'),
    water_repellent: given('water-repellent'),
    parchment: given('parchment'),
    starched: given('starched'),
  };
}

import { sql } from 'kysely';
import { showLength, showSize, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { shadeColour } from '../kit/chip.ts';
import { sayLot } from '../kit/choices.ts';
import { dayOf, showDay } from '../kit/when.ts';
import type { Thing } from './things.ts';

/** What one label says: its code in large, then lines in the order of their worth. */
export interface LabelWords {
  readonly thing: Thing;
  readonly lines: readonly LabelLine[];
}

interface LabelLine {
  readonly text: string;
  /** the swatch beside the words, where a colour is known */
  readonly colour: string | null;
}

/** The words of a run's labels, in their order. */
export function readWords(reader: Reader, runId: number, at: string, units: Units): LabelWords[] {
  const labels = reader.all(
    reader.db.selectFrom('label').selectAll().where('label_run_id', '=', runId).orderBy('position'),
  );
  const on = showDay(dayOf(at));
  return labels.map((label) => {
    if (label.piece_id !== null) return ofPiece(reader, label.piece_id, label.on_hand_ticks ?? 0, on, units);
    return label.batch_id !== null ? ofBatch(reader, label.batch_id) : ofPlace(reader, label.place_id ?? 0);
  });
}

function ofPiece(reader: Reader, id: number, onHandTicks: number, on: string, units: Units): LabelWords {
  const row = found(
    reader.first(
      reader.db
        .selectFrom('piece')
        .innerJoin('lot', 'lot.id', 'piece.lot_id')
        .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
        .innerJoin('shade', 'shade.id', 'lot.shade_id')
        .leftJoin('place', 'place.id', 'piece.place_id')
        .select(['piece.code', 'piece.usable_width_ticks', 'cloth.name as cloth', 'place.name as place'])
        .select(['lot.code as lot_code', 'lot.origin', 'lot.mill_lot'])
        .select(['shade.name', 'shade.lab_l', 'shade.lab_a', 'shade.lab_b'])
        .where('piece.id', '=', id),
    ),
  );
  const lot = sayLot({ code: row.lot_code, origin: row.origin, mill_lot: row.mill_lot });
  return {
    thing: { kind: 'piece', id, code: row.code },
    lines: [
      plainLine(row.cloth),
      { text: row.name, colour: shadeColour(row) },
      plainLine(`Lot ${lot}`),
      plainLine(`${showLength(onHandTicks, units, 'down')} on ${on}`),
      plainLine(`${showSize(row.usable_width_ticks, units, 'down')} usable width`),
      ...(row.place === null ? [] : [plainLine(row.place)]),
    ],
  };
}

function ofBatch(reader: Reader, id: number): LabelWords {
  const row = found(
    reader.first(
      reader.db
        .selectFrom('batch')
        .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
        .innerJoin('shade', 'shade.id', 'recipe.shade_id')
        .innerJoin('vessel', 'vessel.id', 'batch.vessel_id')
        .select(['batch.code', 'batch.planned_at', 'recipe.name as recipe', 'recipe.version'])
        .select(['vessel.name as vessel', 'shade.name', 'shade.lab_l', 'shade.lab_a', 'shade.lab_b'])
        .where('batch.id', '=', id),
    ),
  );
  return {
    thing: { kind: 'batch', id, code: row.code },
    lines: [
      plainLine('Dye batch'),
      { text: row.name, colour: shadeColour(row) },
      plainLine(`${row.recipe}, version ${row.version}`),
      plainLine(row.vessel),
      plainLine(`planned ${showDay(dayOf(row.planned_at))}`),
    ],
  };
}

function ofPlace(reader: Reader, id: number): LabelWords {
  const row = found(
    reader.first(reader.db.selectFrom('place').select(sql<string>`name`.as('name')).where('id', '=', id)),
  );
  return { thing: { kind: 'place', id, code: row.name }, lines: [plainLine('What lies here')] };
}

function plainLine(text: string): LabelLine {
  return { text, colour: null };
}

function found<T>(row: T | undefined): T {
  if (row === undefined) throw new Error('a label stands on something that is not in the book');
  return row;
}

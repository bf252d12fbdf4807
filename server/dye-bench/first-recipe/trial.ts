import type { Observer } from '../../../src/colour/colour-reading.ts';
import { labForObserver } from '../../../src/colour/curve-from-lab.ts';
import type { Lab } from '../../../src/colour/lab.ts';
import type { SeenTogether } from '../../../src/colour/prediction/shade-again.ts';
import type { Reader } from '../../database/book.ts';
import { lotPath, swatchPath } from '../../kit/paths.ts';
import { unknown } from '../../refusal.ts';
import { readReadingsOfLots, readReadingsOfSwatches } from '../../shelf/colour/readings.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';
import { readTarget } from './wanted.ts';

/** A swatch of a job that was dyed for a shade. @throws {Refusal} unknown */
export function readTrial(reader: Reader, swatchId: number): Trial {
  const row = reader.first(
    reader.db
      .selectFrom('swatch')
      .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
      .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select([
        'swatch.id',
        'swatch.position',
        'swatch.recipe_id',
        'swatch.depth_owf_milli',
        'swatch_job.code',
      ])
      .select(['lot.cloth_id', 'lot.shade_id as ground_id', 'shade.ground'])
      .where('swatch.id', '=', swatchId),
  );
  if (!row) throw unknown('such swatch');
  return {
    of: { kind: 'swatch', id: row.id },
    name: `${row.code}.${row.position}`,
    href: swatchPath(row.code),
    stored: readRecipe(reader, row.recipe_id),
    depthOwfMilli: row.depth_owf_milli,
    clothId: row.cloth_id,
    groundId: row.ground_id,
    isOnGround: row.ground === 1,
  };
}

/** What came out of a bath of a batch, as a trial of its recipe. @throws {Refusal} unknown */
export function readDyedLot(reader: Reader, lotId: number): Trial {
  const row = reader.first(
    reader.db
      .selectFrom('lot')
      .innerJoin('batch', 'batch.id', 'lot.batch_id')
      .select(['lot.id', 'lot.code', 'lot.cloth_id', 'batch.id as batch_id', 'batch.recipe_id'])
      .where('lot.id', '=', lotId),
  );
  const undyed = reader.first(
    reader.db
      .selectFrom('batch_piece')
      .innerJoin('piece', 'piece.id', 'batch_piece.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select(['shade.id', 'shade.ground'])
      .where('batch_piece.batch_id', '=', row?.batch_id ?? 0)
      .orderBy('piece.id'),
  );
  if (!row || !undyed) throw unknown('such dyed lot');
  return {
    of: { kind: 'lot', id: row.id },
    name: row.code,
    href: lotPath(row.code),
    stored: readRecipe(reader, row.recipe_id),
    depthOwfMilli: null,
    clothId: row.cloth_id,
    groundId: undyed.id,
    isOnGround: undyed.ground === 1,
  };
}

/** A swatch or a dyed lot that is held against the shade that its recipe is for. */
export interface Trial {
  readonly of: { readonly kind: 'swatch' | 'lot'; readonly id: number };
  readonly name: string;
  readonly href: string;
  readonly stored: StoredRecipe;
  /** null where it was dyed as deep as its recipe says */
  readonly depthOwfMilli: number | null;
  readonly clothId: number;
  readonly groundId: number;
  readonly isOnGround: boolean;
}

/** Target and trial as they were seen, and in words how; for the observer of the predictor. */
export interface Sighting extends SeenTogether {
  readonly how: string;
}

/**
 * The last photo of the trial beside the shade, else readings of both; null where there is neither. One photo goes first:
 * what is wrong with it is wrong with both.
 */
export function readSighting(reader: Reader, trial: Trial, observer: Observer): Sighting | null {
  const target = readTarget(reader, trial.stored.shade.id, observer);
  if (!target?.wanted) return null;
  const wanted = { ...target.wanted, name: target.name };
  return readPair(reader, trial, wanted.lab) ?? readBoth(reader, trial, { wanted, observer });
}

function readPair(reader: Reader, trial: Trial, wantedLab: Lab): Sighting | null {
  const row = reader.first(
    reader.db
      .selectFrom('pair_judgement')
      .selectAll()
      .where(`${trial.of.kind}_id` as const, '=', trial.of.id)
      .where('to_shade_id', '=', trial.stored.shade.id)
      .where('diff_l', 'is not', null)
      .where('undone_key', 'is', null)
      .orderBy('id', 'desc')
      .limit(1),
  );
  const { diff_l: l, diff_a: a, diff_b: b, uncertainty_centi: centi } = row ?? {};
  if (!row || l == null || a == null || b == null || centi == null) return null;
  // Only the difference counts, so that the shade may stand for itself.
  const seenTrial = { l: wantedLab.l + l, a: wantedLab.a + a, b: wantedLab.b + b };
  const how = `From one ${row.how === 'photo' ? 'photo' : 'reading'} of the ${trial.of.kind} and the shade together.`;
  return { wanted: wantedLab, trial: seenTrial, uncertainty: centi / 100, how };
}

function readBoth(
  reader: Reader,
  { of: { kind, id } }: Trial,
  {
    wanted,
    observer,
  }: {
    readonly wanted: { readonly name: string; readonly lab: Lab; readonly uncertainty: number };
    readonly observer: Observer;
  },
): Sighting | null {
  const readings =
    kind === 'swatch' ? readReadingsOfSwatches(reader, [id]) : readReadingsOfLots(reader, [id]);
  const reading = readings.findLast(({ state, illuminant }) => state === 'dry' && illuminant === 'D65');
  if (!reading) return null;
  const { lab, uncertaintyCenti, observer: from } = reading;
  const isTurned = from !== observer;
  const how = [
    `From a reading of the ${kind} and the colour of ${wanted.name}, each by itself.`,
    ...(isTurned ? [`The reading is for ${from}° and is turned to ${observer}°.`] : []),
    'One photo of both together is surer.',
  ].join(' ');
  return {
    wanted: wanted.lab,
    trial: labForObserver(lab, from, observer),
    uncertainty: Math.hypot(uncertaintyCenti / 100, wanted.uncertainty, isTurned ? 1 : 0),
    how,
  };
}

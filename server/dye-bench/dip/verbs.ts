import type { z } from 'zod';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { batchPath } from '../../kit/paths.ts';
import { wordFor } from '../../kit/words.ts';
import { conflict, invalid } from '../../refusal.ts';
import { readBatch, readSentLengths, stateOf } from '../batch/store.ts';
import type { DIP_MOVE, dipForm } from './form.ts';

export const dipPath = (code: string) => `${batchPath(code)}/dip`;

/** How a batch is dipped, and where its cloth hung since when; null where it is not dipped. */
export function readDip(reader: Reader, batchId: number) {
  const dip = reader.first(reader.db.selectFrom('dip').selectAll().where('batch_id', '=', batchId));
  if (!dip) return null;
  const moves = reader.all(
    reader.db
      .selectFrom('dip_move')
      .innerJoin('person', 'person.id', 'dip_move.person_id')
      .select(['dip_move.bands_under', 'dip_move.note', 'dip_move.at', 'person.name as person'])
      .where('batch_id', '=', batchId)
      .orderBy('dip_move.id'),
  );
  return { way: dip.way, bands: dip.bands, bandTicks: dip.band_ticks, minutes: dip.minutes, moves };
}

export type StoredDip = NonNullable<ReturnType<typeof readDip>>;

/** Says how a batch is dipped for a gradient within its length. @throws {Refusal} conflict where it is said or done */
export function planDip(tx: Tx, code: string, form: z.output<ReturnType<typeof dipForm>>): Answer {
  const batch = readBatch(tx, code);
  const state = stateOf(batch, readSentLengths(tx, batch.id));
  if (state === 'done' || state === 'cancelled')
    throw conflict(`${code} is ${state}: there is nothing to dip.`);
  if (readDip(tx, batch.id)) throw conflict(`How ${code} is dipped was said already.`);
  const bandTicks = Math.round(form.height.value / form.bands.value);
  if (bandTicks < 1)
    throw invalid(
      'height',
      'This is too little for so many exposures: enter more height or fewer exposures.',
    );
  tx.run(
    tx.db.insertInto('dip').values({
      batch_id: batch.id,
      way: form.way,
      bands: form.bands.value,
      band_ticks: bandTicks,
      minutes: form.minutes.value,
    }),
  );
  return { location: dipPath(code), said: `${code} is dipped in ${form.bands.value} exposures.` };
}

/** Writes down where the cloth hangs from now on. */
export function logDipMove(tx: Tx, code: string, form: z.output<typeof DIP_MOVE>): Answer {
  const batch = readBatch(tx, code);
  const state = stateOf(batch, readSentLengths(tx, batch.id));
  if (state !== 'in the pot') throw conflict(`${code} is ${state}: start it before it is dipped.`);
  const dip = readDip(tx, batch.id);
  if (!dip) throw conflict(`How ${code} is dipped is not said yet.`);
  const under = form.bands_under.value;
  if (under > dip.bands)
    throw invalid('bands_under', `There are ${dip.bands} bands: ${dip.bands} or fewer are under.`);
  tx.run(
    tx.db.insertInto('dip_move').values({
      batch_id: batch.id,
      bands_under: under,
      note: form.note,
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  const said =
    under === 0 ? 'All is out of the bath.' : `${wordFor(under, 'One band is', `${under} bands are`)} under.`;
  return { location: dipPath(code), said };
}

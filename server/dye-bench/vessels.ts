import { z } from 'zod';
import { readVolume, showVolume } from '../../src/volume.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { conflict, invalid, unknown } from '../refusal.ts';
import type { Typed } from '../web/body.ts';
import { field, optionalText, textField } from '../web/fields.ts';
import type { Page } from '../web/page.ts';
import { mintKey } from '../web/request-key.ts';
import { showMoment } from '../when.ts';

/** From a beaker to the largest vat that a workroom can fill and lift from. */
const LEAST_ML = 100;
const MOST_ML = 5_000_000;

export const VESSEL = z.strictObject({
  name: textField({ max: 80, label: 'The name' }),
  volume: field((typed, refuse) => {
    const reading = readVolume(typed, 'l');
    if (!reading.ok) return refuse(reading.reason);
    if (reading.value < LEAST_ML || reading.value > MOST_ML) {
      return refuse(`A vessel holds from ${showVolume(LEAST_ML, 'near')} to ${showVolume(MOST_ML, 'near')}.`);
    }
    return reading.value;
  }),
  note: optionalText({ max: 500, lines: true }),
});

/** A form that only says "do it". */
export const NOTHING_MORE = z.strictObject({});

export interface Vessel {
  readonly id: number;
  readonly name: string;
  readonly volumeMl: number;
  readonly volume: string;
  readonly note: string;
  /** when it was put away, '' while it is in use */
  readonly gone: string;
}

export interface VesselsPageData {
  readonly requestKey: string;
  readonly vessels: readonly Vessel[];
  readonly putAway: readonly Vessel[];
  readonly typed: { readonly name: string; readonly volume: string; readonly note: string };
}

export function vesselsPage(reader: Reader, typed: Typed = {}): Page {
  const all = readVessels(reader);
  const data: VesselsPageData = {
    requestKey: mintKey(),
    vessels: all.filter(({ gone }) => gone === ''),
    putAway: all.filter(({ gone }) => gone !== ''),
    typed: { name: typed.name ?? '', volume: typed.volume ?? '', note: typed.note ?? '' },
  };
  return { view: 'dye-bench/vessels', data, title: 'Vessels', room: 'dye-bench' };
}

/** All vessels, the largest first. */
export function readVessels(reader: Reader): Vessel[] {
  return reader
    .all(reader.db.selectFrom('vessel').selectAll().orderBy('volume_ml', 'desc').orderBy('name'))
    .map((row) => ({
      id: row.id,
      name: row.name,
      volumeMl: row.volume_ml,
      volume: showVolume(row.volume_ml, 'near'),
      note: row.note,
      gone: row.gone_at === null ? '' : showMoment(row.gone_at),
    }));
}

export function addVessel(tx: Tx, form: z.output<typeof VESSEL>): Answer {
  const same = tx.first(tx.db.selectFrom('vessel').select('gone_at').where('name', '=', form.name));
  if (same) {
    const where = same.gone_at === null ? 'in use' : 'put away: take it back below';
    throw invalid('name', `There is a vessel ${form.name} already, ${where}.`);
  }
  const { name, volume, note } = form;
  tx.run(tx.db.insertInto('vessel').values({ name, volume_ml: volume, note, gone_at: null }));
  return { location: '/dye-bench/vessels', said: `${name}, ${showVolume(volume, 'near')}, is at the bench.` };
}

/** A vessel that is put away is offered no more; batches that were planned with it keep it. */
export function putVesselAway(tx: Tx, id: number): Answer {
  const vessel = readVessel(tx, id);
  if (vessel.gone !== '') throw conflict(`${vessel.name} was put away already, ${vessel.gone}.`);
  tx.run(tx.db.updateTable('vessel').set({ gone_at: tx.at }).where('id', '=', id));
  return { location: '/dye-bench/vessels', said: `${vessel.name} is put away. It can be taken back below.` };
}

export function takeVesselBack(tx: Tx, id: number): Answer {
  const vessel = readVessel(tx, id);
  if (vessel.gone === '') throw conflict(`${vessel.name} is at the bench already.`);
  tx.run(tx.db.updateTable('vessel').set({ gone_at: null }).where('id', '=', id));
  return { location: '/dye-bench/vessels', said: `${vessel.name} is at the bench again.` };
}

function readVessel(reader: Reader, id: number): Vessel {
  const vessel = readVessels(reader).find((each) => each.id === id);
  if (!vessel) throw unknown('such vessel');
  return vessel;
}

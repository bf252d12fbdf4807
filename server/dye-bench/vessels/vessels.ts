import { z } from 'zod';
import { capital } from '../../../src/dye/fibre.ts';
import {
  HEATER_KINDS,
  HEATER_NAMES,
  type HeaterKind,
  MATERIALS,
  type Material,
} from '../../../src/dye/heater.ts';
import { readMass, showMass } from '../../../src/quantity/mass.ts';
import { readPower, showPower } from '../../../src/quantity/power.ts';
import { readVolume, showVolume } from '../../../src/quantity/volume.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import type { Choice } from '../../kit/choices.ts';
import { field, optionalText, textField } from '../../kit/fields.ts';
import { mintKey } from '../../kit/request-key.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';
import type { Page } from '../../web/page-frame.ts';
import { optionalChoice } from '../quick/form.ts';
import { optionalReading } from '../recipe/form.ts';

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
  material: optionalChoice(['', ...MATERIALS] as const, 'what it is made of'),
  empty: optionalReading((typed) => readMass(typed, 'kg')),
  heater: optionalReading(readPower),
  heater_kind: optionalChoice(['', ...HEATER_KINDS] as const, 'the kind of heater'),
  note: optionalText({ max: 500, lines: true }),
});

type VesselForm = z.output<typeof VESSEL>;

/** The step of the balance: from a milligram to 100 g. */
export const BALANCE = z.strictObject({
  balance: field((typed, refuse) => {
    const reading = readMass(typed, 'g');
    if (!reading.ok) return refuse(reading.reason);
    if (reading.value < 1 || reading.value > 100_000) return refuse('Give its step from 0.001 g to 100 g.');
    return reading.value;
  }),
});

/** A form that only says "do it". */
export const NOTHING_TYPED = z.strictObject({});

export interface Vessel {
  readonly id: number;
  readonly name: string;
  readonly volumeMl: number;
  readonly volume: string;
  readonly note: string;
  /** when it was put away, '' while it is in use */
  readonly gone: string;
  readonly material: Material | '';
  readonly emptyMg: number | null;
  readonly heaterKind: HeaterKind | '';
  readonly watts: number | null;
  /** what it is made of and heated by, in a few words */
  readonly fittings: string;
  readonly href: string;
}

const FIELDS = ['name', 'volume', 'material', 'empty', 'heater', 'heater_kind', 'note'] as const;

/** A vessel as its form shows it. */
export interface VesselFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly submit: string;
  readonly typed: Readonly<Record<(typeof FIELDS)[number], string>>;
  readonly materials: readonly Choice[];
  readonly heaters: readonly Choice[];
}

export interface VesselsPageData {
  readonly requestKey: string;
  readonly vessels: readonly Vessel[];
  readonly putAway: readonly Vessel[];
  readonly form: VesselFormData;
  /** the step of the balance, as it is written in its field */
  readonly balance: string;
}

export function vesselsPage(reader: Reader, typed: Typed = {}): Page {
  const all = readVessels(reader);
  const data: VesselsPageData = {
    requestKey: mintKey(),
    vessels: all.filter(({ gone }) => gone === ''),
    putAway: all.filter(({ gone }) => gone !== ''),
    form: formData('/dye-bench/vessels', 'Add', typed),
    balance: typed.balance ?? String(readWorkroom(reader).balanceMg / 1000),
  };
  return { view: 'dye-bench/vessels/vessels', data, title: 'Vessels and balance', room: 'dye-bench' };
}

/** One vessel, to be changed. */
export function vesselPage(reader: Reader, id: number, typed?: Typed): Page {
  const vessel = readVessel(reader, id);
  const kept: Typed = {
    name: vessel.name,
    volume: `${vessel.volumeMl / 1000}`,
    material: vessel.material,
    empty: vessel.emptyMg === null ? '' : `${vessel.emptyMg / 1_000_000}`,
    heater: vessel.watts === null ? '' : `${vessel.watts} W`,
    heater_kind: vessel.heaterKind,
    note: vessel.note,
  };
  const data = formData(vessel.href, 'Keep', typed ?? kept);
  return { view: 'dye-bench/vessels/vessel', data, title: vessel.name, room: 'dye-bench' };
}

function formData(action: string, submit: string, typed: Typed): VesselFormData {
  return {
    requestKey: mintKey(),
    action,
    submit,
    typed: Object.fromEntries(FIELDS.map((name) => [name, typed[name] ?? ''])) as VesselFormData['typed'],
    materials: [
      { value: '', label: 'Not said' },
      ...MATERIALS.map((value) => ({ value, label: capital(value) })),
    ],
    heaters: [
      { value: '', label: 'None' },
      ...HEATER_KINDS.map((value) => ({ value, label: capital(HEATER_NAMES[value]) })),
    ],
  };
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
      material: row.material,
      emptyMg: row.empty_mg,
      heaterKind: row.heater,
      watts: row.heater_watts,
      fittings: sayFittings(row),
      href: `/dye-bench/vessels/${row.id}`,
    }));
}

/** "Stainless steel, 1.2 kg empty, induction hob 2 kW". */
function sayFittings(row: {
  readonly material: Material | '';
  readonly empty_mg: number | null;
  readonly heater: HeaterKind | '';
  readonly heater_watts: number | null;
}): string {
  const heater = row.heater === '' ? '' : HEATER_NAMES[row.heater];
  const power = row.heater_watts === null ? '' : showPower(row.heater_watts);
  const said = [
    row.material,
    row.empty_mg === null ? '' : `${showMass(row.empty_mg, 'metric', 'near')} empty`,
    [heater, power].filter((each) => each !== '').join(' '),
  ];
  return capital(said.filter((each) => each !== '').join(', '));
}

export function addVessel(tx: Tx, form: VesselForm): Answer {
  tx.run(tx.db.insertInto('vessel').values({ ...valuesOf(tx, form, null), gone_at: null }));
  return {
    location: '/dye-bench/vessels',
    said: `${form.name}, ${showVolume(form.volume, 'near')}, is at the bench.`,
  };
}

/** Writes a vessel anew; cards of batches that were started stay as they were told. */
export function changeVessel(tx: Tx, id: number, form: VesselForm): Answer {
  readVessel(tx, id);
  tx.run(
    tx.db
      .updateTable('vessel')
      .set(valuesOf(tx, form, id))
      .where('id', '=', id),
  );
  return { location: '/dye-bench/vessels', said: `${form.name} is changed.` };
}

function valuesOf(tx: Tx, form: VesselForm, id: number | null) {
  refuseSameName(tx, {
    table: 'vessel',
    name: form.name,
    id,
    hrefOf: (same) => `/dye-bench/vessels/${same}`,
    whereIs: (same) => (readVessel(tx, same).gone === '' ? 'in use' : 'put away: take it back from the list'),
  });
  if (form.heater !== null && form.heater_kind === '') {
    throw invalid('heater_kind', 'Say what kind of heater it is: less of some reaches the bath.');
  }
  return {
    name: form.name,
    volume_ml: form.volume,
    note: form.note,
    material: form.material,
    empty_mg: form.empty === 0 ? null : form.empty,
    heater: form.heater_kind,
    heater_watts: form.heater,
  };
}

/** Keeps what the balance resolves; smaller weighings are turned into stock solutions. */
export function setBalance(tx: Tx, form: z.output<typeof BALANCE>): Answer {
  tx.run(tx.db.updateTable('workroom').set({ balance_mg: form.balance }));
  const step = showMass(form.balance, 'metric', 'near');
  return { location: '/dye-bench/vessels', said: `The balance reads to ${step}.` };
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

/** A vessel by its number. @throws {Refusal} unknown */
export function readVessel(reader: Reader, id: number): Vessel {
  const vessel = readVessels(reader).find((each) => each.id === id);
  if (!vessel) throw unknown('such vessel');
  return vessel;
}

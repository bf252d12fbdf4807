import { capital } from '../../../src/dye/fibre.ts';
import { HEATER_NAMES, type HeaterKind, type Material } from '../../../src/dye/heater.ts';
import { showMass } from '../../../src/quantity/mass.ts';
import { showPower } from '../../../src/quantity/power.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import type { Reader } from '../../database/book.ts';
import { prepared } from '../../database/statements.ts';
import type { Choice } from '../../kit/choices.ts';
import { showMoment } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';

export type Vessel = ReturnType<typeof readVessels>[number];

export const vesselPath = (id: number) => `/dye-bench/vessels/${id}`;

const allVessels = prepared((db) =>
  db.selectFrom('vessel').selectAll().orderBy('volume_ml', 'desc').orderBy('name'),
);

/** All vessels, the largest first. */
export function readVessels(reader: Reader) {
  return reader.all(allVessels()).map((row) => ({
    id: row.id,
    name: row.name,
    volumeMl: row.volume_ml,
    volume: showVolume(row.volume_ml, 'near'),
    note: row.note,
    /** when it was put away, '' while it is in use */
    gone: row.gone_at === null ? '' : showMoment(row.gone_at),
    material: row.material,
    emptyMg: row.empty_mg,
    heaterKind: row.heater,
    watts: row.heater_watts,
    /** pots alike: so many baths can stand in them at a time */
    pots: row.pots,
    /** what it is made of and heated by, in a few words */
    fittings: sayFittings(row),
    href: vesselPath(row.id),
  }));
}

/** "Stainless steel, 1.2 kg empty, induction hob 2 kW". */
function sayFittings(row: {
  readonly material: Material | '';
  readonly empty_mg: number | null;
  readonly heater: HeaterKind | '';
  readonly heater_watts: number | null;
  readonly pots: number;
}): string {
  const heater = row.heater === '' ? '' : HEATER_NAMES[row.heater];
  const power = row.heater_watts === null ? '' : showPower(row.heater_watts);
  const said = [
    row.pots === 1 ? '' : `${row.pots} pots alike`,
    row.material,
    row.empty_mg === null ? '' : `${showMass(row.empty_mg, 'metric', 'near')} empty`,
    [heater, power].filter((each) => each !== '').join(' '),
  ];
  return capital(said.filter((each) => each !== '').join(', '));
}

/** A vessel by its number. @throws {Refusal} unknown */
export function readVessel(reader: Reader, id: number): Vessel {
  const vessel = readVessels(reader).find((each) => each.id === id);
  if (!vessel) throw unknown('such vessel');
  return vessel;
}

/** The vessels in use, the largest first. */
export function readVesselsInUse(reader: Reader): Vessel[] {
  return readVessels(reader).filter(({ gone }) => gone === '');
}

export function vesselChoices(reader: Reader): Choice[] {
  return readVesselsInUse(reader).map(({ id, name, volume }) => ({
    value: String(id),
    label: `${name}, ${volume}`,
  }));
}

import { leastWeighedTo } from '../../../src/dye/measuring.ts';
import { showMass } from '../../../src/quantity/mass.ts';
import { showPercent, writePercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Page } from '../../web/page-frame.ts';
import { BALANCE, drawVesselForm, typedVessel } from './form.ts';
import { readVessel, readVessels } from './store.ts';

export function vesselsPage(reader: Reader, typed: Typed = {}) {
  const all = readVessels(reader);
  const { balanceMg, measuresWith, offBp } = readWorkroom(reader);
  const bench = {
    balance: String(balanceMg / 1000),
    measures_with: measuresWith,
    off: writePercent(offBp),
  };
  const data = {
    requestKey: mintKey(),
    vessels: all.filter(({ gone }) => gone === ''),
    putAway: all.filter(({ gone }) => gone !== ''),
    form: drawVesselForm('/dye-bench/vessels', 'Add', typed),
    bench: drawFields(BALANCE.shape, { ...bench, ...typed }),
    /** the least that the balance weighs to within that */
    least: showMass(leastWeighedTo(balanceMg, offBp), 'metric', 'near'),
    off: showPercent(offBp),
  };
  return {
    view: 'dye-bench/vessels/vessels',
    data,
    title: 'Vessels and balance',
    room: 'dye-bench',
  } satisfies Page;
}

/** One vessel, to be changed. */
export function vesselPage(reader: Reader, id: number, typed?: Typed) {
  const vessel = readVessel(reader, id);
  const data = drawVesselForm(vessel.href, 'Keep', typed ?? typedVessel(vessel));
  return { view: 'dye-bench/vessels/vessel', data, title: vessel.name, room: 'dye-bench' } satisfies Page;
}

import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Choice, optionalChosen, placeChoices } from '../../kit/choices.ts';
import { lengthField, optionalText, tickField } from '../../kit/fields.ts';
import { drawFields, unasked } from '../../kit/form-drawing.ts';
import { layBenchPath, layPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { layNames, shapeLaysHead } from './bench.ts';
import { cutOneLay, readWhoCut } from './cutting.ts';
import { readGarmentAtTable, restKey } from './held-lays.ts';
import { endLays, endsAfter, sayEnds } from './piece-end.ts';
import { shapeLay } from './view.ts';

/** One lay where something else happened than was planned: another length was used, or other rests are kept. */
export function layPage(reader: Reader, code: string, layId: number, asker: Asker, typed?: Typed) {
  const table = readGarmentAtTable(reader, code, asker.units);
  const plan = table.plans.find(({ lays }) => lays.some(({ lay }) => lay.id === layId));
  const at = plan?.lays.find(({ lay }) => lay.id === layId);
  if (!plan || !at) throw unknown('such lay that is held');
  const names = layNames(reader, table, asker);
  const { usefulTicks } = names;
  const view = shapeLay(at, plan.plan, names);
  const cut = at.lay.state === 'cut' ? readWhoCut(reader, at.lay.cutKey) : null;
  const planned = { length: writeLength(view.takenTicks, asker.units), waste_end: 'yes' };
  const data = {
    ...shapeLaysHead(table),
    number: at.lay.position,
    state: cut ? 'cut' : at.fallsOut === '' ? 'to cut' : 'out',
    /** who cut it and when, or why it falls out; '' where it is to be cut */
    said: cut ? `It was cut by ${cut.by}, ${cut.when}.` : at.fallsOut,
    lay: view,
    action: layPath(code, layId),
    requestKey: mintKey(),
    fields: drawFields(layForm(asker.units, placeChoices(reader)).shape, typed ?? planned),
    rests: view.rests.map((rest, i) => ({
      key: rest.key,
      label: rest.size,
      keep: typed ? (typed[`keep_${i}`] ?? '') !== '' : rest.keep,
    })),
    /** the offcut that its piece ends in after it, as planned, "0.06 m of B12"; '' where more lays or cloth follow */
    ends: cut ? '' : sayEnds(endsAfter([at], usefulTicks), asker.units),
    usefulFrom: showLength(usefulTicks, asker.units, 'up'),
  };
  return {
    view: 'cutting-table/lay/lay',
    data,
    title: `Lay ${at.lay.position} of ${table.garment.name}`,
    room: 'cutting-table',
  } satisfies Page;
}

/** What was really taken, and of the rests in the order of the page those that are kept, named by where they lie. */
export function layForm(units: Units, places: readonly Choice[]) {
  const keep = unasked(optionalText({ max: 40 }));
  return z.strictObject({
    length: lengthField(lengthUnit(units), {
      min: 1,
      max: MOST_LENGTH_TICKS,
      label: 'Actual length used',
      hint: 'Measured from the free end.',
    }),
    keep_0: keep,
    keep_1: keep,
    keep_2: keep,
    waste_end: tickField({ label: 'Write off what is left' }),
    place_id: optionalChosen(places, 'a place', { label: 'Place for what is kept', blank: 'the same place' }),
  });
}

export function cutLayByForm(
  tx: Tx,
  code: string,
  layId: number,
  form: z.output<ReturnType<typeof layForm>>,
  asker: Asker,
): Answer {
  const kept = new Set([form.keep_0, form.keep_1, form.keep_2]);
  const done = cutOneLay(
    tx,
    code,
    { layId, used: form.length, placeId: form.place_id, keeps: (rest) => kept.has(restKey(rest)) },
    new Map(),
    asker,
  );
  return {
    location: layBenchPath(code),
    ...endLays(tx, [done.at.piece.id], {
      said: done.said,
      wasteEnd: form.waste_end,
      units: asker.units,
    }),
  };
}

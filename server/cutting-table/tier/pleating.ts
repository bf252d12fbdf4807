import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { writeLength, writeSize } from '../../../src/quantity/written-length.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { lengthField, wholeField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { cuttingPath, PLEATING_PATH, stripsPleatedPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { countOf } from '../../kit/words.ts';
import { invalid } from '../../refusal.ts';
import { MOST_WIDTH_TICKS } from '../../shelf/cloth/form.ts';
import { pleaterFields } from '../../shelf/pleating/form.ts';
import { readStripsPleated, shapePleating } from '../../shelf/pleating/store.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readTierAtTable, sayTier, type TierAtTable } from './table.ts';

const MOST_STRIPS = 100_000;

/** Strips of a tier or part that are cut, and are joined and sent to a pleater. */
export function stripsToPleaterFields(reader: Reader, { units }: Asker) {
  return {
    strips: wholeField({ min: 1, max: MOST_STRIPS, label: 'Strips' }),
    length: lengthField(lengthUnit(units), {
      min: 1,
      max: MOST_LENGTH_TICKS,
      label: 'Length',
      hint: 'Of all that is sent, as joined.',
    }),
    width: lengthField(sizeUnit(units), { min: 1, max: MOST_WIDTH_TICKS, label: 'Depth' }),
    ...pleaterFields(reader),
  };
}

export const stripsToPleaterForm = (reader: Reader, asker: Asker) =>
  z.strictObject(stripsToPleaterFields(reader, asker));

/** How many strips are cut, and not at a pleater. */
function stripsHere(reader: Reader, { tier, cut }: TierAtTable): number {
  const out = readStripsPleated(reader).filter(({ tier_id: id, isOut }) => isOut && id === tier.id);
  return cut.reduce((sum, { count }) => sum + count, 0) - out.reduce((sum, { strips }) => sum + strips, 0);
}

/** The form for strips that go to a pleater, filled in with what is cut, laid end to end. */
export function stripsToPleaterPage(
  reader: Reader,
  code: string,
  tierId: number,
  asker: Asker & { readonly today: string },
  typed?: Typed,
) {
  const table = readTierAtTable(reader, code, tierId);
  const here = stripsHere(reader, table);
  const [shade] = table.shades;
  const usual = {
    strips: String(here),
    length: shade ? writeLength(Math.max(shade.lengthTicks, shade.depthTicks) * here, asker.units) : '',
    width: shade ? writeSize(Math.min(shade.lengthTicks, shade.depthTicks), asker.units) : '',
    sent_on: asker.today,
  };
  const data = {
    name: sayTier(table),
    tableHref: cuttingPath(code, tierId),
    listHref: PLEATING_PATH,
    here,
    action: `${cuttingPath(code, tierId)}/pleating`,
    requestKey: mintKey(),
    fields: drawFields(stripsToPleaterFields(reader, asker), typed ?? usual),
  };
  return {
    view: 'cutting-table/tier/pleating',
    data,
    title: `Send strips of ${sayTier(table)} to a pleater`,
    room: 'cutting-table',
  } satisfies Page;
}

/** Notes that strips which are cut went to a pleater. */
export function sendStripsToPleater(
  tx: Tx,
  code: string,
  tierId: number,
  form: z.output<ReturnType<typeof stripsToPleaterForm>>,
): Answer {
  const table = readTierAtTable(tx, code, tierId);
  const here = stripsHere(tx, table);
  if (form.strips.value > here)
    throw invalid(
      'strips',
      here > 0
        ? `Strips: only ${countOf(here, 'is', 'are')} cut and here: enter ${here} or fewer.`
        : 'Strips: none that are cut are here: cut some first, or mark those at the pleater as back.',
    );
  if (form.expected_on < form.sent_on)
    throw invalid('expected_on', 'Expected back: enter the day it is sent, or a later one.');
  const { lastId } = tx.run(
    tx.db.insertInto('strips_pleated').values({
      tier_id: tierId,
      strips: form.strips.value,
      pleater: form.pleater,
      asked: form.asked,
      length_ticks: form.length.value,
      width_ticks: form.width.value,
      sent_on: form.sent_on,
      expected_on: form.expected_on,
      back_on: null,
      back_length_ticks: null,
      back_width_ticks: null,
    }),
  );
  const said = `${countOf(form.strips.value, 'strip', 'strips')} of ${sayTier(table)} sent to ${form.pleater}.`;
  return { location: stripsPleatedPath(lastId), said };
}

/** What of a tier or part is at a pleater or was, and where more is sent; '' where nothing is cut. */
export function shapeStripsPleated(reader: Reader, table: TierAtTable, asker: Asker) {
  const rows = readStripsPleated(reader).filter(({ tier_id: id }) => id === table.tier.id);
  return {
    rows: rows.map((row) => shapePleating(row, asker.units, null)),
    send: stripsHere(reader, table) > 0 ? `${cuttingPath(table.garment.code, table.tier.id)}/pleating` : '',
  };
}

import { type Answer, nextId, type Tx } from '../../database/book.ts';
import { cuttingPath, garmentPath, piecePath } from '../../kit/paths.ts';
import { keepTyped } from '../../kit/typed.ts';
import { readUnits } from '../../kit/workroom.ts';
import { conflict } from '../../refusal.ts';
import { keepVersion, openForChange } from '../versions/queries.ts';
import { readHeldStretches } from './done.ts';
import { type GarmentForm, girthOf, shapeOf } from './form-fields.ts';
import { readHeldForOtherUses } from './other-uses.ts';
import { type Garment, readGarment } from './records.ts';
import { refuseOlderVersion } from './refusals.ts';
import { stripRowsOf } from './strip-rows.ts';

/** A garment comes into the book without tiers; its code is given. */
export function putGarment(tx: Tx, form: GarmentForm): { readonly code: string; readonly garmentId: number } {
  const code = `G${nextId(tx, 'garment')}`;
  const { lastId } = tx.run(
    tx.db.insertInto('garment').values({
      code,
      ...columnsOf(tx, form),
      finished_at: null,
      changed_at: tx.at,
      changed_by_id: tx.personId,
    }),
  );
  putGirths(tx, lastId, form);
  return { code, garmentId: lastId };
}

export function changeGarment(tx: Tx, code: string, form: GarmentForm): Answer {
  const garment = openForChange(tx, code);
  refuseOlderVersion(garment, garment.code, form.version?.value ?? null, `${garmentPath(code)}/edit`);
  markChanged(tx, garment, columnsOf(tx, form));
  tx.run(tx.db.deleteFrom('girth').where('garment_id', '=', garment.id));
  putGirths(tx, garment.id, form);
  const said = `${form.name}, ${code}, was changed.`;
  return keepVersion(tx, code, { location: garmentPath(code), said });
}

/** A garment is finished once nothing is held for it any more: what is held would stay promised for ever. */
export function finishGarment(tx: Tx, code: string): Answer {
  const garment = readGarment(tx, code);
  if (garment.finishedAt !== null) throw conflict(`${code} is finished already.`);
  const rows = stripRowsOf(garment);
  const held = readHeldStretches(
    tx,
    rows.map(({ id }) => id),
  );
  const [first] = held;
  if (first) {
    const tier = rows.find(({ id }) => id === first.tierId);
    const pieces = [...new Set(held.map(({ pieceCode }) => pieceCode))].join(', ');
    throw conflict(`Cloth is still held for ${code}: ${pieces}. Release it, then mark it finished.`, {
      text: `Release what is held for ${tier?.name ?? code}`,
      href: cuttingPath(code, first.tierId),
    });
  }
  const used = readHeldForOtherUses(tx, garment.id);
  if (used[0]) {
    throw conflict(
      `Cloth is still held for ${code}: ${used.join(', ')}. Cut or release it, then mark it finished.`,
      {
        text: `Go to ${used[0]}`,
        href: piecePath(used[0]),
      },
    );
  }
  markChanged(tx, garment, { finished_at: tx.at });
  return { location: garmentPath(code), said: `${garment.name}, ${code}, is finished.` };
}

export function reopenGarment(tx: Tx, code: string): Answer {
  const garment = readGarment(tx, code);
  if (garment.finishedAt === null) throw conflict(`${code} is not finished.`);
  markChanged(tx, garment, { finished_at: null });
  return { location: garmentPath(code), said: `${garment.name}, ${code}, is open again.` };
}

function columnsOf(tx: Tx, form: GarmentForm) {
  const { waist_height, clearance, foundation_ease, front_drop, side_drop, back_drop } = form;
  const { opening, fastener, over } = form;
  const drops = { front_drop, side_drop, back_drop };
  const lengths = { waist_height, clearance, foundation_ease, ...drops, opening, fastener, over };
  const texts = Object.entries(lengths).map(([name, read]) => [name, read?.typed ?? '']);
  const shape = shapeOf(form);
  return {
    name: form.name,
    note: form.note,
    due_on: form.due_on,
    profile: shape.profile,
    waist_height_ticks: shape.waistHeightTicks,
    clearance_ticks: shape.clearanceTicks,
    foundation_ease_ticks: shape.foundationEaseTicks,
    front_drop_ticks: shape.frontDropTicks,
    side_drop_ticks: shape.sideDropTicks,
    back_drop_ticks: shape.backDropTicks,
    opening_ticks: shape.openingTicks,
    fastening: shape.fastening,
    fastener_ticks: shape.fastenerTicks,
    over_ticks: shape.overTicks,
    meet_centi_delta_e: form.meet,
    look_centi_delta_e: form.apart - form.meet,
    typed: keepTyped(readUnits(tx, tx.personId), Object.fromEntries(texts)),
  };
}

type Changes = ReturnType<typeof columnsOf> | { readonly finished_at: string | null };

function markChanged(tx: Tx, garment: Garment, changes: Changes): void {
  const version = garment.version + 1;
  tx.run(
    tx.db
      .updateTable('garment')
      .set({ ...changes, version, changed_at: tx.at, changed_by_id: tx.personId })
      .where('id', '=', garment.id),
  );
}

function putGirths(tx: Tx, garmentId: number, form: GarmentForm): void {
  const units = readUnits(tx, tx.personId);
  for (const typed of form.girths) {
    const { drop, girth, width, depth } = typed;
    const { dropTicks, girthTicks, hoopWidthTicks, hoopDepthTicks } = girthOf(typed);
    tx.run(
      tx.db.insertInto('girth').values({
        garment_id: garmentId,
        drop_ticks: dropTicks,
        girth_ticks: girthTicks,
        hoop_width_ticks: hoopWidthTicks,
        hoop_depth_ticks: hoopDepthTicks,
        typed: keepTyped(units, {
          drop: drop.typed,
          girth: girth?.typed ?? '',
          width: width?.typed ?? '',
          depth: depth?.typed ?? '',
        }),
      }),
    );
  }
}

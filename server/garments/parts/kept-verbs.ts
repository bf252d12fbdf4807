import type { LengthUnit } from '../../../src/quantity/length.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { garmentPartPath, garmentPath } from '../../kit/paths.ts';
import { storeTyped, type Typed } from '../../kit/typed.ts';
import { conflict, invalid } from '../../refusal.ts';
import { readSewing } from '../../setup/rates/store.ts';
import type { Garment } from '../garment/records.ts';
import { refuseOlderVersion, refuseRowInUse } from '../garment/refusals.ts';
import { readUsableWidths } from '../garment/worked.ts';
import { keepVersion, openForChange } from '../versions/queries.ts';
import { garmentClothOf, nameOfSize } from './cut.ts';
import { type Part, partWords } from './describing.ts';
import { keptPartOf } from './kept.ts';
import { askedOf, type KeptPartForm } from './kept-form.ts';
import type { KeptPart } from './record.ts';
import { keepRows } from './row.ts';

const MOST_PARTS = 60;

/** A part as its form was sent: of which kind, in which unit, and all that was typed. */
export interface SentPart {
  readonly part: Part;
  readonly unit: LengthUnit;
  readonly typed: Typed;
  readonly form: KeptPartForm;
}

/** Keeps a part with a garment. What does not work out is refused at its fields. */
export function addPart(tx: Tx, code: string, sent: SentPart): Answer {
  const garment = openForChange(tx, code);
  if (garment.parts.length >= MOST_PARTS)
    throw invalid('name', `A garment has ${MOST_PARTS} parts at most, those taken out included.`);
  refuseSameName(garment, sent.form.name, null);
  const columns = columnsOf(tx, garment, sent);
  tx.run(
    tx.db
      .insertInto('garment_part')
      .values({ ...columns, garment_id: garment.id, kind: sent.part.slug, taken_out_at: null }),
  );
  keepRows(tx, code);
  return keepVersion(tx, code, {
    location: `${garmentPath(code)}#parts`,
    said: `${sent.form.name} was added to ${code}.`,
  });
}

export function changePart(tx: Tx, code: string, partId: number, sent: SentPart): Answer {
  const garment = openForChange(tx, code);
  const kept = keptPartOf(garment, partId);
  refuseOlderVersion(kept, kept.name, sent.form.version?.value ?? null, garmentPartPath(code, partId));
  refuseSameName(garment, sent.form.name, partId);
  write(tx, kept, columnsOf(tx, garment, sent));
  keepRows(tx, code);
  return keepVersion(tx, code, {
    location: `${garmentPath(code)}#parts`,
    said: `${sent.form.name} of ${code} was changed.`,
  });
}

export function takeOutPart(tx: Tx, code: string, partId: number): Answer {
  const garment = openForChange(tx, code);
  const kept = keptPartOf(garment, partId);
  if (kept.takenOutAt !== null) throw conflict(`${kept.name} is taken out already.`);
  for (const { id, size } of kept.rows) refuseRowInUse(tx, code, { id, name: nameOfSize(kept, size) });
  write(tx, kept, { taken_out_at: tx.at });
  keepRows(tx, code);
  return keepVersion(tx, code, {
    location: `${garmentPath(code)}#parts`,
    said: `${kept.name} was taken out of ${code}.`,
  });
}

export function putBackPart(tx: Tx, code: string, partId: number): Answer {
  const garment = openForChange(tx, code);
  const kept = keptPartOf(garment, partId);
  if (kept.takenOutAt === null) throw conflict(`${kept.name} is in ${code} already.`);
  write(tx, kept, { taken_out_at: null });
  keepRows(tx, code);
  return keepVersion(tx, code, {
    location: `${garmentPath(code)}#parts`,
    said: `${kept.name} was put back into ${code}.`,
  });
}

/** Parts of a garment once more, for its copy; those taken out are left out. */
export function copyParts(tx: Tx, fromId: number, garmentId: number): void {
  const rows = tx.all(
    tx.db
      .selectFrom('garment_part')
      .selectAll()
      .where('garment_id', '=', fromId)
      .where('taken_out_at', 'is', null)
      .orderBy('id'),
  );
  const changed = { version: 1, changed_at: tx.at, changed_by_id: tx.personId };
  for (const { id: _, ...row } of rows)
    tx.run(tx.db.insertInto('garment_part').values({ ...row, ...changed, garment_id: garmentId }));
}

function columnsOf(tx: Tx, garment: Garment, { part, unit, typed, form }: SentPart) {
  const asked = askedOf(part, unit, typed);
  // Worked out before it is kept, so that nothing is kept that cannot be shown.
  const clothId = form.cloth_id ?? garmentClothOf(garment)?.clothId;
  const widths = readUsableWidths(tx, clothId === undefined ? [] : [clothId]);
  part.workOut(unit, asked, partWords(unit, readSewing(tx), widths.get(clothId ?? 0) ?? null));
  return {
    name: form.name,
    unit,
    asked: storeTyped(asked),
    pieces: form.pieces.value,
    cloth_id: form.cloth_id,
    shade_id: form.shade_id,
    changed_at: tx.at,
    changed_by_id: tx.personId,
  };
}

function write(
  tx: Tx,
  kept: KeptPart,
  changes: Omit<ReturnType<typeof columnsOf>, 'kind'> | { readonly taken_out_at: string | null },
): void {
  const changed = { version: kept.version + 1, changed_at: tx.at, changed_by_id: tx.personId };
  tx.run(
    tx.db
      .updateTable('garment_part')
      .set({ ...changes, ...changed })
      .where('id', '=', kept.id),
  );
}

/** Names tell parts apart from each other and from tiers, on cut lists and prints. */
function refuseSameName({ code, parts, tiers }: Garment, name: string, partId: number | null): void {
  if (tiers.some((tier) => tier.name === name)) throw invalid('name', `${code} has a tier ${name} already.`);
  const same = parts.find((other) => other.id !== partId && other.name === name);
  if (!same) return;
  const where = same.takenOutAt === null ? '' : ', taken out';
  throw invalid('name', `${code} has a part ${name} already${where}.`);
}

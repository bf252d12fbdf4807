import type { Answer, Tx } from '../../database/book.ts';
import { garmentPath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { readUnits } from '../../kit/workroom.ts';
import { refuseAny } from '../../refusal.ts';
import { countTiers } from '../garment/names.ts';
import { putGarment } from '../garment/verbs.ts';
import { keepSize, putTier } from '../tier/store.ts';
import { keepVersion } from '../versions/queries.ts';
import type { NewGarmentForm } from './fields.ts';
import { type NewPlan, planNew } from './plan.ts';

/** A garment comes into the book with all the tiers of its form; its code is given. @throws {Refusal} invalid */
export function createGarment(tx: Tx, form: NewGarmentForm): Answer {
  const plan = planNew(tx, form, readUnits(tx, tx.personId));
  refuseAny(plan.problems);
  const { code, garmentId } = putGarment(tx, form);
  const numbers = new Map<number, number>();
  plan.tiers.forEach(({ figures, texts }, index) => {
    const { onTierId } = figures;
    const placed = { ...figures, onTierId: onTierId === null ? null : (numbers.get(onTierId) ?? null) };
    const tierId = putTier(tx, garmentId, index + 1, placed, texts);
    numbers.set(figures.id, tierId);
    const worked = plan.worked.find((found) => found.tierId === figures.id);
    if (worked) keepSize(tx, tierId, worked);
  });
  const due = form.due_on === null ? '' : `, due ${showDay(form.due_on)}`;
  const said = `${form.name} was put in the book as ${code}${due}${sayTiers(plan)}.`;
  return keepVersion(tx, code, { location: garmentPath(code), said });
}

function sayTiers({ tiers, worked }: NewPlan): string {
  if (tiers.length === 0) return '';
  const strips = worked.reduce((sum, { count }) => sum + count.strips, 0);
  const counts = countTiers(tiers.map(({ figures }) => figures));
  return `, with ${counts}, ${countOf(strips, 'strip', 'strips')} in all`;
}

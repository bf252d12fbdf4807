import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { orProblems } from '../../refusal.ts';
import type { Body } from '../../web/body.ts';
import { readForm } from '../../web/post.ts';
import { differencesOf } from '../tier/preview-garment.ts';
import { clothsOf } from '../versions/queries.ts';
import { garmentSchema, shapeOf } from './form-fields.ts';
import { namesOf } from './names.ts';
import { NO_OUTCOME, type Outcome, shapeOutcome } from './outcome.ts';
import type { Garment } from './records.ts';
import { readUsableWidths, workedBy } from './worked.ts';

/** Works out what a garment would come to with the form that was typed, as far as that can be read. */
export function workOutForm(reader: Reader, garment: Garment, body: Body, units: Units): Outcome {
  const { value: form, problems } = orProblems(() => readForm(garmentSchema(units), body));
  if (!form) return { ...NO_OUTCOME, problems };
  return outcomeOf(reader, garment, { ...garment, name: form.name, ...shapeOf(form) }, units);
}

/** A garment as it would be beside the same as the book has it: figures, picture, what would then differ. */
export function outcomeOf(reader: Reader, garment: Garment, changed: Garment, units: Units): Outcome {
  const widths = readUsableWidths(reader, clothsOf(garment));
  const worked = workedBy(changed, widths);
  const nameOf = (id: number) => garment.tiers.find((tier) => tier.id === id)?.name ?? '';
  const outcome = shapeOutcome(reader, worked, workedBy(garment, widths), units);
  // Such a form can still be saved: the garment's page keeps saying what cannot be worked out.
  const lost = worked.problems.map(({ tierId, message }) => `${nameOf(tierId)}: ${message}`);
  return {
    ...outcome,
    warnings: [...lost, ...outcome.warnings],
    differences: differencesOf(reader, worked, namesOf(reader, changed), units),
  };
}

import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { countTyped, drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems } from '../../refusal.ts';
import type { Body } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { countGirthRows, NEW_GARMENT, saysMore, USUAL_OPENING } from '../garment/form.ts';
import { MOST_GIRTHS } from '../garment/form-fields.ts';
import { NO_OUTCOME, type Outcome, shapeOutcome } from '../garment/outcome.ts';
import { MOST_NEW_TIERS, newGarmentFields, newGarmentSchema, readNewChoices } from './fields.ts';
import { planNew, workedNew } from './plan.ts';

const FIRST_TIERS = 5;
const MORE_TIERS = 5;

/** The form that makes a garment with all its tiers: blank, or as it was typed. */
export function newGarmentPage(reader: Reader, units: Units, typed: Typed | null, outcome = NO_OUTCOME) {
  const shown = typed ?? NEW_GARMENT;
  const fields = drawFields(newGarmentFields(units, readNewChoices(reader)), shown, {
    girths: countGirthRows(shown, typed),
    tiers: countTierRows(shown),
  });
  const data = {
    requestKey: mintKey(),
    action: '/garments/new',
    cancel: '/garments',
    fields,
    more: saysMore(shown),
    moreOpening: saysMore(shown, USUAL_OPENING),
    moreGirths: fields.girths.length < MOST_GIRTHS,
    moreTiers: fields.tiers.length < MOST_NEW_TIERS,
    outcome,
  };
  return { view: 'garments/new/new', data, title: 'New garment', room: 'garments' } satisfies Page;
}

function countTierRows(shown: Typed): number {
  const given = countTyped(shown, 'tiers') + (shown.act === 'more-tiers' ? MORE_TIERS : 0);
  return Math.max(given, FIRST_TIERS);
}

/** Works out what was typed, as far as it can be read. */
export function workOutNew(reader: Reader, body: Body, units: Units): Outcome {
  const schema = newGarmentSchema(units, readNewChoices(reader));
  const { value: form, problems } = orProblems(() => readForm(schema, body));
  if (!form) return { ...NO_OUTCOME, problems };
  const plan = planNew(reader, form, units);
  return { ...shapeOutcome(reader, workedNew(plan, form), null, units), problems: plan.problems };
}

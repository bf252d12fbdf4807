import { USUAL_BANDS } from '../../../src/colour/lot-pair.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { showColourDifference } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { countTyped, drawFields } from '../../kit/form-drawing.ts';
import { garmentPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { readKept, type Typed, typedAgain } from '../../kit/typed.ts';
import { orProblems } from '../../refusal.ts';
import type { Body } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { differencesOf } from '../tier/preview.ts';
import { clothsOf } from '../versions/queries.ts';
import { sayLocked } from '../versions/slip.ts';
import { garmentFields, garmentSchema, MOST_GIRTHS, shapeOf } from './form-fields.ts';
import { namesOf } from './names.ts';
import { NO_OUTCOME, type Outcome, shapeOutcome } from './outcome.ts';
import { bandsOf, type Garment } from './records.ts';
import { readClothWays, readUsableWidths, workedBy } from './worked.ts';

const FIRST_ROWS = 4;
const SPARE_ROWS = 1;
const MORE_ROWS = 4;

/** The form of a garment that is in the book: as the book has it, or as it was typed. */
export function garmentFormPage(
  reader: Reader,
  garment: Garment,
  units: Units,
  typed: Typed | null,
  outcome = NO_OUTCOME,
) {
  const shown = typed ?? typedGarment(garment, units);
  const fields = drawFields(garmentFields(units), shown, { girths: countGirthRows(shown, typed) });
  const data = {
    requestKey: mintKey(),
    action: `${garmentPath(garment.code)}/edit`,
    cancel: garmentPath(garment.code),
    fields,
    more: saysMore(shown),
    moreOpening: saysMore(shown, USUAL_OPENING),
    moreGirths: fields.girths.length < MOST_GIRTHS,
    /** From which version it is cut, so that a change is told; '' where nothing is cut. */
    cutFrom: sayLocked(reader, garment),
    outcome,
  };
  const title = `${garment.name}: name and form`;
  return { view: 'garments/garment/form', data, title, room: 'garments' } satisfies Page;
}

/** Rows for girths: a form that was sent gets only those that it had, and more where it asks for them. */
export function countGirthRows(shown: Typed, typed: Typed | null): number {
  const given = countTyped(shown, 'girths');
  if (!typed) return Math.max(FIRST_ROWS, given + SPARE_ROWS);
  return typed.act === 'more-girths' ? given + MORE_ROWS : given;
}

const USUAL: Typed = {
  waist_height: '',
  clearance: '',
  profile: 'straight',
  foundation_ease: '',
  front_drop: '',
  side_drop: '',
  back_drop: '',
  meet: showColourDifference(USUAL_BANDS.meetCenti),
  apart: showColourDifference(USUAL_BANDS.apartCenti),
};

/** A garment is closed by itself, unless said. */
export const USUAL_OPENING: Typed = { opening: '', fastening: 'hooks', fastener: '', over: '' };

/** A form begins at the waist. */
export const NEW_GARMENT: Typed = { ...USUAL, 'girths.0.drop': '0' };

/** Whether a part of a form that is seldom filled in says anything but the usual, so that it stands open. */
export function saysMore(shown: Typed, usual = USUAL): boolean {
  return Object.entries(usual).some(([name, text]) => (shown[name] ?? '') !== '' && shown[name] !== text);
}

/** A garment of the book as it would be typed. */
function typedGarment(garment: Garment, units: Units): Typed {
  const kept = readKept(garment.typed);
  const again = (field: string, ticks: number | null) => typedAgain(kept, field, ticks, units);
  const texts: Record<string, string> = {
    name: garment.name,
    due_on: garment.dueOn ?? '',
    note: garment.note,
    profile: garment.profile,
    waist_height: again('waist_height', garment.waistHeightTicks),
    clearance: again('clearance', garment.clearanceTicks),
    foundation_ease: again('foundation_ease', garment.foundationEaseTicks || null),
    front_drop: again('front_drop', garment.frontDropTicks),
    side_drop: again('side_drop', garment.sideDropTicks),
    back_drop: again('back_drop', garment.backDropTicks),
    opening: again('opening', garment.openingTicks),
    fastening: garment.fastening,
    fastener: again('fastener', garment.fastenerTicks),
    over: again('over', garment.overTicks),
    meet: showColourDifference(garment.meetCentiDeltaE),
    apart: showColourDifference(bandsOf(garment).apartCenti),
    version: String(garment.version),
  };
  garment.girths.forEach((point, row) => {
    const kept = readKept(point.typed);
    texts[`girths.${row}.drop`] = typedAgain(kept, 'drop', point.dropTicks, units);
    const girthTicks = point.hoopWidthTicks === null ? point.girthTicks : null;
    texts[`girths.${row}.girth`] = typedAgain(kept, 'girth', girthTicks, units);
    texts[`girths.${row}.width`] = typedAgain(kept, 'width', point.hoopWidthTicks, units);
    texts[`girths.${row}.depth`] = typedAgain(kept, 'depth', point.hoopDepthTicks, units);
  });
  return texts;
}

/** Works out what a garment would come to with the form that was typed, as far as that can be read. */
export function workOutForm(reader: Reader, garment: Garment, body: Body, units: Units): Outcome {
  const { value: form, problems } = orProblems(() => readForm(garmentSchema(units), body));
  if (!form) return { ...NO_OUTCOME, problems };
  return outcomeOf(reader, garment, { ...garment, name: form.name, ...shapeOf(form) }, units);
}

/** A garment as it would be beside the same as the book has it: figures, picture, what would then differ. */
export function outcomeOf(reader: Reader, garment: Garment, changed: Garment, units: Units): Outcome {
  const widths = readUsableWidths(reader, clothsOf(garment));
  const ways = readClothWays(reader, clothsOf(garment));
  const worked = workedBy(changed, widths, ways);
  const nameOf = (id: number) => garment.tiers.find((tier) => tier.id === id)?.name ?? '';
  const outcome = shapeOutcome(reader, worked, workedBy(garment, widths, ways), units);
  // Such a form can still be saved: the garment's page keeps saying what cannot be worked out.
  const lost = worked.problems.map(({ tierId, message }) => `${nameOf(tierId)}: ${message}`);
  return {
    ...outcome,
    warnings: [...lost, ...outcome.warnings],
    differences: differencesOf(reader, worked, namesOf(reader, changed), units),
  };
}

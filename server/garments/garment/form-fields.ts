import { z } from 'zod';
import { USUAL_BANDS } from '../../../src/colour/lot-pair.ts';
import { checkForm } from '../../../src/garment/form.ts';
import type { GirthPoint } from '../../../src/garment/girth.ts';
import { type Hoop, hoopGirth } from '../../../src/garment/hoop.ts';
import { FASTENINGS } from '../../../src/garment/opening.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { readColourDifference } from '../../../src/quantity/whole.ts';
import {
  choiceOrFirst,
  field,
  lengthField,
  optionalDay,
  optionalLength,
  optionalText,
  placeField,
  type Quantity,
  rowsField,
  textField,
  withPlaces,
} from '../../kit/fields.ts';
import { asked, askedAs, type Drawn } from '../../kit/form-drawing.ts';
import { sizeUnit } from '../../kit/units.ts';
import { MOST_DROP_TICKS, MOST_GIRTH_TICKS, sentUnseen } from '../tier/fields.ts';

export const MOST_GIRTHS = 40;

/** The fields of a garment and its form; bare numbers of its lengths are in the asker's unit. */
export function garmentFields(units: Units) {
  const unit = sizeUnit(units);
  const drop = { min: 1, max: MOST_DROP_TICKS, what: 'drop' };
  return {
    name: textField({ max: 120, label: 'Name', what: 'The name' }),
    due_on: optionalDay({ label: 'Due on' }),
    note: optionalText({ max: 2000, lines: true, label: 'Note', rows: 2, size: 'long' }),
    girths: girthRows(units),
    profile: choiceOrFirst(['straight', 'domed'], 'straight or domed', {
      label: 'Between two girths',
      options: [
        { value: 'straight', label: 'straight' },
        { value: 'domed', label: 'domed: a smooth guess' },
      ],
    }),
    waist_height: optionalLength(unit, { min: 1, max: MOST_DROP_TICKS, label: 'Waist above the floor' }),
    clearance: optionalLength(unit, {
      max: MOST_DROP_TICKS,
      what: 'clearance',
      label: 'Hem clear of the floor',
    }),
    foundation_ease: optionalLength(unit, {
      max: MOST_DROP_TICKS,
      what: 'ease',
      label: 'Foundation layer larger by',
      hint: 'Added to every girth.',
    }),
    front_drop: optionalLength(unit, { ...drop, label: 'Front' }),
    side_drop: optionalLength(unit, { ...drop, label: 'Side' }),
    back_drop: optionalLength(unit, { ...drop, label: 'Back' }),
    opening: optionalLength(unit, {
      min: 1,
      max: MOST_DROP_TICKS,
      label: 'Depth of the opening',
      hint: 'Below the waist.',
    }),
    fastening: choiceOrFirst(FASTENINGS, 'what closes it', {
      label: 'Closed by',
      options: FASTENING_CHOICES,
    }),
    fastener: optionalLength(unit, {
      min: 1,
      max: MOST_DROP_TICKS,
      label: 'Spacing of fasteners',
    }),
    over: optionalLength(unit, {
      min: 1,
      max: MOST_GIRTH_TICKS,
      label: 'Put on over a girth of',
      hint: 'Hips or shoulders, whichever is larger.',
    }),
    meet: optionalColourDifference(USUAL_BANDS.meetCenti, {
      label: 'Lots may meet within ΔE00',
    }),
    apart: optionalColourDifference(USUAL_BANDS.apartCenti, {
      label: 'Keep lots apart above ΔE00',
    }),
    ...sentUnseen,
  };
}

const FASTENING_CHOICES = FASTENINGS.map((value) => ({ value, label: value === 'zip' ? 'a zip' : value }));

function optionalColourDifference(usualCenti: number, asking: { readonly label: string }) {
  const read = field((typed, refuse) => {
    if (typed.trim() === '') return usualCenti;
    const difference = readColourDifference(typed);
    return difference.ok ? difference.value : refuse(difference.reason);
  });
  return asked(read, { ...asking, size: 'short', maxlength: 20, required: false });
}

export type GarmentFormFields = Drawn<ReturnType<typeof garmentFields>>;

/** The form of a garment by itself. */
export function garmentSchema(units: Units) {
  return z.strictObject(garmentFields(units)).superRefine(refineGarment);
}

export type GarmentForm = z.output<ReturnType<typeof garmentSchema>>;

type Problems = { addIssue(issue: { code: 'custom'; message: string; path: (string | number)[] }): void };
interface Limits {
  readonly meet: number;
  readonly apart: number;
}
type Heights = Readonly<
  Record<
    'waist_height' | 'clearance' | 'front_drop' | 'side_drop' | 'back_drop' | 'opening' | 'fastener',
    Quantity | null
  >
>;

/** What two or more fields of a garment must agree on. */
export function refineGarment(form: Heights & Limits, context: Problems): void {
  const say = (name: string, message: string) => context.addIssue({ code: 'custom', message, path: [name] });
  if (form.apart < form.meet)
    say('apart', 'Keep lots apart above ΔE00: enter no less than the difference within which lots may meet.');
  if (form.clearance !== null && form.waist_height === null) {
    say('waist_height', 'Give how high the waist is above the floor: the clearance is measured from there.');
  }
  if (form.clearance && form.waist_height && form.clearance.value >= form.waist_height.value) {
    say('clearance', 'The hem hangs below the waist: this is as high or higher.');
  }
  if (form.fastener !== null && form.opening === null)
    say('opening', 'Give the depth of the opening that the fasteners close.');
  const drops = ['front_drop', 'side_drop', 'back_drop'] as const;
  if (drops.some((name) => form[name] !== null)) {
    for (const name of drops) {
      if (form[name] === null)
        say(name, 'A level hem needs the drops in front, at the side and at the back.');
    }
  }
}

interface TypedGirth {
  readonly drop: Quantity;
  readonly girth: Quantity | null;
  readonly width: Quantity | null;
  readonly depth: Quantity | null;
  readonly place: number;
  readonly point: GirthPoint;
}

/** Girths keep the place of their row, so that a problem of the form as a whole finds its field. */
function girthRows(units: Units) {
  const unit = sizeUnit(units);
  const hoop = { min: 1, max: MOST_GIRTH_TICKS / 4, filter: true };
  const row = z
    .strictObject({
      drop: lengthField(unit, { min: 0, max: MOST_DROP_TICKS, label: 'Drop' }),
      girth: optionalLength(unit, {
        min: 0,
        max: MOST_GIRTH_TICKS,
        label: 'Girth',
        filter: true,
      }),
      width: optionalLength(unit, { ...hoop, label: 'Hoop width' }),
      depth: optionalLength(unit, { ...hoop, label: 'Hoop depth' }),
      place: placeField(),
    })
    .superRefine(({ girth, width, depth }, context) => {
      const say = (name: string, message: string) =>
        context.addIssue({ code: 'custom', message, path: [name] });
      if (girth === null && width === null && depth === null)
        say('girth', 'Give the girth, or the width of a hoop.');
      if (girth?.value === 0) say('girth', 'A girth is more than 0.');
      if (girth !== null && width !== null) say('girth', 'Give the girth or the hoop, not both.');
      if (depth !== null && width === null) say('width', 'Give the width of the hoop beside its depth.');
    })
    .transform((typed): TypedGirth => ({ ...typed, point: pointOf(typed) }));
  const rows = rowsField(row, { min: 0, max: MOST_GIRTHS, what: 'girths', prepare: withPlaces });
  const onForm = rows.superRefine((girths, context) => {
    for (const problem of checkForm({ girths: girths.map(({ point }) => point) })) {
      const place = problem.row === null ? undefined : girths[problem.row]?.place;
      const path = place === undefined ? [] : [place, problem.field];
      context.addIssue({ code: 'custom', message: problem.message, path });
    }
  });
  return askedAs(onForm, rows);
}

/** A hoop is rounded to a girth once, here. */
function pointOf({ drop, girth, width, depth }: Omit<TypedGirth, 'place' | 'point'>): GirthPoint {
  if (!width) return { dropTicks: drop.value, girthTicks: girth?.value ?? 0, hoop: null };
  const hoop: Hoop = { widthTicks: width.value, depthTicks: (depth ?? width).value };
  return { dropTicks: drop.value, girthTicks: hoopGirth(hoop), hoop };
}

/** What a form says of a garment's shape, as the book keeps it. */
export function shapeOf(form: Omit<GarmentForm, 'version' | 'act'>) {
  return {
    profile: form.profile,
    waistHeightTicks: form.waist_height?.value ?? null,
    clearanceTicks: form.clearance?.value ?? null,
    foundationEaseTicks: form.foundation_ease?.value ?? 0,
    frontDropTicks: form.front_drop?.value ?? null,
    sideDropTicks: form.side_drop?.value ?? null,
    backDropTicks: form.back_drop?.value ?? null,
    openingTicks: form.opening?.value ?? null,
    fastening: form.fastening,
    fastenerTicks: form.fastener?.value ?? null,
    overTicks: form.over?.value ?? null,
    girths: form.girths.map((typed) => ({ ...girthOf(typed), typed: '{}' })),
  };
}

/** A girth as the book keeps it: a round hoop has a width and no depth. */
export function girthOf({ point, width, depth }: TypedGirth) {
  return {
    dropTicks: point.dropTicks,
    girthTicks: point.girthTicks,
    hoopWidthTicks: width?.value ?? null,
    hoopDepthTicks: width ? (depth?.value ?? null) : null,
  };
}

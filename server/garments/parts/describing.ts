import { z } from 'zod';
import type { Direction } from '../../../src/garment/band.ts';
import { atShopStep, showAtShop } from '../../../src/garment/cloth-length.ts';
import { MAX_FORM_TICKS } from '../../../src/garment/form.ts';
import type { SewingJob } from '../../../src/garment/sewing.ts';
import { divideRounded, exactly, showDecimal } from '../../../src/quantity/figure-show.ts';
import { type LengthUnit, TICKS_PER } from '../../../src/quantity/length.ts';
import type { WantedLength } from '../../../src/supply/lengths.ts';
import { lengthField, optionalLength } from '../../kit/fields.ts';
import { type Drawn, type DrawnField, drawFields } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { unitsOf } from '../../kit/units.ts';
import { invalid } from '../../refusal.ts';
import type { Sewing } from '../../setup/rates/store.ts';
import { readForm } from '../../web/post.ts';

/** A figure of a part with what it follows from. */
export interface PartFigure {
  readonly label: string;
  readonly value: string;
  /** the sum, or where it comes from */
  readonly how: string;
}

/** Sections of a flounce on their cloth, in millimetres. */
export interface PartDrawing {
  readonly width: number;
  readonly height: number;
  readonly paths: readonly string[];
  readonly said: string;
}

/** What a part takes: a length, or so many of a thing. */
export interface PartWant {
  readonly what: string;
  /** in ticks of length; null where it is counted */
  readonly ticks: number | null;
  /** the single lengths of which that is the sum; none where it is counted */
  readonly lengths: readonly WantedLength[];
  readonly count: number | null;
  /** cloth comes in the cloth and shade chosen for the part; what closes an opening is the garment's own where it has one */
  readonly of?: 'cloth' | 'opening';
}

/** A length that a part takes, in ticks, in one or pieced from so many, and so many of a thing. */
export const wantsLength = (what: string, ticks: number, of?: PartWant['of']): PartWant =>
  wantsLengths(what, [{ ticks, pieces: 1 }], of);
export const wantsLengths = (
  what: string,
  lengths: readonly WantedLength[],
  of?: PartWant['of'],
): PartWant => ({
  what,
  ticks: lengths.reduce((sum, { ticks }) => sum + ticks, 0),
  lengths,
  count: null,
  ...(of ? { of } : {}),
});
/** So many lengths alike, in ticks, each pieced from no more than so many. */
export const alike = (count: number, ticks: number, pieces = 1): WantedLength[] =>
  Array.from({ length: count }, () => ({ ticks, pieces }));
export const wantsCount = (what: string, count: number, of?: PartWant['of']): PartWant => ({
  what,
  ticks: null,
  lengths: [],
  count,
  ...(of ? { of } : {}),
});

/** What one of a part is cut as: so many pieces of one size, such as strips to pleat or one length of full width. */
export interface CutOfPart {
  /** which of the sizes that the part names; left out for the main one */
  readonly size?: string;
  /** "strip", "ring", "length": one of them */
  readonly noun: string;
  readonly depthTicks: number;
  /** null is the usable width of its cloth */
  readonly lengthTicks: number | null;
  readonly direction: Direction;
  readonly count: number;
  /** what is cut out of each of them; left out where it is the rectangle itself */
  readonly shape?: ShapeOfPart;
}

/** Rings, or sections of rings, that are cut out of a rectangle; lengths in ticks. */
export interface ShapeOfPart {
  /** "ring", "half ring" */
  readonly named: string;
  /** in one rectangle */
  readonly count: number;
  readonly innerTicks: number;
  readonly outerTicks: number;
  /** whole rings that may be cut from the holes of larger ones; false for sections */
  readonly mayNest: boolean;
  readonly isWhole: boolean;
  /** to scale, from the upper left corner of the rectangle */
  readonly drawing: PartDrawing;
}

/** What a part comes to. */
export interface PartAnswer {
  readonly figures: readonly PartFigure[];
  /** lengths one by one, such as the steels of a cage; empty where there are none */
  readonly rows: {
    readonly caption: string;
    readonly heads: readonly string[];
    readonly cells: readonly (readonly string[])[];
  } | null;
  readonly drawing: PartDrawing | null;
  readonly wants: readonly PartWant[];
  /** size by size; none where it is not cut of cloth */
  readonly cuts: readonly CutOfPart[];
  /** lengths to sew on one of it, by job, as far as its figures tell */
  readonly sewn: readonly { readonly job: SewingJob; readonly ticks: number }[];
  readonly notes: readonly string[];
  /** what does not work as it was asked */
  readonly warnings: readonly string[];
}

/** Of most parts there are figures alone. */
const NOTHING_MORE = { rows: null, drawing: null, wants: [], cuts: [], sewn: [], notes: [], warnings: [] };

/** What an answer takes from elsewhere: how lengths are written, in the unit of the address, and the cloth that it is cut of. */
export interface PartWords {
  /** what a blank width stands for; null where no cloth is named */
  readonly usableWidthTicks: number | null;
  /** "24.19 cm" */
  size(ticks: number): string;
  /** cloth: exact, and what a shop cuts */
  cloth(ticks: number): string;
}

export function partWords(unit: LengthUnit, sewing: Sewing, usableWidthTicks: number | null): PartWords {
  const { system } = unitsOf(unit);
  const stepTicks = system === 'imperial' ? sewing.imperialStepTicks : sewing.metricStepTicks;
  const size = (ticks: number) => {
    const hundredths = divideRounded(exactly(ticks) * 100n, exactly(TICKS_PER[unit]), 'near');
    return `${showDecimal(hundredths, 2)} ${unit}`;
  };
  return {
    usableWidthTicks,
    size,
    cloth: (ticks) => `${showAtShop(atShopStep(ticks, stepTicks), system)} (${size(ticks)})`,
  };
}

/** A further size that a part may be cut in. */
export interface PartSize {
  readonly key: string;
  /** "facing" */
  readonly name: string;
  /** whether it may be of another cloth than the part */
  readonly hasCloth: boolean;
}

/** The fields of the cloths and shades that sizes of a part may have of their own. */
export const clothFieldOf = (size: string) => `${size}_cloth_id`;
export const shadeFieldOf = (size: string) => `${size}_shade_id`;
export const ownClothFields = (sizes: readonly PartSize[]): string[] =>
  sizes.flatMap(({ key, hasCloth }) => (hasCloth ? [clothFieldOf(key), shadeFieldOf(key)] : []));

/** A part that can be worked out from its form. */
export interface Part {
  readonly slug: string;
  readonly title: string;
  readonly about: string;
  /** the source of the rule, folded away under the answer */
  readonly sources: string;
  /** the figures that stand in a list of parts, by their labels */
  readonly brief: readonly string[];
  /** the sizes that it may be cut in besides the main one */
  readonly sizes: readonly PartSize[];
  /** the headings of a long form, by the field that each begins at */
  readonly headings: Readonly<Record<string, string>>;
  /** the form filled in with the usual figures */
  usual(unit: LengthUnit): Typed;
  fields(unit: LengthUnit): Record<string, z.ZodType>;
  draw(unit: LengthUnit, typed: Typed): Drawn<Record<string, z.ZodType>>;
  /** @throws {Refusal} invalid, with every problem at its field */
  workOut(unit: LengthUnit, typed: Typed, words: PartWords): PartAnswer;
}

/** A part of its fields and its sums: the form is read once, by the fields that it is drawn with. */
export function part<F extends Record<string, z.ZodType>>(given: {
  readonly slug: string;
  readonly title: string;
  readonly about: string;
  readonly sources: string;
  readonly brief: readonly string[];
  readonly sizes?: readonly PartSize[];
  readonly headings?: { readonly [Name in keyof F]?: string };
  readonly usual: { readonly metric: Typed; readonly imperial: Typed };
  fields(unit: LengthUnit): F;
  answer(form: z.output<z.ZodObject<F>>, words: PartWords): Pick<PartAnswer, 'figures'> & Partial<PartAnswer>;
}): Part {
  const { slug, title, about, sources, brief, sizes = [], headings = {} } = given;
  const cloths = ownClothFields(sizes);
  // Forms are read and drawn for each part of each page; building one costs far more than reading it.
  const forms = new Map<LengthUnit, { readonly fields: F; readonly schema: z.ZodObject<F> }>();
  const formIn = (unit: LengthUnit) => {
    const known = forms.get(unit);
    if (known) return known;
    const fields = given.fields(unit);
    const form = { fields, schema: z.strictObject(fields) as z.ZodObject<F> };
    forms.set(unit, form);
    return form;
  };
  return {
    slug,
    title,
    about,
    sources,
    brief,
    sizes,
    headings: headings as Readonly<Record<string, string>>,
    fields: (unit) => formIn(unit).fields,
    usual: (unit) => given.usual[unitsOf(unit).system],
    draw: (unit, typed) => drawFields(formIn(unit).fields, typed) as Drawn<Record<string, z.ZodType>>,
    workOut: (unit, typed, words) => ({
      ...NOTHING_MORE,
      // What a size is cut of changes none of its figures.
      ...given.answer(
        readForm(
          formIn(unit).schema,
          Object.fromEntries(Object.entries(typed).filter(([name]) => !cloths.includes(name))),
        ),
        words,
      ),
    }),
  };
}

const MOST_ALLOWANCE_TICKS = TICKS_PER.m;

/** A length that a part needs, and an allowance that is nothing where it is left blank. */
export const needed = (unit: LengthUnit, label: string, hint = '') =>
  lengthField(unit, { min: 1, max: MAX_FORM_TICKS, label, hint });
export const allowed = (unit: LengthUnit, label: string, hint = '') =>
  optionalLength(unit, { max: MOST_ALLOWANCE_TICKS, label, hint });
/** A length that may be left blank. */
export const maybe = (unit: LengthUnit, label: string, hint = '') =>
  optionalLength(unit, { min: 1, max: MAX_FORM_TICKS, label, hint });

/** The usable width of the cloth that a part is cut of: blank it follows the cloth, a wash test included. */
export const clothWidth = (unit: LengthUnit, hint = 'Blank: that of its cloth.') =>
  maybe(unit, 'Usable width of the cloth', hint);

/** @throws {Refusal} invalid, where it was left blank and no cloth is named */
export function widthOf(
  typed: { readonly value: number } | null,
  { usableWidthTicks }: PartWords,
  field = 'width',
): number {
  const ticks = typed?.value ?? usableWidthTicks;
  if (ticks === null) throw invalid(field, 'Enter the usable width: no cloth is named here to take it from.');
  return ticks;
}

/** A size that the last length of several may have. */
export const LAST_LENGTH: PartSize = { key: 'last', name: 'last length', hasCloth: false };

/** Fields of a part below one heading; '' has none. */
export interface PartFieldGroup {
  readonly legend: string;
  readonly fields: DrawnField[];
}

/** The drawn fields of a part below its headings; those before the first, or where it has none, below `top`. */
export function groupedFields(
  { headings }: Part,
  drawn: readonly DrawnField[],
  top: string,
): PartFieldGroup[] {
  const groups: PartFieldGroup[] = [];
  for (const field of drawn) {
    const heading = headings[field.name];
    if (heading !== undefined || groups.length === 0) groups.push({ legend: heading ?? top, fields: [] });
    groups.at(-1)?.fields.push(field);
  }
  return groups;
}

import { z } from 'zod';
import { AUXILIARY_KINDS } from '../../../src/dye/auxiliaries.ts';
import type { Card } from '../../../src/dye/card.ts';
import { RECIPE_CLASSES } from '../../../src/dye/dye-class.ts';
import { FIBRE_CODES } from '../../../src/dye/fibre.ts';
import { HEATER_KINDS, MATERIALS } from '../../../src/dye/heater.ts';
import { FIXINGS } from '../../../src/dye/label-class.ts';
import { SMALL_MEASURES } from '../../../src/dye/measuring.ts';
import { WORK_KINDS, type WorkStep } from '../../../src/dye/work-step.ts';
import { readStored } from '../../database/stored.ts';
import { MARK } from '../recipe/store.ts';

/** A card as it is kept when a batch starts, with its order of work: both stay as the bench was told them. */
export type KeptCard = Card & { readonly work?: readonly WorkStep[] };

// Cards that were kept by earlier versions have less: what they may lack is `exactOptional`.
const text = z.string();
const figure = z.number();
const lacked = figure.exactOptional();

const LINE = z.object({
  part: z.enum(['dye', 'auxiliary']),
  name: text,
  kind: z.enum(AUXILIARY_KINDS).exactOptional(),
  form: text.exactOptional(),
  asked: text,
  massMg: figure,
  massUg: lacked,
  stated: z.object({ form: text, num: figure, den: figure }).exactOptional(),
  volumeUl: lacked,
  stockMgPer100Ml: lacked,
  strengthBp: lacked,
});
const BATH = z.object({ massMg: figure, volumeUl: figure, freshWaterUl: figure, lines: z.array(LINE) });

const STOCK = z.object({
  line: figure,
  mgPer100Ml: figure,
  perBathUl: figure,
  makeMl: figure,
  weighMg: figure,
  dilutions: z.array(z.object({ takeMl: figure, makeMl: figure, mgPer100Ml: figure })).exactOptional(),
});
const AMOUNTS = z.object({
  parts: z.array(figure),
  equal: z.boolean(),
  options: z.array(z.object({ parts: z.array(figure), equal: z.boolean(), addedStrips: figure })),
  proposed: z.array(STOCK),
  balanceMg: lacked,
  measuresWith: z.enum(SMALL_MEASURES).exactOptional(),
  offBp: lacked,
  scaleMg: figure.nullable(),
  basis: z.enum(['oven-dry', 'conditioned']).nullable(),
  stripTicks: figure.nullable(),
  strengths: z
    .array(z.object({ line: figure, strengthBp: figure, how: z.enum(['typed', 'swatch']) }))
    .exactOptional(),
  regainBp: lacked,
  areaMg: figure.nullable(),
  dyedMg: figure,
  stripSentTicks: figure.nullable(),
  lengths: z.array(z.array(z.object({ piece: figure, lengthTicks: figure, strips: figure }))),
  rateCPerMinute: figure,
});

const PH = z.object({
  water: z
    .object({
      onDay: text,
      alkalinityTenths: figure,
      hardnessTenths: figure.nullable(),
      pHTenths: figure.nullable(),
    })
    .nullable(),
  wants: z.object({ from: figure, to: figure, mark: MARK }).nullable(),
});

const STEP = z.object({
  key: text,
  kind: z.enum(WORK_KINDS),
  title: text,
  says: text,
  minutes: figure,
  fromC: figure,
  toC: figure,
  adds: z.array(z.object({ name: text, part: figure, of: figure })),
  doses: z.array(
    z.object({ kind: z.enum(AUXILIARY_KINDS), form: text.exactOptional(), name: text, mgPerLitre: figure }),
  ),
  extra: z.array(z.object({ name: text, massMg: figure })),
  mark: MARK,
});

const VESSEL = z.object({
  name: text,
  volumeMl: figure,
  material: z.enum(['', ...MATERIALS]).exactOptional(),
  emptyMg: figure.nullable().exactOptional(),
  heaterKind: z.enum(['', ...HEATER_KINDS]).exactOptional(),
  watts: figure.nullable().exactOptional(),
});

const CARD: z.ZodType<KeptCard> = z.object({
  recipe: z.object({
    id: figure,
    name: text,
    version: figure,
    method: text,
    dyeClass: z.enum(RECIPE_CLASSES),
    liquorRatioMilli: figure,
    temperatureC: figure,
    holdMinutes: figure,
    pHFrom: lacked,
    pHTo: lacked,
    heatRateMilli: lacked,
    coolRateMilli: lacked,
    fixing: z.object({ how: z.enum(FIXINGS), temperatureC: figure, seconds: figure }).exactOptional(),
    also: z.array(z.enum(FIBRE_CODES)).exactOptional(),
    marks: z.record(text, MARK),
  }),
  shade: text,
  vessel: VESSEL,
  pots: z.array(VESSEL).exactOptional(),
  pieces: z.array(
    z.object({
      code: text,
      cloth: text,
      lot: text,
      lengthTicks: figure,
      widthTicks: figure,
      massPerAreaMgM2: figure,
      massMg: figure,
      expectedTicks: figure,
    }),
  ),
  massMg: figure,
  dyedBp: figure,
  shrinkageBp: figure,
  bath: BATH,
  baths: z.array(BATH),
  fillMl: figure,
  cautions: z.array(z.object({ id: text, text, authority: text })),
  warnings: z.array(z.object({ id: text, text, source: text })),
  sources: z.array(text).exactOptional(),
  ph: PH.exactOptional(),
  amounts: AMOUNTS.exactOptional(),
  work: z.array(STEP).exactOptional(),
});

/** The card as a column keeps it. */
export function keepCard(card: KeptCard): string {
  return JSON.stringify(CARD.parse(card));
}

export function readKeptCard(json: string): KeptCard {
  return readStored(CARD, json);
}

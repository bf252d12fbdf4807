import { z } from 'zod';
import { CLOTH_STATES, FINISH_NAMES, NYLON_TYPES, STATE_NAMES } from '../../../src/dye/cloth-finish.ts';
import { capital, checkContent, FIBRES, type FibreCode } from '../../../src/dye/fibre.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { readMassPerArea } from '../../../src/quantity/mass.ts';
import { readShare, WHOLE_SHARE_BP } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { optionalChosen, supplierChoices, withBlank } from '../../kit/choices.ts';
import {
  choiceOrFirst,
  field,
  lengthField,
  optionalLength,
  optionalMassPerArea,
  optionalReading,
  optionalText,
  optionalWhole,
  placeField,
  type Quantity,
  rowsField,
  textField,
  tickField,
  withPlaces,
} from '../../kit/fields.ts';
import { asked, askedAs } from '../../kit/form-drawing.ts';
import { type Typed, withOwnUnit, withUnit } from '../../kit/typed.ts';
import { massPerAreaUnit, sizeUnit } from '../../kit/units.ts';

/** Constructions to choose from or to write over: trade words, none binding. */
const CONSTRUCTIONS = [
  'organza',
  'tulle',
  'net',
  'chiffon',
  'georgette',
  'voile',
  'organdie',
  'taffeta',
  'satin',
  'lining',
  'interlining',
  'lace',
];

const FIBRE_CHOICES = FIBRES.map(({ code, name }) => ({ value: code, label: name }));
export const FIBRE_ROWS = 4;
const MOST_FIBRES = 8;

/** 5 kg/m², in milligrams: far beyond any cloth that is gathered. */
const MOST_MASS_PER_AREA_MG_M2 = 5_000_000;

/** The widest that a cloth or a piece of it can be: 10 m. */
export const MOST_WIDTH_TICKS = 10 * TICKS_PER.m;

/** 100 m, far beyond any printed pattern. */
const MOST_REPEAT_TICKS = 100 * TICKS_PER.m;

/** Plies that a hand cuts through at once; more are cut in several stacks. Common practice. */
const MOST_PLIES = 24;

/** A cloth as it is described. A blank ply limit is one ply. */
export function clothFields(reader: Reader, units: Units) {
  const width = { max: MOST_WIDTH_TICKS };
  return {
    name: textField({ max: 120, what: 'The name', label: 'Name' }),
    construction: textField({
      max: 60,
      what: 'The construction',
      label: 'Construction',
      hint: 'Such as organza, tulle, chiffon.',
      suggest: CONSTRUCTIONS,
    }),
    fibres: fibresField(),
    width: lengthField(sizeUnit(units), {
      ...width,
      label: 'Width',
      hint: 'With selvedges.',
    }),
    usable_width: lengthField(sizeUnit(units), {
      ...width,
      label: 'Usable width',
      hint: 'Without selvedges.',
    }),
    mass_per_area: optionalMassPerArea(massPerAreaUnit(units), {
      label: 'Mass per area',
      hint: 'Needed for dyeing.',
    }).refine(
      (mass) => mass === null || mass.value <= MOST_MASS_PER_AREA_MG_M2,
      'The mass per area is too large for a cloth.',
    ),
    ply_limit: optionalWhole({
      min: 1,
      max: MOST_PLIES,
      label: 'Plies cut at once',
      hint: 'Blank: one. Sheers slip: two, pinned, is common practice.',
      size: 'short',
    }),
    fold_limit: choiceOrFirst(['0', '1', '2', '3'], 'how often it is folded', {
      label: 'Folded lengthwise to be cut',
      required: false,
      options: [
        { value: '0', label: 'never: it lies flat' },
        { value: '1', label: 'once: selvedges together, 2 plies' },
        { value: '2', label: 'twice at most, 4 plies' },
        { value: '3', label: 'three times at most, 8 plies' },
      ],
    }),
    no_fold_line: tickField({
      label: 'It keeps a crease: no fold line in a strip',
    }),
    one_way: tickField({ label: 'One way: nap, pile or a pattern that has an up and a down' }),
    repeat: optionalLength(sizeUnit(units), {
      min: 1,
      max: MOST_REPEAT_TICKS,
      label: 'Pattern repeat',
      hint: 'Along the cloth. Blank: no pattern that has to meet.',
    }),
    half_drop: tickField({ label: 'Half-drop: neighbours begin half a repeat apart' }),
    finish: optionalText({ max: 120, label: 'Finish, in the supplier’s words' }),
    state: choiceOrFirst(['', ...CLOTH_STATES], 'a state', {
      label: 'State',
      required: false,
      options: withBlank(
        CLOTH_STATES.map((value) => ({ value, label: STATE_NAMES[value] })),
        'not known',
      ),
    }),
    nylon: choiceOrFirst(['', ...NYLON_TYPES], 'a kind of nylon', {
      label: 'Nylon',
      hint: 'They take dye differently: ask the supplier.',
      required: false,
      options: withBlank(
        NYLON_TYPES.map((value) => ({ value, label: `nylon ${value}` })),
        'not known, or no nylon',
      ),
    }),
    flame_retardant: tickField({ label: capital(FINISH_NAMES['flame-retardant']) }),
    water_repellent: tickField({ label: capital(FINISH_NAMES['water-repellent']) }),
    parchment: tickField({ label: capital(FINISH_NAMES.parchment) }),
    starched: tickField({ label: capital(FINISH_NAMES.starched) }),
    supplier_id: optionalChosen(supplierChoices(reader), 'a supplier', {
      label: 'Supplier',
      blank: 'no supplier',
    }),
    article: optionalText({ max: 120, label: 'Supplier’s article' }),
    note: optionalText({ max: 2000, label: 'Note', lines: true, size: 'long', rows: 3 }),
  };
}

export function clothForm(reader: Reader, units: Units) {
  return z
    .strictObject(clothFields(reader, units))
    .refine(...USABLE_WITHIN_WIDTH)
    .superRefine(({ repeat, half_drop: halfDrop }, context) => {
      if (!halfDrop || repeat) return;
      context.addIssue({
        code: 'custom',
        path: ['repeat'],
        message: 'Pattern repeat: enter it too, since a half-drop is half of it.',
      });
    })
    .superRefine(({ fold_limit: folds, ply_limit: plies }, context) => {
      const needed = 2 ** Number(folds);
      if (needed <= (plies?.value ?? 1)) return;
      context.addIssue({
        code: 'custom',
        path: ['fold_limit'],
        message: `Folded so often it lies in ${needed} plies: enter ${needed} or more plies cut at once, or fold it less.`,
      });
    });
}

interface Widths {
  readonly width: Quantity;
  readonly usable_width: Quantity;
}

/** What the two widths of a cloth must hold to, for `refine` of any form that asks for both. */
export const USABLE_WITHIN_WIDTH: readonly [
  holds: (widths: Widths) => boolean,
  asked: { path: string[]; message: string; when: (form: { value: unknown }) => boolean },
] = [
  ({ width, usable_width: usable }) => usable.value <= width.value,
  {
    path: ['usable_width'],
    message: 'The usable width is the width less the selvedges: enter no more than the width.',
    // Asked as soon as both widths were read, whatever else is wrong, so that all is told at once.
    when: ({ value }) => isRead(value, 'width') && isRead(value, 'usable_width'),
  },
];

function isRead(form: unknown, name: string): boolean {
  const quantity = (form as Record<string, unknown> | null)?.[name];
  return typeof quantity === 'object' && quantity !== null && 'value' in quantity;
}

export type ClothForm = z.output<ReturnType<typeof clothForm>>;

interface FibreRow {
  readonly place: number;
  readonly fibre: FibreCode;
  readonly share: number | null;
}

/** Rows of fibre and share that make 100 %. One fibre alone without a share is the whole. */
function fibresField() {
  const fibre = field(
    (typed, refuse) => FIBRES.find(({ code }) => code === typed)?.code ?? refuse('Choose a fibre.'),
  );
  const rowFields = {
    fibre: asked(fibre, {
      label: 'Fibre',
      kind: 'select',
      options: withBlank(FIBRE_CHOICES, 'no fibre'),
      filter: true,
    }),
    share: optionalReading(readShare, { label: 'Share', unit: '%', filter: true }),
  };
  const rows = rowsField(z.strictObject({ place: placeField(), ...rowFields }), {
    max: MOST_FIBRES,
    what: 'fibres',
    prepare: withPlaces,
  });
  const read = rows.transform((fibres, context) => {
    const alone = fibres.length === 1;
    const open = fibres.filter(({ share }) => share === null && !alone);
    for (const { place } of open) {
      context.issues.push({
        code: 'custom',
        message: 'Give its share of the mass.',
        path: [place, 'share'],
        input: fibres,
      });
    }
    const content = fibres.map(({ fibre, share }) => ({ fibre, shareBp: share ?? WHOLE_SHARE_BP }));
    if (open.length === 0) {
      for (const problem of checkContent(content)) {
        context.issues.push({
          code: 'custom',
          message: problem.message,
          path: pathOf(problem.field, fibres),
          input: fibres,
        });
      }
    }
    return content;
  });
  return askedAs(read, { rowFields, rows: FIBRE_ROWS, spare: 0, mostRows: MOST_FIBRES });
}

/** `content.1.shareBp` of the fibres is `fibres.<place>.share` of the form. */
function pathOf(field: string, fibres: readonly FibreRow[]): (string | number)[] {
  const [, index, part] = field.split('.');
  const place = fibres[Number(index)]?.place;
  return place === undefined ? [] : [place, part === 'shareBp' ? 'share' : 'fibre'];
}

/** What was typed for a cloth, each with its unit, so that another reader's units never change what it means. */
export function typedCloth(cloth: ClothForm, units: Units): Typed {
  const mass = cloth.mass_per_area?.typed ?? '';
  const massUnits = [readMassPerArea(mass, 'g/m²'), readMassPerArea(mass, 'oz/yd²')] as const;
  return {
    width: withUnit(cloth.width.typed, sizeUnit(units)),
    usable_width: withUnit(cloth.usable_width.typed, sizeUnit(units)),
    ...(cloth.repeat ? { repeat: withUnit(cloth.repeat.typed, sizeUnit(units)) } : {}),
    mass_per_area: mass && withOwnUnit(mass, massPerAreaUnit(units), ...massUnits),
  };
}

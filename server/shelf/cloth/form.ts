import { z } from 'zod';
import { checkContent, FIBRES, type FibreCode } from '../../../src/dye/fibre.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { readMassPerArea } from '../../../src/quantity/mass.ts';
import { readShare, WHOLE_SHARE_BP } from '../../../src/quantity/whole.ts';
import { type Choice, optionalChosen } from '../../kit/choices.ts';
import {
  field,
  lengthField,
  optionalMassPerArea,
  optionalText,
  optionalWhole,
  rowsField,
  textField,
} from '../../kit/fields.ts';
import { type Typed, withOwnUnit, withUnit } from '../../kit/typed.ts';
import { massPerAreaUnit, sizeUnit } from '../../kit/units.ts';
import { MOST_WIDTH_TICKS } from '../receive/rows.ts';

/** Constructions to choose from or to write over: trade words, none binding. */
export const CONSTRUCTIONS = [
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
] as const;

export const FIBRE_CHOICES: readonly Choice[] = [
  { value: '', label: 'no fibre' },
  ...FIBRES.map(({ code, name }) => ({ value: code, label: name })),
];

/** 5 kg/m², in milligrams: far beyond any cloth that is gathered. */
const MOST_MASS_PER_AREA_MG_M2 = 5_000_000;

/** Plies that a hand cuts through at once; more are cut in several stacks. Common practice. */
const MOST_PLIES = 24;

/** A cloth as it is described. A blank ply limit is one ply. */
export function clothForm(units: Units, suppliers: readonly Choice[]) {
  return z
    .strictObject({
      name: textField({ max: 120, label: 'The name' }),
      construction: textField({ max: 60, label: 'The construction' }),
      fibres: fibresField(),
      width: lengthField(sizeUnit(units), { max: MOST_WIDTH_TICKS, what: 'width' }),
      usable_width: lengthField(sizeUnit(units), { max: MOST_WIDTH_TICKS, what: 'usable width' }),
      mass_per_area: optionalMassPerArea(massPerAreaUnit(units)).refine(
        (mass) => mass === null || mass.value <= MOST_MASS_PER_AREA_MG_M2,
        'The mass per area is too large for a cloth.',
      ),
      ply_limit: optionalWhole({ min: 1, max: MOST_PLIES }),
      finish: optionalText({ max: 120 }),
      supplier_id: optionalChosen(suppliers, 'a supplier'),
      article: optionalText({ max: 120 }),
      note: optionalText({ max: 2000, lines: true }),
    })
    .refine(({ width, usable_width: usable }) => usable.value <= width.value, {
      path: ['usable_width'],
      message: 'The usable width is the width less the selvedges: it cannot be more than the width.',
      // Asked as soon as both widths were read, whatever else is wrong, so that all is told at once.
      when: ({ value }) => isRead(value, 'width') && isRead(value, 'usable_width'),
    });
}

function isRead(form: unknown, name: string): boolean {
  const quantity = (form as Record<string, unknown> | null)?.[name];
  return typeof quantity === 'object' && quantity !== null && 'value' in quantity;
}

export type ClothForm = z.output<ReturnType<typeof clothForm>>;

export const MOST_FIBRES = 8;

interface FibreRow {
  readonly row: number;
  readonly fibre: FibreCode;
  readonly share: number | null;
}

/** Rows of fibre and share that make 100 %. One fibre alone without a share is the whole. */
function fibresField() {
  const row = z.strictObject({
    row: z.number(),
    fibre: field(
      (typed, refuse) => FIBRES.find(({ code }) => code === typed)?.code ?? refuse('Choose a fibre.'),
    ),
    share: field((typed, refuse) => {
      if (typed.trim() === '') return null;
      const reading = readShare(typed);
      return reading.ok ? reading.value : refuse(reading.reason);
    }),
  });
  const rows = rowsField(row, { max: MOST_FIBRES, what: 'fibres' });
  return z.preprocess(numberRows, rows).transform((fibres, context) => {
    const alone = fibres.length === 1;
    const open = fibres.filter(({ share }) => share === null && !alone);
    for (const { row } of open) {
      context.issues.push({
        code: 'custom',
        message: 'Give its share of the mass.',
        path: [row, 'share'],
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
}

/** The rows know their place on the form, so that a problem of one is told beside it, blank rows before it or not. */
function numberRows(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  return Array.from(raw, (given: unknown, row) => (isFilled(given) ? { ...given, row } : null));
}

function isFilled(given: unknown): given is object {
  if (typeof given !== 'object' || given === null) return false;
  return Object.values(given).some((text) => typeof text === 'string' && text.trim() !== '');
}

/** `content.1.shareBp` of the fibres is `fibres.<row>.share` of the form. */
function pathOf(field: string, fibres: readonly FibreRow[]): (string | number)[] {
  const [, index, part] = field.split('.');
  const row = fibres[Number(index)]?.row;
  return row === undefined ? [] : [row, part === 'shareBp' ? 'share' : 'fibre'];
}

/** What was typed for a cloth, each with its unit, so that another reader's units never change what it means. */
export function typedCloth(cloth: ClothForm, units: Units): Typed {
  const mass = cloth.mass_per_area?.typed ?? '';
  const massUnits = [readMassPerArea(mass, 'g/m²'), readMassPerArea(mass, 'oz/yd²')] as const;
  return {
    width: withUnit(cloth.width.typed, sizeUnit(units)),
    usable_width: withUnit(cloth.usable_width.typed, sizeUnit(units)),
    mass_per_area: mass && withOwnUnit(mass, massPerAreaUnit(units), ...massUnits),
  };
}

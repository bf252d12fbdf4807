import { z } from 'zod';
import type { LengthUnit } from '../../../src/quantity/length.ts';
import type { Reader } from '../../database/book.ts';
import { clothChoices, optionalChosen, shadeChoices } from '../../kit/choices.ts';
import { optionalText, textField, wholeField } from '../../kit/fields.ts';
import { unasked } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { sentUnseen } from '../tier/fields.ts';
import { clothFieldOf, ownClothFields, type Part, shadeFieldOf } from './describing.ts';

const MOST_PIECES = 1000;

/** What is asked of a part besides its own figures. */
export function keptPartFields(reader: Reader) {
  return {
    name: textField({ max: 80, label: 'Name', what: 'The name' }),
    pieces: wholeField({ min: 1, max: MOST_PIECES, label: 'How many alike' }),
    cloth_id: optionalChosen(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'as the garment' }),
    shade_id: optionalChosen(shadeChoices(reader), 'a shade', { label: 'Shade', blank: 'as the garment' }),
    unit: unasked(optionalText({ max: 2 })),
    ...sentUnseen,
  };
}

/** The cloths of the further sizes that may be of another one. */
export function sizeClothFields(reader: Reader, { sizes }: Part) {
  const of = { blank: 'as the part' };
  return Object.fromEntries(
    sizes
      .filter(({ hasCloth }) => hasCloth)
      .flatMap(({ key, name }) => [
        [
          clothFieldOf(key),
          optionalChosen(clothChoices(reader), 'a cloth', { label: `Cloth of the ${name}`, ...of }),
        ],
        [
          shadeFieldOf(key),
          optionalChosen(shadeChoices(reader), 'a shade', { label: `Shade of the ${name}`, ...of }),
        ],
      ]),
  );
}

/** The whole form of a part of a kind: what its own figures agree on is found when it is worked out. */
export function keptPartSchema(reader: Reader, part: Part, unit: LengthUnit) {
  return z.strictObject({
    ...part.fields(unit),
    ...sizeClothFields(reader, part),
    ...keptPartFields(reader),
  });
}

export type KeptPartForm = z.output<z.ZodObject<ReturnType<typeof keptPartFields>>>;

/** What was typed for the part's own figures and the cloths of its sizes; blanks are left out. */
export function askedOf(part: Part, unit: LengthUnit, typed: Typed): Typed {
  const names = [...Object.keys(part.fields(unit)), ...ownClothFields(part.sizes)];
  return Object.fromEntries(names.flatMap((name) => (typed[name] ? [[name, typed[name] ?? '']] : [])));
}

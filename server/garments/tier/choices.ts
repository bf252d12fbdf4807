import type { Reader } from '../../database/book.ts';
import { clothChoices, shadeChoices } from '../../kit/choices.ts';
import type { Garment } from '../garment/records.ts';
import { tiersIn } from '../garment/worked.ts';
import type { TierChoices } from './fields.ts';
/** What a tier may be made of and hang from: any other tier that is in, whatever that one hangs from. */
export function readTierChoices(reader: Reader, garment: Garment, tierId: number): TierChoices {
  const others = tiersIn(garment).filter(({ id }) => id !== tierId);
  return {
    cloths: clothChoices(reader),
    shades: shadeChoices(reader),
    hangs: [
      { value: 'form', label: 'the form, at the drop given' },
      { value: 'foundation', label: 'the foundation layer, at the drop given' },
      ...others.map(({ id, name }) => ({ value: `edge-${id}`, label: `the lower edge of ${name}` })),
      ...others.map(({ id, name }) => ({
        value: `face-${id}`,
        label: `the face of ${name}, at the height given`,
      })),
    ],
    ratios: others.map(({ id, name }) => ({ value: String(id), label: `the flat length of ${name}` })),
  };
}

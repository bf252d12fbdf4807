import { lengthToCut } from '../../src/fit/strips.ts';
import { type Ask, demandOf, takeSpare } from '../../src/fit/take.ts';
import type { ClothShade } from '../../src/garment/need.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import { writeLength } from '../../src/quantity/written-length.ts';
import type { Reader } from '../database/book.ts';
import { address } from '../kit/address.ts';
import { showDay } from '../kit/when.ts';
import { countOf, wordFor } from '../kit/words.ts';
import type { WayOn } from '../refusal.ts';
import type { ComingLength, Lengths } from '../shelf/lengths.ts';
import { readClothNames, readShadeNames } from '../shelf/names.ts';
import { readTakePieces } from '../short/spare.ts';
import type { TakeAnswer } from './answer.ts';
import { askOf, type TakeQuestion } from './form.ts';
import { type PieceCodes, sayTakings } from './words.ts';

interface Known {
  readonly codes: PieceCodes;
  readonly lengths: Lengths;
}

/** What would make it possible, or cost nobody anything. */
export function curesOfTake(
  reader: Reader,
  answer: TakeAnswer,
  { codes, lengths }: Known,
  form: TakeQuestion,
  units: Units,
) {
  const { clothId, shadeId, joined, anyLots } = answer;
  const cures: { readonly text: string; readonly link: WayOn | null }[] = [];
  if (joined)
    cures.push({
      text: `With ${wordFor(joined.length - 1, 'a seam', 'seams')}: ${sayTakings(joined, codes, units)}, the seam allowance not counted.`,
      link: null,
    });
  if (anyLots)
    cures.push({
      text: `From several lots${form.wanted.kind === 'length' ? ', with seams' : ''}, if the lots match.`,
      link: { text: 'Take any lots', href: address('/take', { ...askOf(form, answer, units), lots: 'any' }) },
    });
  cures.push(...undyedCure(reader, answer, form, units));
  for (const coming of lengths.coming) cures.push(sayComing(coming, form.by, units));
  if (lengths.heldTicks > 0)
    cures.push({
      text: `${showLength(lengths.heldTicks, units, 'down')} is held: release some if it can wait.`,
      link: { text: 'See who holds it', href: address('/shelf', { cloth: clothId, shade: shadeId }) },
    });
  cures.push(...buyingCure(reader, answer, form.wanted, units));
  return cures;
}

/** Undyed cloth of the same kind that has it to spare, from which the shade could be dyed. */
function undyedCure(
  reader: Reader,
  { clothId, shadeId }: ClothShade,
  { wanted, lots }: TakeQuestion,
  units: Units,
) {
  const shades = readShadeNames(reader);
  const shadeIds = [...shades.values()].filter(({ ground }) => ground).map(({ id }) => id);
  if (shades.get(shadeId)?.ground || shadeIds.length === 0) return [];
  const pieces = readTakePieces(reader, { clothIds: [clothId], shadeIds });
  const takings = takeSpare(pieces, wanted, lots);
  if (takings === null) return [];
  const ticks = takings.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
  const spare = takings.reduce((sum, { spareAfterTicks }) => sum + spareAfterTicks, ticks);
  const pieceCount = countOf(takings.length, 'piece', 'pieces');
  return [
    {
      text: `${showLength(spare, units, 'down')} is to spare undyed, in ${pieceCount}.`,
      link: {
        text: 'Dye it',
        href: address('/dye-bench/batches/new', {
          cloth: clothId,
          shade: shadeId,
          wanted: writeLength(ticks, units),
        }),
      },
    },
  ];
}

/** Fresh cloth, so much as is asked for; none where a strip is larger than the cloth is wide. */
function buyingCure(reader: Reader, { clothId, shadeId }: ClothShade, wanted: Ask, units: Units) {
  const widthTicks = readClothNames(reader, [clothId]).get(clothId)?.usableWidthTicks ?? 0;
  const ticks = wanted.kind === 'length' ? wanted.lengthTicks : lengthToCut([demandOf(wanted)], widthTicks);
  if (ticks === null) return [];
  return [
    {
      text: `Buy ${showLength(ticks, units, 'up')}.`,
      link: {
        text: 'Find where to buy it',
        href: address('/orders/basket', {
          'needs.0.cloth_id': clothId,
          'needs.0.shade_id': shadeId,
          'needs.0.length': writeLength(ticks, units),
        }),
      },
    },
  ];
}

function sayComing({ lengthTicks, how, code, href, on }: ComingLength, by: string | null, units: Units) {
  const length = showLength(lengthTicks, units, 'down');
  const late = by !== null && on !== null && on > by ? ', too late' : '';
  const text = `${length} is ${how}, ${code}${on === null ? '' : `, expected ${showDay(on)}`}${late}.`;
  return { text, link: { text: `See ${code}`, href } };
}

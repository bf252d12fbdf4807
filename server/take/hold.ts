import { z } from 'zod';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import { MOST_LENGTH_TICKS } from '../../src/quantity/length.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { readOpenGarments } from '../garments/garment/records.ts';
import { stripRowsIn } from '../garments/garment/strip-rows.ts';
import { type Choice, chosenField } from '../kit/choices.ts';
import { lengthField, textField } from '../kit/fields.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { lengthUnit } from '../kit/units.ts';
import { countOf } from '../kit/words.ts';
import { readNeeds } from '../short/queries.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';

/** What the cutting table has to say of holding, which stands on this room; whoever wires the rooms hands it in. */
export interface TakeTold {
  /** Holds a length of a piece for a tier, or refuses it with the reason. */
  holdForTier(tx: Tx, code: string, tierId: number, form: HoldAsked, asker: Asker): Answer;
  /** The tier's own form for holding, with what was typed. */
  holdPage(reader: Reader, code: string, tierId: number, asker: Asker, given: HoldTyped): Page;
}

type HoldAsked = Omit<z.output<ReturnType<typeof tierHoldForm>>, 'tier'> & { readonly lots_meet: boolean };

interface HoldTyped {
  readonly piece: string;
  readonly typed?: Typed;
}

interface TierWanting {
  readonly tierId: number;
  readonly garmentCode: string;
  /** "G2 Plum skirt, Tier 3: 4 strips to cut" */
  readonly said: string;
}

/** The tiers and parts of open garments with strips of a cloth and shade that are neither cut nor held, those due first first. */
function readTiersWanting(reader: Reader, of: ClothShade): TierWanting[] {
  const { lines } = readNeeds(reader, { of: new Set([needKey(of)]) });
  const line = lines.find(({ cloth, shade }) => cloth.id === of.clothId && shade.id === of.shadeId);
  return (line?.shares ?? []).flatMap(({ garment, need, short }) =>
    stripRowsIn(garment).flatMap(({ id, name }) => {
      const left = need.demands.reduce((sum, { tierId }, place) => {
        if (tierId !== id) return sum;
        const reached = (short.freeFit.made[place]?.count ?? 0) + (short.shortOf[place]?.count ?? 0);
        return sum + reached;
      }, 0);
      if (left === 0) return [];
      const strips = countOf(left, 'strip', 'strips');
      return [
        {
          tierId: id,
          garmentCode: garment.code,
          said: `${garment.code} ${garment.name}, ${name}: ${strips} to cut`,
        },
      ];
    }),
  );
}

function asChoices(tiers: readonly TierWanting[]): Choice[] {
  return tiers.map(({ tierId, said }) => ({ value: String(tierId), label: said }));
}

function tierHoldFields(tiers: readonly Choice[], units: Units) {
  return {
    piece: textField({ max: 40, label: 'Piece', what: 'The piece', size: 'short' }),
    length: lengthField(lengthUnit(units), { max: MOST_LENGTH_TICKS, label: 'Length to hold' }),
    tier: chosenField(tiers, 'a tier or part', { label: 'Tier or part', size: 'long' }),
  };
}

/** The form that holds a length that was asked about for a tier; null where no tier wants it. */
export function drawTierHold(
  reader: Reader,
  of: ClothShade,
  asker: Asker,
  taking: { readonly action: string; readonly piece: string; readonly length: string },
) {
  const tiers = asChoices(readTiersWanting(reader, of));
  const [first] = tiers;
  if (!first) return null;
  const typed = { piece: taking.piece, length: taking.length, tier: first.value };
  return {
    action: taking.action,
    requestKey: mintKey(),
    fields: drawFields(tierHoldFields(tiers, asker.units), typed),
  };
}

/** The tiers and parts of all open garments: whether the one chosen wants the piece is the cutting table's to say. */
export function readOpenTiers(reader: Reader): TierWanting[] {
  return readOpenGarments(reader).flatMap((garment) =>
    stripRowsIn(garment).map(({ id, name }) => ({
      tierId: id,
      garmentCode: garment.code,
      said: `${garment.code} ${garment.name}, ${name}`,
    })),
  );
}

/** The form as it is sent. */
export function tierHoldForm(reader: Reader, units: Units) {
  return z.strictObject(tierHoldFields(asChoices(readOpenTiers(reader)), units));
}

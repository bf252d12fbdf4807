import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { apportion } from '../../../src/quantity/money.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { optionalChosen, placeChoices } from '../../kit/choices.ts';
import { idField, optionalLength, optionalMoney } from '../../kit/fields.ts';
import { batchPath } from '../../kit/paths.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { showMoment } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import { bringBackFromDye } from '../../ledger/verbs.ts';
import { conflict, invalid } from '../../refusal.ts';
import { MOST_WIDTH_TICKS } from '../../shelf/cloth/form.ts';
import type { Asker } from '../../web/house.ts';
import { numberedRows } from '../numbered-rows.ts';
import { potPath } from '../pot/log-verbs.ts';
import { readWorking } from '../pot/working.ts';
import { readRecipe } from '../recipe/store.ts';
import { readDyeingLeft } from './cost.ts';
import { MOST_LENGTHS, sayLengthCount } from './plan.ts';
import { readBatch, readSentLengths, type SentLength, type StoredBatch } from './store.ts';

export function finishForm(reader: Reader, { units, currency }: Asker) {
  const row = {
    sent_id: idField('a length that was sent'),
    length: optionalLength(lengthUnit(units), {
      min: 0,
      max: MOST_LENGTH_TICKS,
      what: 'length',
      label: 'Measured length',
      required: true,
    }),
    usable_width: optionalLength(sizeUnit(units), {
      min: 1,
      max: MOST_WIDTH_TICKS,
      what: 'usable width',
      label: 'Usable width now',
    }),
    place_id: optionalChosen(placeChoices(reader), 'a place', {
      label: 'Place',
      blank: 'where it came from',
      required: true,
    }),
  };
  return z.strictObject({
    pieces: numberedRows(row, { min: 1, max: MOST_LENGTHS, what: 'lengths' }),
    cost: optionalMoney(currency, {
      label: 'What the dyeing cost',
      what: 'price',
      hint: 'Shared by the lengths sent.',
    }),
  });
}

type FinishForm = z.output<ReturnType<typeof finishForm>>;

/** A length that was typed for another bath is told by it; common practice. */
const MOST_GROWTH = 1.1;

/**
 * Brings sent lengths back as they are measured: pieces of their bath's lot, with shrinkage entered. Rows without a
 * length stay in the pot; nought is a spoiled length, which is written off. What the dyeing cost goes to the lengths by
 * what was sent of each.
 * @throws {Refusal} conflict where a length is not in the pot any more, or its bath is still being worked
 */
export function finishBatch(tx: Tx, code: string, form: FinishForm, { units, seesPrices }: Asker): Answer {
  const batch = readBatch(tx, code);
  const sent = readSentLengths(tx, batch.id);
  const rows = form.pieces.flatMap((row) => (row.length ? [{ ...row, length: row.length }] : []));
  if (rows.length === 0) {
    throw invalid('pieces', 'Give the measured length of at least one; 0 where it is spoiled.');
  }
  const { shade } = readRecipe(tx, batch.recipeId);
  const named = new Set<number>();
  const lengthOf = (id: number) => sent.find(({ entryId }) => entryId === id)?.lengthTicks ?? 0;
  const shares = apportion(
    // Whoever is told no prices is not asked for one: it is what the page would have filled in.
    seesPrices ? (form.cost?.value ?? 0) : readDyeingLeft(tx, batch),
    rows.map(({ sent_id }) => lengthOf(sent_id)),
  );
  const working = readWorking(tx, code);
  const made = rows.map(({ place, sent_id, length, usable_width, place_id }, at) => {
    if (named.has(sent_id))
      throw invalid(`pieces.${place}.length`, 'This length stands here twice: leave one blank.');
    named.add(sent_id);
    const was = sent.find(({ entryId }) => entryId === sent_id);
    if (!was || was.back) throw conflict(notInPot(batch, was, sent));
    const worked = length.value > 0 ? working.find(({ number }) => number === was.bath) : undefined;
    if (worked) {
      throw conflict(`${worked.said} It is measured when that is done.`, {
        text: 'The bath as it is now',
        href: potPath(code, worked.number),
      });
    }
    if (length.value > MOST_GROWTH * was.lengthTicks) {
      const longest = showLength(was.lengthTicks, units, 'near');
      throw invalid(
        `pieces.${place}.length`,
        `${longest} was sent, and cloth does not come back more than a tenth longer: measure it again.`,
      );
    }
    const piece = bringBackFromDye(tx, was.entryId, {
      measuredTicks: length.value,
      typed: length.typed,
      lotId: lotOf(tx, batch, {
        clothId: was.cloth.id,
        shadeId: shade.id,
        bath: was.bath,
        code: lotCode(batch, sent, was),
      }),
      usableWidthTicks: usable_width?.value ?? was.usableWidthTicks,
      why: `${code}, to ${shade.name}`,
      dyeingMinor: shares[at] ?? 0,
      ...(place_id === null ? {} : { placeId: place_id }),
    });
    return { ...piece, lengthTicks: length.value };
  });
  return { location: batchPath(code), said: sayBack(code, made, sent.length, units, shade.name) };
}

function notInPot(batch: StoredBatch, was: SentLength | undefined, sent: readonly SentLength[]): string {
  if (was?.back) {
    const { person, at, pieceCode, lotCode } = was.back;
    return `What was sent of ${was.pieceCode} is back already, as ${pieceCode} of lot ${lotCode}: ${person}, ${showMoment(at)}.`;
  }
  const rest = sent.filter(({ back }) => back === null).length;
  return `This length is not in the pot of ${batch.code} any more; ${rest === 0 ? 'nothing' : sayLengthCount(rest)} is.`;
}

function sayBack(
  code: string,
  made: readonly { readonly code: string; readonly lengthTicks: number }[],
  sentCount: number,
  units: Units,
  shade: string,
): string {
  const good = made.filter(({ lengthTicks }) => lengthTicks > 0);
  const spoiled = made.length - good.length;
  const pieces = good.map((piece) => `${piece.code} with ${showLength(piece.lengthTicks, units, 'down')}`);
  const parts = [
    pieces.length === 0 ? '' : `Back from ${code} in ${shade}: ${pieces.join(', ')}.`,
    spoiled === 0
      ? ''
      : `${wordFor(spoiled, 'One length was', `${spoiled} lengths were`)} spoiled and written off.`,
    made.length === sentCount ? '' : 'What was left blank stays in the pot.',
  ];
  return parts.filter((part) => part !== '').join(' ');
}

/** The lot of a bath for a cloth: one a cloth, made when its first length is back and used again after undo. */
function lotOf(
  tx: Tx,
  batch: StoredBatch,
  lot: {
    readonly clothId: number;
    readonly shadeId: number;
    /** null where baths were not told apart when it was sent */
    readonly bath: number | null;
    readonly code: string;
  },
): number {
  const { clothId, shadeId, bath, code } = lot;
  const lots = tx.db.selectFrom('lot').select('id');
  const known = tx.first(
    lots.where('batch_id', '=', batch.id).where('cloth_id', '=', clothId).where('bath', 'is', bath),
  );
  if (known) return known.id;
  // A code that a mill's lot has taken is passed over.
  let free = code;
  for (let more = 2; tx.first(lots.where('code', '=', free)); more += 1) free = `${code}/${more}`;
  const { lastId } = tx.run(
    tx.db.insertInto('lot').values({
      code: free,
      cloth_id: clothId,
      shade_id: shadeId,
      origin: 'dyed',
      supplier_id: null,
      batch_id: batch.id,
      bath,
    }),
  );
  return lastId;
}

/** The batch's own code, with the bath behind it where there are several; with several cloths a number behind that. */
function lotCode({ code }: StoredBatch, sent: readonly SentLength[], { bath, cloth }: SentLength): string {
  const baths = new Set(sent.map((length) => length.bath));
  const ofBath = bath !== null && baths.size > 1 ? `${code}.${bath}` : code;
  const clothIds = [...new Set(sent.map((length) => length.cloth.id))].sort((a, b) => a - b);
  return clothIds.length > 1 ? `${ofBath}-${clothIds.indexOf(cloth.id) + 1}` : ofBath;
}

import { type DipMove, dipMoves, exposures } from '../../../src/dye/dip.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { batchPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showClock } from '../../kit/when.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readBatch, readSentLengths, stateOf } from '../batch/store.ts';
import { readRecipe } from '../recipe/store.ts';
import { DIP_MOVE, dipForm, WAY_WORDS } from './form.ts';
import { dipPath, readDip, type StoredDip } from './verbs.ts';

/** A gradient within one length: the moves to make, and those that were made. */
export function dipPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}) {
  const batch = readBatch(reader, code);
  const { recipe, shade } = readRecipe(reader, batch.recipeId);
  const state = stateOf(batch, readSentLengths(reader, batch.id));
  const dip = readDip(reader, batch.id);
  const usual = { way: 'lower-in', bands: '6', minutes: String(recipe.holdMinutes) };
  const data = {
    requestKey: mintKey(),
    code: batch.code,
    href: batchPath(batch.code),
    action: dipPath(batch.code),
    state,
    chip: shadeChip(shade),
    reactive: recipe.dyeClass === 'reactive',
    temperature: `${recipe.temperatureC} °C`,
    /** asked until it is said how the batch is dipped */
    fields: dip ? [] : Object.values(drawFields(dipForm(asker).shape, { ...usual, ...typed })),
    dip: dip ? shapeDip(dip, asker.units, typed) : null,
  };
  return {
    view: 'dye-bench/dip/dip',
    data,
    title: `Gradient of batch ${batch.code}`,
    room: 'dye-bench',
  } satisfies Page;
}

function shapeDip(dip: StoredDip, units: Units, typed: Typed) {
  const { bands, bandTicks, minutes: deepestMinutes, way, moves } = dip;
  const planned = dipMoves(way, { bands, deepestMinutes, bandTicks });
  const begun = moves[0] ? Date.parse(moves[0].at) : null;
  const next = planned[moves.length] ?? null;
  const wanted = exposures(bands, deepestMinutes);
  return {
    way: WAY_WORDS[way],
    lowered: way === 'lower-in',
    bands,
    band: showSize(bandTicks, units, 'near'),
    height: showSize(bandTicks * bands, units, 'near'),
    minutes: `${deepestMinutes} min`,
    moves: planned.map((move, at) => ({
      ...shapeMove(move, units),
      done: moves[at]
        ? `${showClock(moves[at].at)}, ${minutesAfter(begun, moves[at].at)} min, ${moves[at].person}`
        : '',
      note: moves[at]?.note ?? '',
      off: moves[at] !== undefined && moves[at].bands_under !== move.bandsUnder,
      under: moves[at]?.bands_under ?? null,
    })),
    /** moves that were made beyond the planned ones */
    more: moves
      .slice(planned.length)
      .map(
        (move) =>
          `${showClock(move.at)}: ${move.bands_under} bands under, ${move.person}${move.note === '' ? '' : `: ${move.note}`}`,
      ),
    /** minutes of each band, the palest first: as wanted and as it was */
    exposures: wanted.map((minutes, at) => ({
      band: at + 1,
      wanted: `${showMinutes(minutes)} min`,
      was: moves.at(-1)?.bands_under === 0 ? `${showMinutes(minutesUnder(dip, bands - at))} min` : '',
    })),
    /** the next move, in one tap; null where all are made */
    next: next
      ? {
          ...shapeMove(next, units),
          button: next.bandsUnder === 0 ? 'All out' : `${next.bandsUnder} under now`,
        }
      : null,
    fields: Object.values(
      drawFields(DIP_MOVE.shape, { bands_under: next ? String(next.bandsUnder) : '', ...typed }),
    ),
  };
}

function shapeMove({ atMinutes, bandsUnder, underTicks }: DipMove, units: Units) {
  return {
    at: `${showMinutes(atMinutes)} min`,
    bandsUnder,
    length: bandsUnder === 0 ? 'all out' : showSize(underTicks, units, 'near'),
  };
}

/** The minutes that the band so many from the deep end was under. */
function minutesUnder({ moves }: StoredDip, fromDeep: number): number {
  return moves.slice(0, -1).reduce((sum, move, at) => {
    const next = moves[at + 1];
    return next && move.bands_under >= fromDeep
      ? sum + (Date.parse(next.at) - Date.parse(move.at)) / 60_000
      : sum;
  }, 0);
}

function minutesAfter(begun: number | null, at: string): string {
  return showMinutes(begun === null ? 0 : (Date.parse(at) - begun) / 60_000);
}

function showMinutes(minutes: number): string {
  return showDecimal(BigInt(Math.round(minutes * 2) * 5), 1);
}

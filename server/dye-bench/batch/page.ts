import { shrinkageBp } from '../../../src/dye/bath.ts';
import type { Card } from '../../../src/dye/card.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { batchPath, lotPath, piecePath, shadePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { showDay, showMoment } from '../../kit/when.ts';
import { Refusal } from '../../refusal.ts';
import { sayShortSupplies } from '../../supplies/short-of.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { shapeOrder } from '../card/order-show.ts';
import { showCard } from '../card/show.ts';
import { bathStates } from '../pot/bath-state.ts';
import { readLog, sinceStart } from '../pot/log-store.ts';
import { withHeads } from '../pot/step.ts';
import { stillToWeigh } from '../pot/still-to-weigh.ts';
import { labelWords } from '../recipe/by-label.ts';
import { readRecipe, recipePath, type StoredRecipe } from '../recipe/store.ts';
import { swatchStandings } from '../swatch/standing.ts';
import { readPiecesToDye } from './dyeable.ts';
import { readRepeated } from './repeat-store.ts';
import {
  type BatchState,
  readBatch,
  readSentLengths,
  type SentLength,
  type StoredBatch,
  stateOf,
} from './store.ts';
import { workOutAgain } from './verbs.ts';
import { workOf } from './work.ts';

export function batchPage(reader: Reader, code: string, asker: Asker) {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const state = stateOf(batch, sent);
  const recipe = readRecipe(reader, batch.recipeId);
  const { card, trouble } = cardOf(reader, batch, state, asker.units);
  const work = card ? workOf(reader, recipe, card) : null;
  const log = sinceStart(readLog(reader, batch.id), sent);
  const states = card && work ? bathStates(card, work, log) : [];
  const data = {
    requestKey: mintKey(),
    code: batch.code,
    state,
    said: sayState(batch, state, sent),
    chip: shadeChip(recipe.shade, { href: shadePath(recipe.shade.id), large: true }),
    recipe: { name: `${recipe.name}, version ${recipe.version}`, href: recipePath(recipe.id) },
    byLabel: labelWords(recipe),
    due: batch.dueOn === null ? '' : showDay(batch.dueOn),
    note: batch.note,
    /** what the bench is told, in words and in plain figures; null where it cannot be worked out */
    card: card
      ? { ...showCard(card, asker.units), ...(work ? { cautions: withHeads(work.cautions) } : {}) }
      : null,
    figures: card,
    /** the order of work, with the clock of each bath; null where there is no card */
    order: card && work ? shapeOrder(card, work, sent.length > 0 ? states : []) : null,
    repeats: readRepeated(reader, batch.id),
    /** the swatch of each lot that goes in, and the way to it or to a new one; none once it is back */
    swatches: state === 'done' ? [] : swatchesOf(reader, recipe, card),
    /** how the shade was judged last; '' where it is not yet */
    verdict: log.findLast(({ kind }) => kind === 'result')?.what ?? '',
    /** supplies that have too little for what is still to be weighed */
    shortOf:
      card && (state === 'planned' || state === 'in the pot')
        ? sayShortSupplies(reader, stillToWeigh(reader, { code, stored: recipe, card }, states), asker)
        : [],
    /** why a planned batch cannot be worked out as things stand */
    trouble,
    back: sent.flatMap((length) => (length.back ? [backRow(length, length.back, asker.units)] : [])),
    /** how many lengths are in the pot still */
    inPot: sent.filter(({ back }) => back === null).length,
    /** where each thing that can be done now is done; '' where it cannot */
    ways: waysOf(
      batch.code,
      state,
      { works: card !== null, starts: trouble.length === 0 },
      { recipeId: recipe.followedById ?? recipe.id, shadeId: recipe.shade.id },
    ),
  };
  return {
    view: 'dye-bench/batch/batch',
    data,
    title: `Batch ${batch.code}`,
    room: 'dye-bench',
  } satisfies Page;
}

function swatchesOf(reader: Reader, recipe: StoredRecipe, card: Card | null) {
  const codes = card?.pieces.map((piece) => piece.code) ?? [];
  return swatchStandings(reader, recipe, readPiecesToDye(reader, codes)).map(
    ({ lot, said, href, approved }) => ({ lot, said, href, approved }),
  );
}

/**
 * Before a start the card is worked out afresh, with what stands in the way of starting; from then on it stays as the
 * bench was told it.
 */
export function cardOf(
  reader: Reader,
  batch: StoredBatch,
  state: BatchState,
  units: Units,
): { card: Card | null; trouble: readonly string[] } {
  if (state === 'in the pot' || state === 'done') return { card: batch.card, trouble: [] };
  try {
    const { card, lengths } = workOutAgain(reader, batch);
    const show = (ticks: number) => showLength(ticks, units, 'down');
    const trouble = lengths
      .filter(({ piece, lengthTicks }) => lengthTicks > piece.freeTicks)
      .map(
        ({ piece, lengthTicks }) =>
          `${show(lengthTicks)} of ${piece.code} is wanted, and ${show(piece.freeTicks)} of it is free now.`,
      );
    return { card, trouble };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { card: null, trouble: error.problems.map(({ message }) => message) };
  }
}

export function sayState(batch: StoredBatch, state: BatchState, sent: readonly SentLength[]): string {
  const [first] = sent;
  const planned = `Planned by ${batch.plannedBy}, ${showMoment(batch.plannedAt)}.`;
  const started = first ? `Started by ${first.person}, ${showMoment(first.at)}.` : '';
  switch (state) {
    case 'planned':
      return `${planned} Nothing is sent, and its lengths are free for others until it starts.`;
    case 'cancelled':
      return `${planned} Cancelled by ${batch.cancelledBy ?? 'somebody'}, ${showMoment(batch.cancelledAt ?? batch.plannedAt)}.`;
    case 'in the pot': {
      const out = sent.filter(({ back }) => back === null).length;
      return out === sent.length
        ? started
        : `${started} ${out} of ${sent.length} lengths are in the pot still.`;
    }
    case 'done': {
      const last = sent.flatMap(({ back }) => back ?? []).sort((a, b) => (a.at < b.at ? 1 : -1))[0];
      return `${started} All back: ${last ? `${last.person}, ${showMoment(last.at)}.` : ''}`;
    }
  }
}

function backRow(sent: SentLength, back: NonNullable<SentLength['back']>, units: Units) {
  const spoiled = back.measuredTicks === 0;
  return {
    from: { code: sent.pieceCode, href: piecePath(sent.pieceCode) },
    piece: { code: back.pieceCode, href: piecePath(back.pieceCode) },
    lot: { code: back.lotCode, href: lotPath(back.lotCode) },
    cloth: sent.cloth.name,
    sent: showLength(sent.lengthTicks, units, 'near'),
    measured: showLength(back.measuredTicks, units, 'near'),
    spoiled,
    shrunk: spoiled ? '' : sayShrinkage(shrinkageBp(sent.lengthTicks, back.measuredTicks)),
    when: showMoment(back.at),
  };
}

/** Shrinkage in hundredths of a percent, in words. */
export function sayShrinkage(bp: number): string {
  return bp < 0 ? `grew ${showPercent(-bp)}` : showPercent(bp);
}

function waysOf(
  code: string,
  state: BatchState,
  { works, starts }: { readonly works: boolean; readonly starts: boolean },
  { recipeId, shadeId }: { readonly recipeId: number; readonly shadeId: number },
) {
  const path = batchPath(code);
  return {
    start: state === 'planned' && works && starts ? `${path}/starts` : '',
    cancel: state === 'planned' ? `${path}/cancellations` : '',
    putBack: state === 'cancelled' ? `${path}/returns` : '',
    finish: state === 'in the pot' ? `${path}/finish` : '',
    bench: works && (state === 'planned' || state === 'in the pot') ? `${path}/bench` : '',
    again: `/dye-bench/batches/new?recipe_id=${recipeId}`,
    record: state === 'in the pot' || state === 'done' ? `${path}/record` : '',
    batchCard: state === 'in the pot' || state === 'done' ? `${path}/card` : '',
    repeat: state === 'in the pot' || state === 'done' ? `${path}/repeat` : '',
    addition: state === 'in the pot' ? `${path}/addition` : '',
    /** once it is back: a batch of its own from the dyed pieces, to bring the shade up */
    dyeOver: state === 'done' ? address('/dye-bench/batches/new', { shade: shadeId, over: 'yes' }) : '',
    correction: state === 'in the pot' || state === 'done' ? `${path}/correction` : '',
    tag: works ? `${path}/tag` : '',
    dip: state === 'cancelled' ? '' : `${path}/dip`,
  };
}

import { shrinkageBp } from '../../../src/dye/bath.ts';
import type { Card } from '../../../src/dye/card.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { batchPath, lotPath, piecePath, shadePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { showDay, showMoment } from '../../kit/when.ts';
import { Refusal } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type ShownOrder, shapeOrder } from '../card/order-show.ts';
import { type ShownCard, showCard } from '../card/show.ts';
import { bathStates } from '../pot/bath-state.ts';
import { readLog, sinceStart } from '../pot/log-store.ts';
import { recipePath } from '../recipe/making.ts';
import { readRecipe } from '../recipe/store.ts';
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

export interface BatchPageData {
  readonly requestKey: string;
  readonly code: string;
  readonly state: BatchState;
  /** the state in a sentence, with who and when */
  readonly said: string;
  readonly chip: Chip;
  readonly recipe: { readonly name: string; readonly href: string };
  readonly due: string;
  readonly note: string;
  /** what the bench is told, in words and in plain figures; null where it cannot be worked out */
  readonly card: ShownCard | null;
  readonly figures: Card | null;
  /** the order of work, with the clock of each bath; null where there is no card */
  readonly order: ShownOrder | null;
  readonly repeats: { readonly code: string; readonly href: string } | null;
  /** how the shade was judged last; '' where it is not yet */
  readonly verdict: string;
  /** why a planned batch cannot be worked out as things stand */
  readonly trouble: readonly string[];
  readonly back: readonly BackRow[];
  /** how many lengths are in the pot still */
  readonly inPot: number;
  /** where each thing that can be done now is done; '' where it cannot */
  readonly ways: {
    readonly start: string;
    readonly cancel: string;
    readonly putBack: string;
    readonly finish: string;
    readonly bench: string;
    readonly again: string;
    /** what was done, and what of it can be had again or brought up */
    readonly record: string;
    readonly repeat: string;
    readonly addition: string;
    /** once it is back: a batch of its own from the dyed pieces, to bring the shade up */
    readonly dyeOver: string;
    readonly tag: string;
  };
}

export interface BackRow {
  readonly from: { readonly code: string; readonly href: string };
  readonly piece: { readonly code: string; readonly href: string };
  readonly lot: { readonly code: string; readonly href: string };
  readonly cloth: string;
  readonly sent: string;
  readonly measured: string;
  readonly spoiled: boolean;
  /** "2.5 %"; '' for a spoiled length */
  readonly shrunk: string;
  readonly when: string;
}

export function batchPage(reader: Reader, code: string, asker: Asker): Page {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const data = shapeBatch(reader, batch, sent, asker);
  return { view: 'dye-bench/batch/batch', data, title: `Batch ${batch.code}`, room: 'dye-bench' };
}

function shapeBatch(
  reader: Reader,
  batch: StoredBatch,
  sent: readonly SentLength[],
  asker: Asker,
): BatchPageData {
  const state = stateOf(batch, sent);
  const recipe = readRecipe(reader, batch.recipeId);
  const { card, trouble } = cardOf(reader, batch, state, asker.units);
  const work = card ? workOf(reader, recipe, card) : null;
  const log = sinceStart(readLog(reader, batch.id), sent);
  return {
    requestKey: mintKey(),
    code: batch.code,
    state,
    said: sayState(batch, state, sent),
    chip: shadeChip(recipe.shade, { href: shadePath(recipe.shade.id), large: true }),
    recipe: { name: `${recipe.name}, version ${recipe.version}`, href: recipePath(recipe.id) },
    due: batch.dueOn === null ? '' : showDay(batch.dueOn),
    note: batch.note,
    card: card ? { ...showCard(card, asker.units), ...(work ? { cautions: work.cautions } : {}) } : null,
    figures: card,
    order: card && work ? shapeOrder(card, work, sent.length > 0 ? bathStates(card, work, log) : []) : null,
    repeats: readRepeated(reader, batch.id),
    verdict: log.findLast(({ kind }) => kind === 'result')?.what ?? '',
    trouble,
    back: sent.flatMap((length) => (length.back ? [backRow(length, length.back, asker.units)] : [])),
    inPot: sent.filter(({ back }) => back === null).length,
    ways: waysOf(
      batch.code,
      state,
      { works: card !== null, starts: trouble.length === 0 },
      { recipeId: recipe.followedById ?? recipe.id, shadeId: recipe.shade.id },
    ),
  };
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

function backRow(sent: SentLength, back: NonNullable<SentLength['back']>, units: Units): BackRow {
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
): BatchPageData['ways'] {
  const path = batchPath(code);
  return {
    start: state === 'planned' && works && starts ? `${path}/starts` : '',
    cancel: state === 'planned' ? `${path}/cancellations` : '',
    putBack: state === 'cancelled' ? `${path}/returns` : '',
    finish: state === 'in the pot' ? `${path}/finish` : '',
    bench: works && (state === 'planned' || state === 'in the pot') ? `${path}/bench` : '',
    again: `/dye-bench/batches/new?recipe_id=${recipeId}`,
    record: state === 'in the pot' || state === 'done' ? `${path}/record` : '',
    repeat: state === 'in the pot' || state === 'done' ? `${path}/repeat` : '',
    addition: state === 'in the pot' ? `${path}/addition` : '',
    dyeOver: state === 'done' ? address('/dye-bench/batches/new', { shade: shadeId, over: 'yes' }) : '',
    tag: works ? `${path}/tag` : '',
  };
}

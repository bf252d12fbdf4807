import type { Reader } from '../database/book.ts';
import { batchPath } from '../shelf/address.ts';
import { type Chip, shadeChip } from '../shelf/chip.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page.ts';
import { mintKey } from '../web/request-key.ts';
import { cardOf, sayState } from './batch-page.ts';
import { type BatchState, readBatch, readSentLengths, stateOf } from './batch-store.ts';
import { type ShownCard, showCard } from './card-show.ts';
import { readRecipe } from './recipe-store.ts';

export interface BatchBenchData {
  readonly requestKey: string;
  readonly code: string;
  readonly state: BatchState;
  readonly said: string;
  readonly chip: Chip;
  readonly card: ShownCard | null;
  readonly trouble: readonly string[];
  readonly cardHref: string;
  /** '' where the batch cannot be started or finished now */
  readonly start: string;
  readonly finish: string;
}

/** A batch for wet hands: the cautions, then the amounts of one bath, large, and the one thing to do next. */
export function batchBenchPage(reader: Reader, code: string, asker: Asker): Page {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const state = stateOf(batch, sent);
  const { card, trouble } = cardOf(reader, batch, state, asker.units);
  const path = batchPath(batch.code);
  const data: BatchBenchData = {
    requestKey: mintKey(),
    code: batch.code,
    state,
    said: sayState(batch, state, sent),
    chip: shadeChip(readRecipe(reader, batch.recipeId).shade),
    card: card ? showCard(card, asker.units) : null,
    trouble,
    cardHref: path,
    start: state === 'planned' && card && trouble.length === 0 ? `${path}/starts` : '',
    finish: state === 'in the pot' ? `${path}/finish` : '',
  };
  return { view: 'dye-bench/bench', data, title: `Batch ${batch.code}`, room: 'dye-bench' };
}

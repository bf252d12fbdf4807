import { deltaE00, type Lab, labToScreen } from '../../../src/colour/lab.ts';
import { shrinkageBp } from '../../../src/dye/bath.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { type Chip, type ShadeColour, shadeChip } from '../../kit/chip.ts';
import { batchPath, lotPath, piecePath, shadePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showDay, showMoment } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { HOW_WORDS, type LabHow } from '../../shelf/shade/form.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { cardOf, sayShrinkage, sayState } from '../batch/page.ts';
import { otherLots, readRepeated } from '../batch/repeat-store.ts';
import { type BatchState, readBatch, readSentLengths, type SentLength, stateOf } from '../batch/store.ts';
import { workOf } from '../batch/work.ts';
import { showGrams } from '../card/amounts-show.ts';
import { showUl } from '../card/volumes.ts';
import { bathStates } from '../pot/bath-state.ts';
import { type LogRow, readLog, sinceStart } from '../pot/log-store.ts';
import { type RecipeFigure, recipeFigures } from '../recipe/figures.ts';
import { recipePath } from '../recipe/making.ts';
import { readRecipe } from '../recipe/store.ts';
import { type BathRecord, shapeBathRecord } from './bath-record.ts';

export interface RecordPageData {
  readonly requestKey: string;
  readonly code: string;
  readonly href: string;
  readonly action: string;
  readonly state: BatchState;
  readonly said: string;
  readonly chip: Chip;
  readonly recipe: { readonly name: string; readonly href: string };
  readonly figures: readonly RecipeFigure[];
  readonly due: string;
  readonly note: string;
  /** the batch that it repeats, and the dyes whose lot is another than there */
  readonly repeats: {
    readonly code: string;
    readonly href: string;
    readonly otherLots: readonly string[];
  } | null;
  readonly mass: string;
  readonly bath: string;
  readonly vessel: string;
  readonly cloth: readonly {
    readonly piece: { readonly code: string; readonly href: string };
    readonly cloth: string;
    readonly sent: string;
    /** '' while the length is in the pot */
    readonly back: string;
    readonly lot: { readonly code: string; readonly href: string } | null;
    readonly measured: string;
    readonly shrunk: string;
  }[];
  readonly baths: readonly BathRecord[];
  readonly swatches: readonly Swatch[];
  readonly results: readonly {
    readonly id: number;
    readonly result: string;
    readonly note: string;
    readonly when: string;
  }[];
  readonly notes: readonly { readonly id: number; readonly note: string; readonly when: string }[];
  readonly deviations: number;
  readonly typed: Readonly<
    Record<'result' | 'result_note' | 'side' | 'l' | 'a' | 'b' | 'how' | 'swatch_note' | 'note', string>
  >;
}

export interface Swatch {
  readonly id: number;
  readonly side: string;
  readonly chip: Chip | null;
  /** "L* 41.5, a* 12, b* −3, measured with an instrument"; '' where only a note was kept */
  readonly lab: string;
  /** ΔE00 to the shade that was wanted; '' where one of the two has no value */
  readonly difference: string;
  readonly note: string;
  readonly when: string;
}

/** The whole record of a batch: what was wanted, what was done, what came of it. Two pages in print. */
export function recordPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}): Page {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const state = stateOf(batch, sent);
  const stored = readRecipe(reader, batch.recipeId);
  const { card } = cardOf(reader, batch, state, asker.units);
  const log = sinceStart(readLog(reader, batch.id), sent);
  const states = card && sent.length > 0 ? bathStates(card, workOf(reader, stored, card), log) : [];
  const { balanceMg } = readWorkroom(reader);
  const baths = states.map((each) =>
    shapeBathRecord(
      each,
      wordFor(states.length, 'The bath', `Bath ${each.number}`),
      stored.recipe,
      balanceMg,
    ),
  );
  const repeated = readRepeated(reader, batch.id);
  const of = (kind: LogRow['kind']) => log.filter((row) => row.bath === 0 && row.kind === kind);
  const cell = (name: keyof RecordPageData['typed']) => typed[name] ?? '';
  const data: RecordPageData = {
    requestKey: mintKey(),
    code: batch.code,
    href: batchPath(batch.code),
    action: batchPath(batch.code),
    state,
    said: sayState(batch, state, sent),
    chip: shadeChip(stored.shade, { href: shadePath(stored.shade.id) }),
    recipe: { name: `${stored.name}, version ${stored.version}`, href: recipePath(stored.id) },
    figures: recipeFigures(stored.recipe),
    due: batch.dueOn === null ? '' : showDay(batch.dueOn),
    note: batch.note,
    repeats: repeated ? { ...repeated, otherLots: otherLots(log, readLog(reader, repeated.id)) } : null,
    mass: card ? showGrams(card.massMg) : '',
    bath: card ? showUl(card.bath.volumeUl) : '',
    vessel: batch.vessel.name,
    cloth: sent.map((length) => shapeCloth(length, asker)),
    baths,
    swatches: of('swatch').map((row) => shapeSwatch(row, stored.shade)),
    results: of('result').map(({ id, what, note, at, person }) => ({
      id,
      result: what,
      note,
      when: `${person}, ${showMoment(at)}`,
    })),
    notes: of('note').map(({ id, note, at, person }) => ({ id, note, when: `${person}, ${showMoment(at)}` })),
    deviations: baths.reduce((sum, { deviations }) => sum + deviations.length, 0),
    typed: {
      result: cell('result'),
      result_note: cell('result_note'),
      side: cell('side'),
      l: cell('l'),
      a: cell('a'),
      b: cell('b'),
      how: cell('how'),
      swatch_note: cell('swatch_note'),
      note: cell('note'),
    },
  };
  return { view: 'dye-bench/record/record', data, title: `Record of batch ${batch.code}`, room: 'dye-bench' };
}

function shapeCloth(sent: SentLength, { units }: Asker): RecordPageData['cloth'][number] {
  const { back } = sent;
  return {
    piece: { code: sent.pieceCode, href: piecePath(sent.pieceCode) },
    cloth: sent.cloth.name,
    sent: showLength(sent.lengthTicks, units, 'near'),
    back: back?.pieceCode ?? '',
    lot: back ? { code: back.lotCode, href: lotPath(back.lotCode) } : null,
    measured: back
      ? back.measuredTicks === 0
        ? 'spoiled, written off'
        : showLength(back.measuredTicks, units, 'near')
      : 'in the pot',
    shrunk:
      back && back.measuredTicks > 0 ? sayShrinkage(shrinkageBp(sent.lengthTicks, back.measuredTicks)) : '',
  };
}

function shapeSwatch(row: LogRow, shade: ShadeColour): Swatch {
  const { lab } = row;
  const { lab_l: l, lab_a: a, lab_b: b } = shade;
  const wanted: Lab | null = l === null || a === null || b === null ? null : { l, a, b };
  return {
    id: row.id,
    side: row.what,
    chip: lab ? { colour: labToScreen(lab), name: `${row.what} dyeing` } : null,
    lab: lab
      ? `L* ${figure(lab.l)}, a* ${figure(lab.a)}, b* ${figure(lab.b)}, ${HOW_WORDS[lab.how as LabHow]}`
      : '',
    difference:
      lab && wanted && row.what === 'after'
        ? `ΔE00 ${showDecimal(BigInt(Math.round(deltaE00(lab, wanted) * 10)), 1)} to ${shade.name}`
        : '',
    note: row.note,
    when: `${row.person}, ${showMoment(row.at)}`,
  };
}

function figure(value: number): string {
  return showDecimal(BigInt(Math.round(value * 100)), 2);
}

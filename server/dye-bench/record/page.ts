import { sayViewing } from '../../../src/colour/colour-reading.ts';
import { deltaE00, type Lab, labToScreen } from '../../../src/colour/lab.ts';
import { shrinkageBp } from '../../../src/dye/bath.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { type ShadeColour, shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { grouped } from '../../kit/grouped.ts';
import { batchPath, lotPath, piecePath, shadePath, togetherPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showDay, showMoment } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { viewingValue } from '../../shelf/colour/fields.ts';
import { readUsualViewing } from '../../shelf/colour/readings.ts';
import { readLotEvidence } from '../../shelf/lot/store.ts';
import { shapeSets } from '../../shelf/photo/pages.ts';
import { readPhotoSetsOfBatch } from '../../shelf/photo/store.ts';
import { HOW_WORDS, type LabHow } from '../../shelf/shade/form.ts';
import { colourOf } from '../../shelf/shade/store.ts';
import { sayTogether } from '../../shelf/together/how-sure.ts';
import { shapeAgainstTarget } from '../../shelf/together/target.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { cardOf, sayShrinkage, sayState } from '../batch/page.ts';
import { otherLots, readRepeated } from '../batch/repeat-store.ts';
import { readBatch, readSentLengths, type SentLength, stateOf } from '../batch/store.ts';
import { workOf } from '../batch/work.ts';
import { showGrams } from '../card/amounts-show.ts';
import { showUl } from '../card/volumes.ts';
import { bathStates } from '../pot/bath-state.ts';
import { NOTE } from '../pot/log-forms.ts';
import { type LogRow, readLog, sinceStart } from '../pot/log-store.ts';
import { sayFigures } from '../recipe/figures.ts';
import { readRecipe, recipePath } from '../recipe/store.ts';
import { shapeBathRecord } from './bath-record.ts';
import { RESULT, SWATCH_FIELDS } from './forms.ts';

export type RecordPageData = ReturnType<typeof recordPage>['data'];

/** The whole record of a batch: what was wanted, what was done, what came of it. Two pages in print. */
export function recordPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}) {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const state = stateOf(batch, sent);
  const stored = readRecipe(reader, batch.recipeId);
  const { card } = cardOf(reader, batch, state, asker.units);
  const log = sinceStart(readLog(reader, batch.id), sent);
  const states = card && sent.length > 0 ? bathStates(card, workOf(reader, stored, card), log) : [];
  const { balanceMg } = readWorkroom(reader);
  const baths = states.flatMap((each) =>
    card
      ? [shapeBathRecord(each, wordFor(states.length, 'The bath', `Bath ${each.number}`), card, balanceMg)]
      : [],
  );
  const repeated = readRepeated(reader, batch.id);
  const of = (kind: LogRow['kind']) => log.filter((row) => row.bath === 0 && row.kind === kind);
  const data = {
    requestKey: mintKey(),
    code: batch.code,
    href: batchPath(batch.code),
    action: batchPath(batch.code),
    state,
    said: sayState(batch, state, sent),
    chip: shadeChip(stored.shade, { href: shadePath(stored.shade.id) }),
    recipe: { name: `${stored.name}, version ${stored.version}`, href: recipePath(stored.id) },
    figures: sayFigures(card ? card.recipe : stored.recipe),
    due: batch.dueOn === null ? '' : showDay(batch.dueOn),
    note: batch.note,
    /** the batch that it repeats, and the dyes whose lot is another than there */
    repeats: repeated ? { ...repeated, otherLots: otherLots(log, readLog(reader, repeated.id)) } : null,
    mass: card ? showGrams(card.massMg) : '',
    bath: card ? showUl(card.bath.volumeUl) : '',
    vessel: batch.vessel.name,
    cloth: sent.map((length) => shapeCloth(length, asker)),
    baths,
    /** what came out against the shade that was wanted, and bath against bath */
    against: shapeAgainst(reader, batch.id, stored),
    photos: shapeSets(reader, readPhotoSetsOfBatch(reader, batch.id)),
    swatches: of('swatch').map((row) => shapeSwatch(row, stored.shade)),
    results: of('result').map(({ id, what, note, at, person }) => ({
      id,
      result: what,
      note,
      when: `${person}, ${showMoment(at)}`,
    })),
    notes: of('note').map(({ id, note, at, person }) => ({ id, note, when: `${person}, ${showMoment(at)}` })),
    /** whether there is anything of its baths to compare */
    isLogged: log.some(({ bath }) => bath > 0),
    deviations: baths.reduce((sum, { deviations }) => sum + deviations.length, 0),
    fields: drawFields(
      { ...RESULT.shape, ...SWATCH_FIELDS, ...NOTE.shape },
      {
        viewing: viewingValue(readUsualViewing(reader)),
        ...typed,
      },
    ),
  };
  return {
    view: 'dye-bench/record/record',
    data,
    title: `Record of batch ${batch.code}`,
    room: 'dye-bench',
  } satisfies Page;
}

const lotsOfBatch = prepared((db, batchId: Param<number>) =>
  db
    .selectFrom('lot')
    .select(['id', 'code', 'cloth_id as clothId', 'shade_id as shadeId'])
    .where('batch_id', '=', batchId)
    .where('joined_to_id', 'is', null)
    .orderBy('id'),
);
const colourOfShade = prepared((db, shadeId: Param<number>) =>
  db.selectFrom('shade').selectAll().where('id', '=', shadeId),
);

function shapeAgainst(reader: Reader, batchId: number, { shade }: ReturnType<typeof readRecipe>) {
  const lots = reader.all(lotsOfBatch(batchId));
  const row = reader.first(colourOfShade(shade.id));
  const colour = row ? colourOf(row) : null;
  const target = { id: shade.id, name: shade.name, colour: colour && { ...colour, ...colour.viewing } };
  const byCloth = [...grouped(lots, ({ clothId }) => clothId).values()].filter((of) => of.length > 1);
  return {
    shade: shade.name,
    lots: shapeAgainstTarget(reader, lots, target),
    /** baths of one cloth against each other, a line each */
    baths: byCloth.map((of) => ({
      said: sayTogether(
        readLotEvidence(
          reader,
          of.map(({ id }) => id),
        ),
        of,
      ),
      href: togetherPath({ clothId: of[0]?.clothId ?? 0, shadeId: of[0]?.shadeId ?? 0 }),
    })),
  };
}

function shapeCloth(sent: SentLength, { units }: Asker) {
  const { back } = sent;
  return {
    piece: { code: sent.pieceCode, href: piecePath(sent.pieceCode) },
    cloth: sent.cloth.name,
    sent: showLength(sent.lengthTicks, units, 'near'),
    /** '' while the length is in the pot */
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

function shapeSwatch(row: LogRow, shade: ShadeColour) {
  const { lab } = row;
  const { lab_l: l, lab_a: a, lab_b: b } = shade;
  const wanted: Lab | null = l === null || a === null || b === null ? null : { l, a, b };
  return {
    id: row.id,
    side: row.what,
    chip: lab ? { colour: labToScreen(lab), name: `${row.what} dyeing` } : null,
    /** '' where only a note was kept */
    lab: lab
      ? `L* ${figure(lab.l)}, a* ${figure(lab.a)}, b* ${figure(lab.b)} (${sayViewing(lab)}), ${HOW_WORDS[lab.how as LabHow]}`
      : '',
    /** ΔE00 to the shade that was wanted; '' where one of the two has no value */
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

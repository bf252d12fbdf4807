import { sql } from 'kysely';
import type { Taking } from '../../src/fit/take.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import { writeLength } from '../../src/quantity/written-length.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { address } from '../kit/address.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { clothPath, lotPath, piecePath, shadePath, togetherPath } from '../kit/paths.ts';
import type { Typed } from '../kit/typed.ts';
import { lengthUnit } from '../kit/units.ts';
import { orProblems, type Problem } from '../refusal.ts';
import { type LengthsOf, shapeLengths } from '../shelf/lengths.ts';
import { readLotEvidence } from '../shelf/lot/store.ts';
import { readClothNames, readLotCodes, readShadeNames } from '../shelf/names.ts';
import { drawNewUse } from '../shelf/piece/other-use-form.ts';
import { sayTogether } from '../shelf/together/how-sure.ts';
import { readComing, readLengths } from '../short/lengths.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readForm } from '../web/post.ts';
import { answerTake, type TakeAnswer } from './answer.ts';
import { curesOfTake } from './cures.ts';
import {
  askOf,
  hasWords,
  isQuestion,
  readAsk,
  shadeText,
  type TakeForm,
  type TakeQuestion,
  takeFields,
  takeForm,
} from './form.ts';
import { drawTierHold } from './hold.ts';
import { type PieceCodes, sayAfter, sayAnswer, sayAsk, sayFlaws, sayMore } from './words.ts';

// Every cloth of a shade, or every shade of a cloth: more are narrowed by asking for both.
const MOST_ANSWERS = 60;

/** "Can I take?": so much of this, without breaking what is promised or needed. */
export function takePage(reader: Reader, asker: Asker, query: Typed) {
  const { units } = asker;
  const typed = query.ask ? { ...query, ask: '', ...readAsk(reader, query.ask, units) } : query;
  const { value: form, problems } = orProblems(() => readForm(takeForm(reader, units), typed));
  const asked = form && isQuestion(form) ? form : null;
  const of = asked ? readCandidates(reader, asked) : [];
  const missing = form ? whatIsMissing(form, of, query.ask ?? '', units) : [];
  const found = asked && missing.length === 0 ? answersTo(reader, asked, of, asker) : null;
  const data = {
    fields: drawFields(takeFields(reader, units), typed),
    ...(found ?? { said: '', answer: null, others: [], leftOut: 0 }),
    /** the question, to keep */
    link: found && asked ? linkTo(asked, units) : '',
  };
  const shown: { problems?: readonly Problem[] } =
    problems.length + missing.length > 0 ? { problems: [...problems, ...missing] } : {};
  return {
    view: 'take/take',
    data,
    title: 'Can I take?',
    room: 'shelf',
    saves: false,
    ...shown,
  } satisfies Page;
}

function linkTo(form: TakeQuestion, units: Units): string {
  return address('/take', askOf(form, { clothId: form.cloth, shadeId: form.shade }, units));
}

/** What keeps a question from being answered; where nobody said how much yet, none was asked. */
function whatIsMissing(form: TakeForm, of: readonly ClothShade[], text: string, units: Units): Problem[] {
  if (text !== '' && form.wanted === null)
    return [
      { field: 'length', message: `Say how much of “${text}”, such as “3 ${lengthUnit(units)} ${text}”.` },
    ];
  const isNamed = form.cloth !== null || form.shade !== null;
  if (form.ask !== '' && !isNamed && of.length === 0)
    return [{ field: 'shade', message: `No cloth or shade is called “${form.ask}”: choose them.` }];
  return form.wanted !== null && !isNamed && form.ask === ''
    ? [{ field: 'cloth', message: 'Choose a cloth, a shade, or both.' }]
    : [];
}

function answersTo(reader: Reader, form: TakeQuestion, of: readonly ClothShade[], asker: Asker) {
  const { units } = asker;
  const answers = answerTake(reader, of.slice(0, MOST_ANSWERS), form.wanted, form.lots);
  const [only] = answers;
  const wanted = sayAsk(form.wanted, units, form.lots);
  const names = readNames(reader, answers);
  const codes = readPieceCodes(
    reader,
    answers.flatMap(({ takings, joined }) => [...takings, ...(joined ?? [])]),
  );
  if (of.length === 1 && only) {
    const named = nameOf(names, only);
    const answer = shapeAnswer(reader, only, { ...named, codes }, form, asker);
    return { said: `${wanted} of ${named.cloth.name}, ${named.chip.name}`, answer, others: [], leftOut: 0 };
  }
  const others = answers.map((answer) => ({
    ...nameOf(names, answer),
    may: answer.may,
    said: sayAnswer(answer, codes, form, units),
    href: address('/take', askOf(form, answer, units)),
  }));
  const isByWords = form.cloth === null && form.shade === null;
  return {
    said: isByWords ? `${wanted} of “${form.ask}”` : wanted,
    answer: null,
    others: others.sort((a, b) => rank(a.may) - rank(b.may)),
    /** cloths and shades that are not answered for, being too many */
    leftOut: of.length - answers.length,
  };
}

function rank(may: TakeAnswer['may']): number {
  return ['spare', 'perhaps', 'costs', 'no'].indexOf(may);
}

/**
 * The cloths and shades that are meant: both where both are chosen, else what is on the shelf, comes, or was on the
 * shelf, in this order.
 */
function readCandidates(reader: Reader, { cloth, shade, ask }: TakeQuestion): ClothShade[] {
  if (cloth !== null && shade !== null) return [{ clothId: cloth, shadeId: shade }];
  const of = { ...(cloth === null ? {} : { clothId: cloth }), ...(shade === null ? {} : { shadeId: shade }) };
  const lots = readLotPairs(reader, of);
  const pairs = [
    ...lots.filter(({ onHand }) => onHand),
    ...readComing(reader, of),
    ...lots.filter(({ onHand }) => !onHand),
  ].map(({ clothId, shadeId }) => ({ clothId, shadeId }));
  const distinct = [...new Map(pairs.map((pair) => [needKey(pair), pair])).values()];
  return cloth !== null || shade !== null || ask === ''
    ? distinct
    : withWords(reader, distinct, ask.split(/\s+/));
}

function withWords(reader: Reader, pairs: readonly ClothShade[], words: readonly string[]): ClothShade[] {
  const cloths = readClothNames(
    reader,
    pairs.map(({ clothId }) => clothId),
  );
  const shades = readShadeNames(reader);
  return pairs.filter(({ clothId, shadeId }) => {
    const shade = shades.get(shadeId);
    return shade && hasWords(`${cloths.get(clothId)?.name} ${shadeText(shade)}`, words);
  });
}

function readLotPairs(reader: Reader, { clothId, shadeId }: LengthsOf) {
  const rows = reader.all(
    reader.db
      .selectFrom('lot')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select([
        'lot.cloth_id as clothId',
        'lot.shade_id as shadeId',
        sql<number>`max(exists (select 1 from piece where lot_id = lot.id and on_hand_ticks > 0))`.as(
          'onHand',
        ),
      ])
      .$if(clothId !== undefined, (of) => of.where('lot.cloth_id', '=', clothId ?? 0))
      .$if(shadeId !== undefined, (of) => of.where('lot.shade_id', '=', shadeId ?? 0))
      .groupBy(['lot.cloth_id', 'lot.shade_id'])
      .orderBy('cloth.name')
      .orderBy('shade.name'),
  );
  return rows.map((row) => ({ ...row, onHand: row.onHand === 1 }));
}

type Names = ReturnType<typeof readNames>;

function readNames(reader: Reader, of: readonly ClothShade[]) {
  const cloths = readClothNames(
    reader,
    of.map(({ clothId }) => clothId),
  );
  return { cloths, shades: readShadeNames(reader) };
}

function nameOf({ cloths, shades }: Names, { clothId, shadeId }: ClothShade) {
  const shade = shades.get(shadeId);
  return {
    cloth: { name: cloths.get(clothId)?.name ?? '', href: clothPath(clothId) },
    chip: { colour: shade?.colour ?? null, name: shade?.name ?? '', href: shadePath(shadeId) },
  };
}

function shapeAnswer(
  reader: Reader,
  answer: TakeAnswer,
  { cloth, chip, codes }: ReturnType<typeof nameOf> & { readonly codes: PieceCodes },
  form: TakeQuestion,
  asker: Asker,
) {
  const { units } = asker;
  const lengths = readLengths(reader, answer);
  return {
    cloth,
    chip,
    may: answer.may,
    said: sayAnswer(answer, codes, form, units),
    lost: answer.lost.map((lost) => ({
      text: `${lost.garmentCode} ${lost.garmentName}: ${lost.tierName} would be short of ${sayMore(lost.strips)}`,
      href: lost.href,
    })),
    takings: answer.takings.flatMap((taking) => {
      const code = codes.get(taking.pieceId);
      if (!code) return [];
      return [
        {
          code: code.piece,
          href: piecePath(code.piece),
          lot: { code: code.lot, href: lotPath(code.lot) },
          length: showLength(taking.lengthTicks, units, 'up'),
          after: sayAfter(taking, units),
          flaws: sayFlaws(taking, units),
          flawsHref: `${piecePath(code.piece)}/flaws`,
          use: drawNewUse(
            reader,
            { code: code.piece, free: showLength(taking.lengthTicks + taking.freeAfterTicks, units, 'down') },
            asker,
            { length: writeLength(taking.lengthTicks, units) },
          ),
          /** holds it for a tier; null where none wants it */
          tierHold: drawTierHold(reader, answer, asker, {
            action: address('/take/holds', askOf(form, answer, units)),
            piece: code.piece,
            length: writeLength(taking.lengthTicks, units),
          }),
        },
      ];
    }),
    cures: answer.may === 'spare' ? [] : curesOfTake(reader, answer, { codes, lengths }, form, units),
    lengths: shapeLengths(lengths, units),
    /** whether the lots that it comes from may be sewn together; '' of one lot */
    together: sayTogetherTaken(reader, answer.takings),
    togetherHref: togetherPath(answer),
  };
}

function sayTogetherTaken(reader: Reader, takings: readonly Taking[]): string {
  const lotIds = [...new Set(takings.map(({ lotId }) => lotId))];
  const codes = readLotCodes(reader, lotIds);
  return sayTogether(
    readLotEvidence(reader, lotIds),
    lotIds.map((id) => ({ id, code: codes.get(id) ?? '' })),
  );
}

const piecesNamed = prepared((db, ids: Param<readonly number[]>) =>
  db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select(['piece.id', 'piece.code as piece', 'lot.code as lot'])
    .where('piece.id', 'in', inList(ids)),
);

function readPieceCodes(reader: Reader, takings: readonly Taking[]): PieceCodes {
  const ids = takings.map(({ pieceId }) => pieceId);
  if (ids.length === 0) return new Map();
  const rows = reader.all(piecesNamed(ids));
  return new Map(rows.map(({ id, ...codes }) => [id, codes]));
}

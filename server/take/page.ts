import type { Ask, Taking } from '../../src/fit/take.ts';
import type { ClothShade } from '../../src/garment/need.ts';
import { showLength, showSize, type Units } from '../../src/quantity/length-show.ts';
import { writeLength } from '../../src/quantity/written-length.ts';
import type { Reader } from '../database/book.ts';
import { address } from '../kit/address.ts';
import { shadeChip } from '../kit/chip.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { clothPath, lotPath, piecePath, shadePath, tierPlace } from '../kit/paths.ts';
import type { Typed } from '../kit/typed.ts';
import { countOf, listed } from '../kit/words.ts';
import { orProblems, type Problem, type WayOn } from '../refusal.ts';
import { type ComingLength, type LengthsOf, shapeLengths } from '../shelf/lengths.ts';
import { drawNewUse } from '../shelf/piece/other-use-form.ts';
import { readComing, readLengths } from '../short/lengths.ts';
import { readTakePieces } from '../short/spare.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readForm } from '../web/post.ts';
import { answerTake, type TakeAnswer } from './answer.ts';
import { readAsk, type TakeForm, takeFields, takeForm } from './form.ts';

// Every cloth of a shade, or every shade of a cloth: more are narrowed by asking for both.
const MOST_ANSWERS = 60;

/** "Can I take?": so much of this, without breaking what is promised or needed. */
export function takePage(reader: Reader, asker: Asker, query: Typed) {
  const { units } = asker;
  const typed = query.ask ? { ...query, ask: '', ...readAsk(reader, query.ask, units) } : query;
  const { value: form, problems } = orProblems(() => readForm(takeForm(reader, units), typed));
  const asked = form?.wanted && (form.cloth !== null || form.shade !== null) ? form : null;
  const found = asked ? answersTo(reader, asked, units, asker) : null;
  const data = {
    fields: drawFields(takeFields(reader, units), typed),
    /** what was asked in words that could not be told, else '' */
    unclear: typed.ask ?? '',
    ...(found ?? { said: '', answer: null, others: [] }),
    /** the question, to keep */
    link: asked ? address('/take', typed) : '',
  };
  const missing = whatIsMissing(form ?? null);
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

/** What keeps a question from being answered; where nobody said how much yet, none was asked. */
function whatIsMissing(form: TakeForm | null): Problem[] {
  if (!form) return [];
  if (form.ask !== '') {
    const message = `Nothing is called “${form.ask}”, or more than one cloth or shade is. Choose it.`;
    return [{ field: 'shade', message }];
  }
  return form.wanted !== null && form.cloth === null && form.shade === null
    ? [{ field: 'cloth', message: 'Choose a cloth, a shade, or both.' }]
    : [];
}

function answersTo(
  reader: Reader,
  form: TakeForm & { readonly wanted: Ask | null },
  units: Units,
  asker: Asker,
) {
  const ask = form.wanted as Ask;
  const of = readCandidates(reader, form);
  const answers = answerTake(reader, of.slice(0, MOST_ANSWERS), ask, form.lots);
  const [only] = answers;
  const wanted = sayAsk(ask, units, form.lots);
  if (of.length === 1 && only) {
    const names = readNames(reader, only);
    const answer = shapeAnswer(reader, only, form, asker);
    return { said: `${wanted} of ${names.cloth.name}, ${names.chip.name}`, answer, others: [] };
  }
  const others = answers.map((answer) => ({
    ...readNames(reader, answer),
    may: answer.may,
    said: sayAnswer(reader, answer, ask, units),
    href: address('/take', askOf(form, answer)),
  }));
  return { said: wanted, answer: null, others: others.sort((a, b) => rank(a.may) - rank(b.may)) };
}

function rank(may: TakeAnswer['may']): number {
  return ['spare', 'costs', 'no'].indexOf(may);
}

/** The cloths and shades that are meant: both where both are chosen, else what is or ever was on the shelf, or comes. */
function readCandidates(reader: Reader, { cloth, shade }: TakeForm): ClothShade[] {
  if (cloth !== null && shade !== null) return [{ clothId: cloth, shadeId: shade }];
  const of = { ...(cloth === null ? {} : { clothId: cloth }), ...(shade === null ? {} : { shadeId: shade }) };
  const pairs = [...readLotPairs(reader, of), ...readComing(reader, of)];
  return [
    ...new Map(pairs.map(({ clothId, shadeId }) => [`${clothId} ${shadeId}`, { clothId, shadeId }])).values(),
  ];
}

function readLotPairs(reader: Reader, { clothId, shadeId }: LengthsOf): ClothShade[] {
  return reader.all(
    reader.db
      .selectFrom('lot')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId'])
      .distinct()
      .$if(clothId !== undefined, (of) => of.where('lot.cloth_id', '=', clothId ?? 0))
      .$if(shadeId !== undefined, (of) => of.where('lot.shade_id', '=', shadeId ?? 0))
      .orderBy('cloth.name')
      .orderBy('shade.name'),
  );
}

function readNames(reader: Reader, { clothId, shadeId }: ClothShade) {
  const cloth = reader.first(reader.db.selectFrom('cloth').select('name').where('id', '=', clothId));
  const shade = reader.first(reader.db.selectFrom('shade').selectAll().where('id', '=', shadeId));
  return {
    cloth: { name: cloth?.name ?? '', href: clothPath(clothId) },
    chip: shade ? shadeChip(shade, { href: shadePath(shadeId) }) : { colour: null, name: '' },
  };
}

/** "3 m", "12 strips of 20 × 145 cm, of one lot". */
function sayAsk(ask: Ask, units: Units, lots: 'one' | 'any'): string {
  if (ask.kind === 'length') return showLength(ask.lengthTicks, units, 'near');
  const size = `${showSize(ask.depthTicks, units, 'near')} × ${showSize(ask.stripLengthTicks, units, 'near')}`;
  return `${countOf(ask.count, 'strip', 'strips')} of ${size}, of ${lots === 'one' ? 'one lot' : 'any lots'}`;
}

/** The question narrowed to one cloth and shade. */
function askOf(form: TakeForm, { clothId, shadeId }: ClothShade): Record<string, string | number> {
  return {
    length: form.length?.typed ?? '',
    strips: form.strips?.typed ?? '',
    depth: form.depth?.typed ?? '',
    strip_length: form.strip_length?.typed ?? '',
    cloth: clothId,
    shade: shadeId,
    lots: form.lots,
    by: form.by ?? '',
  };
}

function shapeAnswer(reader: Reader, answer: TakeAnswer, form: TakeForm, asker: Asker) {
  const { units } = asker;
  const ask = form.wanted as Ask;
  const codes = readPieceCodes(reader, answer.takings);
  return {
    ...readNames(reader, answer),
    may: answer.may,
    said: sayAnswer(reader, answer, ask, units),
    lost: answer.lost.map((lost) => ({
      text: `${lost.garmentCode} ${lost.garmentName}: ${lost.tierName} is short of ${countOf(lost.strips, 'strip', 'strips')} more`,
      href: tierPlace(lost.garmentCode, lost.tierId),
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
          freeAfter: showLength(taking.freeAfterTicks, units, 'down'),
          spareAfter: showLength(taking.spareAfterTicks, units, 'down'),
          use: drawNewUse(
            reader,
            { code: code.piece, free: showLength(taking.lengthTicks + taking.freeAfterTicks, units, 'down') },
            asker,
            { length: writeLength(taking.lengthTicks, units) },
          ),
        },
      ];
    }),
    cures: answer.may === 'spare' ? [] : curesOf(reader, answer, form, units),
    lengths: shapeLengths(readLengths(reader, answer), units),
  };
}

function readPieceCodes(reader: Reader, takings: readonly { readonly pieceId: number }[]) {
  const ids = takings.map(({ pieceId }) => pieceId);
  if (ids.length === 0) return new Map<number, never>();
  const rows = reader.all(
    reader.db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select(['piece.id', 'piece.code as piece', 'lot.code as lot'])
      .where('piece.id', 'in', ids),
  );
  return new Map(rows.map(({ id, ...codes }) => [id, codes]));
}

/** The answer in one line. */
function sayAnswer(reader: Reader, answer: TakeAnswer, ask: Ask, units: Units): string {
  const { may, takings, lost, longestFreeTicks } = answer;
  const show = (ticks: number) => showLength(ticks, units, 'down');
  if (may === 'no') {
    if (longestFreeTicks === 0) return 'No: nothing of it is free.';
    if (ask.kind === 'length') return `No: the longest free length is ${show(longestFreeTicks)}.`;
    return 'No: what is free does not give so many strips.';
  }
  const from = sayTakings(reader, takings, units);
  const left = takings.reduce((sum, { spareAfterTicks }) => sum + spareAfterTicks, 0);
  if (may === 'spare')
    return `Yes: ${from}. ${left === 0 ? 'Nothing' : show(left)} of ${takings.length === 1 ? 'it' : 'them'} is to spare after that.`;
  const names = [...new Set(lost.map(({ garmentCode, garmentName }) => `${garmentCode} ${garmentName}`))];
  const strips = lost.reduce((sum, one) => sum + one.strips, 0);
  return `Yes, ${from}; but then ${listed(names)} ${names.length === 1 ? 'is' : 'are'} short of ${countOf(strips, 'strip', 'strips')} more.`;
}

/** "3 m of B12, lot L4", the pieces one after the other. */
function sayTakings(reader: Reader, takings: readonly Taking[], units: Units): string {
  const codes = readPieceCodes(reader, takings);
  const parts = takings.map(({ pieceId, lengthTicks }) => {
    const code = codes.get(pieceId);
    return `${showLength(lengthTicks, units, 'up')} of ${code?.piece ?? ''}, lot ${code?.lot ?? ''}`;
  });
  return listed(parts);
}

/** What would make it possible, or cost nobody anything. */
function curesOf(reader: Reader, answer: TakeAnswer, form: TakeForm, units: Units) {
  const { clothId, shadeId, joined, anyLots } = answer;
  const ask = form.wanted as Ask;
  const cures: { readonly text: string; readonly link: WayOn | null }[] = [];
  const asked = askOf(form, answer);
  if (joined) cures.push({ text: `With seams: ${sayTakings(reader, joined, units)}.`, link: null });
  if (anyLots)
    cures.push({
      text: 'From several lots it can be had.',
      link: { text: 'Take any lots', href: address('/take', { ...asked, lots: 'any' }) },
    });
  cures.push(...undyedCure(reader, answer, ask, units));
  for (const coming of readLengths(reader, answer).coming) cures.push(sayComing(coming, form.by, units));
  const { heldTicks } = readLengths(reader, answer);
  if (heldTicks > 0)
    cures.push({
      text: `${showLength(heldTicks, units, 'down')} is held: release some of it if it can wait.`,
      link: { text: 'See who holds it', href: address('/shelf', { cloth: clothId, shade: shadeId }) },
    });
  cures.push({
    text: 'Buy it.',
    link: {
      text: 'Find where to buy it',
      href: address('/orders/basket', {
        'needs.0.cloth_id': clothId,
        'needs.0.shade_id': shadeId,
        'needs.0.length': ask.kind === 'length' ? showLength(ask.lengthTicks, units, 'up') : '',
      }),
    },
  });
  return cures;
}

/** Undyed cloth of the same kind that is to spare, from which the shade could be dyed. */
function undyedCure(reader: Reader, { clothId, shadeId }: ClothShade, ask: Ask, units: Units) {
  const grounds = reader.all(reader.db.selectFrom('shade').select('id').where('ground', '=', 1));
  const shadeIds = grounds.map(({ id }) => id).filter((id) => id !== shadeId);
  const isGround = grounds.some(({ id }) => id === shadeId);
  if (isGround || shadeIds.length === 0) return [];
  const spare = readTakePieces(reader, { clothIds: [clothId], shadeIds }).map(
    ({ lengthTicks, neededTicks }) => lengthTicks - neededTicks,
  );
  const longest = Math.max(0, ...spare);
  if (longest === 0 || (ask.kind === 'length' && longest < ask.lengthTicks)) return [];
  const wanted = ask.kind === 'length' ? showLength(ask.lengthTicks, units, 'up') : '';
  return [
    {
      text: `${showLength(longest, units, 'down')} of it is to spare undyed, in one length.`,
      link: {
        text: 'Dye it',
        href: address('/dye-bench/batches/new', { cloth: clothId, shade: shadeId, wanted }),
      },
    },
  ];
}

function sayComing({ lengthTicks, how, code, href, on }: ComingLength, by: string | null, units: Units) {
  const length = showLength(lengthTicks, units, 'down');
  const late = by !== null && on !== null && on > by ? ', after the day that it is wanted by' : '';
  const text = `${length} is ${how}, ${code}${on === null ? '' : `, expected on ${on}`}${late}.`;
  return { text, link: { text: `See ${code}`, href } };
}

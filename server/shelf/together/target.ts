import { type HowRead, USUAL_UNCERTAINTY_CENTI, type Viewing } from '../../../src/colour/colour-reading.ts';
import { sayDifference } from '../../../src/colour/difference-words.ts';
import { rateChange } from '../../../src/colour/grey-scale.ts';
import { deltaCmc, type Lab } from '../../../src/colour/lab.ts';
import { type LotRead, NOT_READ } from '../../../src/colour/lot-colour.ts';
import { judgeLots, type LotVerdict, type PairAnswer, USUAL_BANDS } from '../../../src/colour/lot-pair.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { lotPath, shadeAgainPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { judgementOf, readLotEvidence } from '../lot/store.ts';
import { newPairPhotosPath } from '../photo/pages.ts';
import type { LabHow } from '../shade/form.ts';
import type { NamedLot } from './how-sure.ts';
import { sayMeasuredDifference } from './words.ts';

const judgedAgainst = prepared((db, lotIds: Param<readonly number[]>, shadeId: Param<number>) =>
  db
    .selectFrom('pair_judgement')
    .innerJoin('person', 'person.id', 'pair_judgement.person_id')
    .selectAll('pair_judgement')
    .select('person.name as person')
    .where('lot_id', 'in', inList(lotIds))
    .where('to_shade_id', '=', shadeId)
    .where('undone_key', 'is', null)
    .where('state', '=', 'dry')
    .orderBy('pair_judgement.id'),
);

/** A shade that is wanted, with what its values are for. */
export interface TargetShade {
  readonly id: number;
  readonly name: string;
  readonly colour: ({ readonly lab: Lab; readonly how: LabHow } & Viewing) | null;
}

const HOW_OF_SHADE: Readonly<Record<LabHow, HowRead>> = {
  instrument: 'instrument',
  photo: 'photo card',
  screen: 'eye',
  typed: 'list',
};

const VERDICTS: Readonly<Record<LotVerdict, string>> = {
  'may meet': 'passes',
  look: 'look by eye',
  apart: 'off: shade again, or keep it as another shade',
  unknown: 'not compared',
};

/** Dyed lots against the shade that was wanted: pass or not, how sure that is, and what to shift. */
export function shapeAgainstTarget(reader: Reader, lots: readonly NamedLot[], target: TargetShade) {
  const lotIds = lots.map(({ id }) => id);
  const { read } = readLotEvidence(reader, lotIds);
  const judged = lotIds.length === 0 ? [] : reader.all(judgedAgainst(lotIds, target.id));
  return lots.map((lot) => {
    const own = read.get(lot.id) ?? NOT_READ;
    const rows = judged.filter((row) => row.lot_id === lot.id);
    const answer = judgeLots(
      own,
      readAs(target, own),
      rows.map((row) => judgementOf(row, 1)),
      USUAL_BANDS,
    );
    const seen = rows.findLast(({ how }) => how === 'eye');
    return {
      lot: { code: lot.code, href: lotPath(lot.code.split(' + ')[0] ?? lot.code) },
      verdict: answer.verdict,
      said: VERDICTS[answer.verdict],
      sure: saySureOfTarget(answer, target, seen ? `${seen.person}, ${showMoment(seen.at)}` : ''),
      ...shapeShift(answer, target),
      photo: newPairPhotosPath({ kind: 'lot', id: lot.id }, { kind: 'shade', id: target.id }),
      /** to the correction of its recipe */
      again: shadeAgainPath({ kind: 'lot', id: lot.id }),
    };
  });
}

/** The target as if it had been read in each condition that the lot was, for the light and observer of its own values. */
function readAs({ colour }: TargetShade, own: LotRead): LotRead {
  if (!colour) return NOT_READ;
  const how = HOW_OF_SHADE[colour.how];
  const { lab, illuminant, observer } = colour;
  const as = {
    lab,
    illuminant,
    observer,
    how,
    places: 1,
    spread: 0,
    uncertainty: USUAL_UNCERTAINTY_CENTI[how] / 100,
  };
  return { colours: own.colours.map(({ layers, backing }) => ({ ...as, layers, backing })), readings: 1 };
}

function saySureOfTarget(answer: PairAnswer, { colour, name }: TargetShade, seen: string): string {
  if (answer.by === 'eye')
    return `Judged by eye (${seen}).${answer.measured ? ` Measured: ${sayMeasuredDifference(answer.measured)}` : ''}`;
  if (answer.measured) return sayMeasuredDifference(answer.measured);
  if (!colour) return `${name} has no colour recorded, and nobody has compared the two.`;
  if (answer.notCompared === 'light')
    return 'Not comparable: the lot is read for another light or observer than the shade.';
  return 'The lot was not read, and nobody has compared the two.';
}

function shapeShift({ measured }: PairAnswer, { colour }: TargetShade) {
  const from = colour?.lab;
  if (!measured?.difference || !from) return { differs: '', figures: '' };
  const { l, a, b } = measured.difference;
  const to = { l: from.l + l, a: from.a + a, b: from.b + b };
  const words = sayDifference(from, to);
  return {
    differs: words === '' ? 'No difference to name.' : `It is ${words} than wanted.`,
    figures: `CMC(2:1) ${deltaCmc(from, to).toFixed(2)}, grey scale ${rateChange(from, to).step}`,
  };
}

import { lotRead } from '../../../src/colour/lot-colour.ts';
import type { LotDifference, LotJudgement } from '../../../src/colour/lot-pair.ts';
import { type LotEvidence, lotPairKey } from '../../../src/colour/lots-judged.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import { countsAs } from '../../ledger/joined-lots.ts';
import { readReadingsOfLots, type StoredReading } from '../colour/readings.ts';

const membersOf = prepared((db, ids: Param<readonly number[]>, roots: Param<readonly number[]>) =>
  db
    .selectFrom('lot')
    .select(['id', countsAs().as('rootId')])
    .where((of) => of.or([of('id', 'in', inList(ids)), of('joined_to_id', 'in', inList(roots))]))
    .orderBy('id'),
);

const judgementsBetween = prepared((db, ids: Param<readonly number[]>, others: Param<readonly number[]>) =>
  db
    .selectFrom('pair_judgement')
    .innerJoin('person', 'person.id', 'pair_judgement.person_id')
    .selectAll('pair_judgement')
    .select('person.name as person')
    .where('lot_id', 'in', inList(ids))
    .where('to_lot_id', 'in', inList(others))
    .where('undone_key', 'is', null)
    .orderBy('pair_judgement.id'),
);

/** A judgement of two lots as it is kept. */
export type StoredJudgement = LotJudgement & {
  readonly light: string;
  readonly state: 'dry' | 'wet';
  readonly note: string;
  readonly at: string;
  readonly person: string;
};

/** How lots compare, with what is kept of each reading and judgement. */
export interface KeptEvidence extends LotEvidence {
  /** by lot, those of lots that count as it included */
  readonly readings: ReadonlyMap<number, readonly StoredReading[]>;
  readonly judgements: ReadonlyMap<string, readonly StoredJudgement[]>;
  /** judged wet, and so no answer for dry cloth; by pair */
  readonly judgedWet: ReadonlyMap<string, readonly StoredJudgement[]>;
}

/** All that was read of some lots and judged between them. What counts as one with a lot speaks for it. */
export function readLotEvidence(reader: Reader, lotIds: readonly number[]): KeptEvidence {
  if (lotIds.length === 0)
    return { read: new Map(), readings: new Map(), judgements: new Map(), judgedWet: new Map() };
  const members = reader.all(membersOf(lotIds, lotIds));
  const asked = new Set(lotIds);
  const roots = new Map(members.map(({ id, rootId }) => [id, asked.has(rootId) ? rootId : id]));
  const ids = [...roots.keys()];
  const readings = grouped(readReadingsOfLots(reader, ids), ({ lotId }) => roots.get(lotId ?? 0) ?? 0);
  const judged = readJudgements(reader, ids, roots);
  const byPair = (state: 'dry' | 'wet') =>
    new Map(
      [
        ...grouped(
          judged.filter((each) => each.judgement.state === state),
          ({ key }) => key,
        ),
      ].map(([key, of]) => [key, of.map(({ judgement }) => judgement)] as const),
    );
  return {
    read: new Map([...readings].map(([id, of]) => [id, lotRead(of)])),
    readings,
    judgements: byPair('dry'),
    judgedWet: byPair('wet'),
  };
}

function readJudgements(reader: Reader, ids: readonly number[], roots: ReadonlyMap<number, number>) {
  return reader.all(judgementsBetween(ids, ids)).flatMap((row) => {
    const [one, other] = [roots.get(row.lot_id ?? 0) ?? 0, roots.get(row.to_lot_id ?? 0) ?? 0];
    // Lots that count as one are compared no more.
    if (one === other) return [];
    const { light, state, note, at, person } = row;
    const judgement: StoredJudgement = {
      ...judgementOf(row, one < other ? 1 : -1),
      light,
      state,
      note,
      at,
      person,
    };
    return [{ key: lotPairKey(one, other), judgement }];
  });
}

/** A judgement as its row has it. */
interface JudgedRow {
  readonly how: 'instrument' | 'photo' | 'eye';
  readonly verdict: 'may meet' | 'look' | 'apart' | null;
  readonly delta_centi: number | null;
  readonly uncertainty_centi: number | null;
  readonly diff_l: number | null;
  readonly diff_a: number | null;
  readonly diff_b: number | null;
}

/** @param sign 1 where the row's first lot is the pair's first, −1 where it is the other */
export function judgementOf(row: JudgedRow, sign: 1 | -1): LotJudgement {
  if (row.how === 'eye') return { how: 'eye', verdict: row.verdict ?? 'look' };
  return {
    how: row.how,
    deltaE: (row.delta_centi ?? 0) / 100,
    uncertainty: (row.uncertainty_centi ?? 0) / 100,
    difference: differenceOf(row, sign),
  };
}

function differenceOf(
  { diff_l: l, diff_a: a, diff_b: b }: JudgedRow,
  sign: 1 | -1,
): LotDifference['difference'] {
  return l === null || a === null || b === null ? null : { l: sign * l, a: sign * a, b: sign * b };
}

import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import type { SentLength } from '../batch/store.ts';

/** What was logged at the pot and stands: figures are tenths of a degree, hundredths of pH, mg or mL by kind. */
export type LogRow = ReturnType<typeof readLog>[number];

const logOf = prepared((db, batchId: Param<number>) =>
  db
    .selectFrom('batch_log')
    .innerJoin('person', 'person.id', 'batch_log.person_id')
    .leftJoin('request', 'request.key', 'batch_log.request_key')
    .leftJoin('batch_log_auxiliary', 'batch_log_auxiliary.log_id', 'batch_log.id')
    .selectAll('batch_log')
    .select(['batch_log_auxiliary.kind as auxiliary_kind', 'batch_log_auxiliary.form as auxiliary_form'])
    .select(['person.name as person', 'request.done_at'])
    .where('batch_log.batch_id', '=', batchId)
    .orderBy('batch_log.id'),
);

/** The log of a batch in the order of telling, without what was taken back. */
export function readLog(reader: Reader, batchId: number) {
  const rows = reader.all(logOf(batchId));
  const undone = new Set(rows.flatMap(({ undoes_id }) => undoes_id ?? []));
  const stands = rows.filter(({ id, kind }) => kind !== 'undone' && !undone.has(id));
  const doneAt = whenDone(stands);
  return stands.map((row) => ({
    id: row.id,
    bath: row.bath,
    kind: row.kind,
    /** when it was done */
    at: doneAt.get(row.id) ?? row.at,
    /** when it was entered, later where a device kept it */
    toldAt: row.at,
    person: row.person,
    personId: row.person_id,
    requestKey: row.request_key,
    figure: row.figure ?? 0,
    what: row.what,
    dyeLot: row.dye_lot,
    note: row.note,
    /** what went in by hand; null for what the plan wanted */
    auxiliary:
      row.auxiliary_kind === null || row.auxiliary_form === null
        ? null
        : { kind: row.auxiliary_kind, form: row.auxiliary_form },
    lab:
      row.lab_l === null || row.lab_a === null || row.lab_b === null
        ? null
        : {
            l: row.lab_l,
            a: row.lab_a,
            b: row.lab_b,
            how: row.lab_how ?? 'typed',
            illuminant: row.lab_illuminant,
            observer: row.lab_observer,
          },
  }));
}

interface ToldRow {
  readonly id: number;
  readonly bath: number;
  readonly kind: string;
  readonly at: string;
  readonly done_at: string | null;
}

/** When each row was done. The steps of a bath follow each other, whatever a device that kept one says. */
function whenDone(rows: readonly ToldRow[]): ReadonlyMap<number, string> {
  const lastStep = new Map<number, string>();
  return new Map(
    rows.map(({ id, bath, kind, at, done_at: doneAt }) => {
      const told = doneAt ?? at;
      if (kind !== 'step') return [id, told];
      const before = lastStep.get(bath) ?? told;
      const isBefore = told < before;
      lastStep.set(bath, isBefore ? before : told);
      return [id, lastStep.get(bath) ?? told];
    }),
  );
}

/** What was logged since the batch was started: a start that was undone took its own log along. */
export function sinceStart(rows: readonly LogRow[], sent: readonly SentLength[]): LogRow[] {
  const started = sent[0]?.at;
  return rows.filter(
    ({ kind, toldAt }) =>
      kind === 'swatch' || kind === 'read' || (started !== undefined && toldAt >= started),
  );
}

/** The lot of each dye or auxiliary that was weighed last, by name: what is offered at the next weighing. */
export function readLastLots(reader: Reader, names: readonly string[]): ReadonlyMap<string, string> {
  const wanted = [...new Set(names)];
  if (wanted.length === 0) return new Map();
  const rows = reader.all(
    reader.db
      .selectFrom('batch_log')
      .select(['what', 'dye_lot'])
      .where('kind', '=', 'weighed')
      .where('dye_lot', '<>', '')
      .where('what', 'in', wanted)
      .orderBy('id', 'desc')
      .limit(200),
  );
  return new Map(rows.reverse().map(({ what, dye_lot }) => [what, dye_lot]));
}

/** The lot to offer for each dye or auxiliary by name: that of the tub in the list of dyes, else the one weighed last. */
export function readDyeLots(reader: Reader, names: readonly string[]): ReadonlyMap<string, string> {
  const wanted = [...new Set(names)];
  if (wanted.length === 0) return new Map();
  const tubs = reader.all(
    reader.db
      .selectFrom('dye')
      .select(['name', 'lot'])
      .where('name', 'in', wanted)
      .where('lot', '<>', '')
      .where('gone_at', 'is', null),
  );
  return new Map([...readLastLots(reader, wanted), ...tubs.map(({ name, lot }) => [name, lot] as const)]);
}

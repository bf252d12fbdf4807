import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import type { Choice } from '../../kit/choices.ts';
import { lotPath, shadePath, swatchPath } from '../../kit/paths.ts';

/** What lies in a photo: cloth of a lot, a dyed swatch, or the cloth that stands for a shade. */
export type PhotoSubject =
  | { readonly kind: 'lot'; readonly id: number }
  | { readonly kind: 'swatch'; readonly id: number }
  | { readonly kind: 'shade'; readonly id: number };

/** As it stands in a field and an address: "lot-3". */
export function subjectValue({ kind, id }: PhotoSubject): string {
  return `${kind}-${id}`;
}

/** The columns of a row that says what was compared: one, and another or nothing. */
export function subjectColumns(one: PhotoSubject, other: PhotoSubject | null) {
  return {
    lot_id: one.kind === 'lot' ? one.id : null,
    swatch_id: one.kind === 'swatch' ? one.id : null,
    to_lot_id: other?.kind === 'lot' ? other.id : null,
    to_swatch_id: other?.kind === 'swatch' ? other.id : null,
    to_shade_id: other?.kind === 'shade' ? other.id : null,
  };
}

export function readSubject(typed: string): PhotoSubject | null {
  const [, kind, id] = /^(lot|swatch|shade)-([1-9][0-9]{0,14})$/.exec(typed) ?? [];
  return kind === undefined ? null : { kind: kind as PhotoSubject['kind'], id: Number(id) };
}

const lots = prepared((db, ids: Param<readonly number[]>) =>
  selectLots(db).where('lot.id', 'in', inList(ids)),
);
const lotsOnHand = prepared((db) =>
  selectLots(db)
    .where((of) =>
      of.exists(
        of
          .selectFrom('piece')
          .select('piece.id')
          .whereRef('piece.lot_id', '=', 'lot.id')
          .where('piece.on_hand_ticks', '>', 0),
      ),
    )
    .orderBy('cloth.name')
    .orderBy('shade.name')
    .orderBy('lot.id', 'desc')
    .limit(MOST_LOTS),
);
const MOST_LOTS = 500;

function selectLots(db: Reader['db']) {
  return db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select([
      'lot.id',
      'lot.code',
      'lot.cloth_id',
      'lot.shade_id',
      'cloth.name as cloth',
      'shade.name as shade',
    ]);
}

const swatches = prepared((db, ids: Param<readonly number[]>) =>
  selectSwatches(db).where('swatch.id', 'in', inList(ids)),
);
const newestSwatches = prepared((db) => selectSwatches(db).orderBy('swatch.id', 'desc').limit(MOST_SWATCHES));
const MOST_SWATCHES = 100;

function selectSwatches(db: Reader['db']) {
  return db
    .selectFrom('swatch')
    .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
    .innerJoin('recipe', 'recipe.id', 'swatch.recipe_id')
    .select(['swatch.id', 'swatch_job.code', 'swatch.position', 'recipe.name']);
}

const shades = prepared((db) =>
  db.selectFrom('shade').select(['id', 'name']).where('ground', '=', 0).orderBy('name'),
);

/** What may be photographed, lots of the same cloth and shade as another first. */
export function subjectChoices(
  reader: Reader,
  given: { readonly beside?: PhotoSubject | null; readonly withShades?: boolean },
): Choice[] {
  const { beside = null, withShades = false } = given;
  const [like] = beside?.kind === 'lot' ? reader.all(lots([beside.id])) : [];
  const onHand = reader.all(lotsOnHand());
  const isLike = (row: (typeof onHand)[number]) =>
    row.cloth_id === like?.cloth_id && row.shade_id === like.shade_id;
  const others = [...onHand.filter(isLike), ...onHand.filter((row) => !isLike(row))];
  return [
    ...others.map(asLot),
    ...reader
      .all(newestSwatches())
      .map((row) => ({ value: `swatch-${row.id}`, label: `Swatch ${nameOfSwatch(row)}, ${row.name}` })),
    ...(withShades
      ? reader
          .all(shades())
          .map(({ id, name }) => ({ value: `shade-${id}`, label: `The cloth that shows ${name}` }))
      : []),
  ];
}

/** One that is asked for by its address though it is not offered: a lot of which nothing is left, an old swatch. */
export function withSubject(
  reader: Reader,
  choices: readonly Choice[],
  subject: PhotoSubject | null,
): Choice[] {
  const value = subject === null ? '' : subjectValue(subject);
  if (subject === null || choices.some((choice) => choice.value === value)) return [...choices];
  const known = nameSubjects(reader, [subject]).get(value);
  return known ? [{ value, label: known.name }, ...choices] : [...choices];
}

function asLot(row: {
  readonly id: number;
  readonly code: string;
  readonly cloth: string;
  readonly shade: string;
}): Choice {
  return { value: `lot-${row.id}`, label: `${row.code}, ${row.cloth}, ${row.shade}` };
}

const nameOfSwatch = ({ code, position }: { readonly code: string; readonly position: number }) =>
  `${code}.${position}`;

/** What a subject is called, and its page. */
export interface SubjectName {
  /** "Lot L12", "Swatch W3.2", "Sea" */
  readonly name: string;
  /** the same within a sentence: "lot L12" */
  readonly inSentence: string;
  readonly href: string;
}

/** Names of subjects, by their value. */
export function nameSubjects(reader: Reader, subjects: readonly PhotoSubject[]): Map<string, SubjectName> {
  const idsOf = (kind: PhotoSubject['kind']) =>
    subjects.filter((each) => each.kind === kind).map(({ id }) => id);
  const [lotIds, swatchIds, shadeIds] = [idsOf('lot'), idsOf('swatch'), idsOf('shade')];
  const ofLots = lotIds.length === 0 ? [] : reader.all(lots(lotIds));
  const ofSwatches = swatchIds.length === 0 ? [] : reader.all(swatches(swatchIds));
  const ofShades = shadeIds.length === 0 ? [] : reader.all(shades());
  const named = (kind: 'Lot' | 'Swatch', name: string, href: string) => ({
    name: `${kind} ${name}`,
    inSentence: `${kind.toLowerCase()} ${name}`,
    href,
  });
  return new Map<string, SubjectName>([
    ...ofLots.map(({ id, code }) => [`lot-${id}`, named('Lot', code, lotPath(code))] as const),
    ...ofSwatches.map(
      (row) => [`swatch-${row.id}`, named('Swatch', nameOfSwatch(row), swatchPath(row.code))] as const,
    ),
    ...ofShades.map(
      ({ id, name }) => [`shade-${id}`, { name, inSentence: name, href: shadePath(id) }] as const,
    ),
  ]);
}

import { OBSERVERS, type Observer } from '../../../src/colour/colour-reading.ts';
import { verdictOn } from '../../../src/dye/dye-advice.ts';
import { DYE_CLASS_NAMES, type RecipeClass } from '../../../src/dye/dye-class.ts';
import { capital } from '../../../src/dye/fibre.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import type { Choice } from '../../kit/choices.ts';
import type { Typed } from '../../kit/typed.ts';
import { type DyeCloth, readDyeCloths } from '../batch/dyeable.ts';
import { readDyes } from '../dyes/store.ts';
import { type BathKind, bathKind, bathValue, type ReadSwatch, readKnown } from './known.ts';

/** Dyeing over a colour: what lies below is not known. */
export const OVERDYEING = 'over';

/** A cloth on an undyed ground with one class of dye, and the swatches that are known of it. */
export interface Scope {
  readonly cloth: DyeCloth;
  readonly known: readonly ReadSwatch[];
  /** null where the cloth is dyed over another colour, or has no undyed ground at all */
  readonly ground: { readonly id: number; readonly name: string } | null;
  readonly isOverdyeing: boolean;
  /** null where no dye is known that dyes the cloth */
  readonly bath: BathKind | null;
  /** null where the swatches decide */
  readonly observer: Observer | null;
  /** what may be chosen of each */
  readonly grounds: readonly Choice[];
  readonly baths: readonly Choice[];
}

/** What an address asks for, with the usual choice where it leaves something open; null where no cloth is chosen or known. */
export function readScope(reader: Reader, typed: Typed): Scope | null {
  const clothId = typed.cloth_id === undefined ? readUsualCloth(reader) : queryNumber(typed, 'cloth_id');
  const cloth = clothId === null ? undefined : readDyeCloths(reader, [clothId]).get(clothId);
  if (!cloth) return null;
  const known = readKnown(reader, cloth.id);
  const grounds = readGrounds(reader, cloth.id, known);
  const asked = grounds.find(({ id }) => String(id) === typed.ground_id) ?? grounds[0] ?? null;
  const isOverdyeing = typed.ground_id === OVERDYEING;
  const baths = bathsFor(reader, cloth, known);
  return {
    cloth,
    known,
    ground: isOverdyeing ? null : asked,
    isOverdyeing,
    bath: baths.find((bath) => bathValue(bath) === typed.bath) ?? baths[0] ?? null,
    observer: OBSERVERS.find((observer) => observer === typed.observer) ?? null,
    grounds: grounds.map(({ id, name }) => ({ value: String(id), label: name })),
    baths: baths.map((bath) => ({ value: bathValue(bath), label: sayBathKind(bath) })),
  };
}

/** The cloth of which most swatches were recorded, else the last that swatches were dyed of; null where there is none. */
function readUsualCloth(reader: Reader): number | null {
  const { db } = reader;
  const recorded = reader.first(
    db
      .selectFrom('dyed_swatch')
      .select('cloth_id')
      .where('undone_key', 'is', null)
      .groupBy('cloth_id')
      .orderBy((of) => of.fn.countAll(), 'desc')
      .limit(1),
  );
  const dyed = db.selectFrom('swatch_job').innerJoin('lot', 'lot.id', 'swatch_job.lot_id');
  const found =
    recorded ?? reader.first(dyed.select('lot.cloth_id').orderBy('swatch_job.id', 'desc').limit(1));
  return found?.cloth_id ?? null;
}

/** The undyed shades: those that most swatches of the cloth lie on first, then those that its lots are in. */
function readGrounds(reader: Reader, clothId: number, known: readonly ReadSwatch[]) {
  const rows = reader.all(
    reader.db.selectFrom('shade').select(['id', 'name']).where('ground', '=', 1).orderBy('name'),
  );
  const lots = reader.all(reader.db.selectFrom('lot').select('shade_id').where('cloth_id', '=', clothId));
  const countOn = (id: number) =>
    1000 * known.filter(({ groundId }) => groundId === id).length +
    lots.filter(({ shade_id }) => shade_id === id).length;
  return rows.toSorted((one, other) => countOn(other.id) - countOn(one.id));
}

/** Classes of dye of which the cloth has swatches, the most first, then those on the list that dye it. */
function bathsFor(reader: Reader, { content }: DyeCloth, known: readonly ReadSwatch[]): BathKind[] {
  const used = known.flatMap(({ bath }) => bath ?? []);
  const listed = readDyes(reader)
    .filter(({ gone, dyeClass }) => gone === '' && dyeClass !== 'strip' && isDyed(content, dyeClass))
    .map(({ dyeClass, method }) => bathKind(dyeClass, method));
  const found = new Map([...used, ...listed].map((bath) => [bathValue(bath), bath]));
  const countOf = (bath: BathKind) => used.filter((each) => bathValue(each) === bathValue(bath)).length;
  return [...found.values()].sort((one, other) => countOf(other) - countOf(one));
}

function isDyed(content: DyeCloth['content'], dyeClass: RecipeClass): boolean {
  return content.length === 0 || !['no', 'stains'].includes(verdictOn(content, dyeClass).verdict);
}

/** "Reactive dye, vinyl sulphone". */
export function sayBathKind({ dyeClass, method }: BathKind): string {
  return `${capital(DYE_CLASS_NAMES[dyeClass])}${method === '' ? '' : `, ${method}`}`;
}

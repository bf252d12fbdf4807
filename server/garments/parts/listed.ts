import { needKey } from '../../../src/garment/need.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { cuttingPath, garmentPartPath, newPartPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { countOf, listed } from '../../kit/words.ts';
import { type CutFor, type HeldFor, readCutStrips, readHeldStretches } from '../garment/done.ts';
import { type Names, readNames } from '../garment/names.ts';
import { readShapedRows, type WorkedGarment } from '../garment/worked.ts';
import { showStrip } from '../versions/differences.ts';
import { saySize } from './cut.ts';
import { type WorkedPart, workKeptParts } from './kept.ts';
import type { KeptPart } from './record.ts';
import { sayPartAsked } from './said.ts';
import { type GarmentWant, wantsOfGarment } from './wants.ts';

/** The parts of a garment as its page and its book list them, and all that its opening and its parts take together. */
export function listParts(reader: Reader, worked: WorkedGarment, units: Units) {
  const { garment } = worked;
  const parts = workKeptParts(reader, garment.code);
  const shaped = readShapedRows(reader, garment);
  const names = namesOfParts(reader, worked, parts);
  const rowIds = worked.parts.map(({ tierId }) => tierId);
  const done = { cut: readCutStrips(reader, rowIds), held: readHeldStretches(reader, rowIds) };
  const isOpen = garment.finishedAt === null;
  const step = (part: KeptPart, verb: string) =>
    isOpen ? { action: `${garmentPartPath(garment.code, part.id)}/${verb}`, key: mintKey() } : null;
  const out = garment.parts.filter(({ takenOutAt }) => takenOutAt !== null);
  return {
    add: isOpen ? newPartPath(garment.code) : null,
    rows: parts.map(({ kept, part, answer, problems }) => ({
      /** what its strips are held and cut for, as ledgers lead to it; null where it has none */
      rowId: kept.rows[0]?.id ?? null,
      name: kept.name,
      href: garmentPartPath(garment.code, kept.id),
      kind: part.title,
      cloth: sayCloth(worked, kept, names),
      pieces: kept.pieces,
      /** what is cut of cloth for it, size by size, and how far that is */
      cuts: shapeCuts(worked, kept, names, done, units),
      brief: answer
        ? [
            ...answer.figures
              .filter(({ label }) => part.brief.includes(label))
              .map(({ label, value }) => `${label} ${value}`),
            ...kept.rows
              .flatMap(({ id }) => shaped.get(id)?.fromHoles ?? [])
              .map(({ name, count }) => `${count} from the holes of ${name}`),
          ].join('; ')
        : `It cannot be worked out any more: ${problems.map(({ message }) => message).join(' ')}`,
      warnings: answer?.warnings ?? [],
      takeOut: step(kept, 'taken-out'),
    })),
    wants: wantsOf(worked, parts, names, units),
    takenOut: out.map((part) => ({
      name: part.name,
      putBack: step(part, 'put-back'),
    })),
  };
}

export type PartsView = ReturnType<typeof listParts>;

/** The parts in full, for print: what was asked and what each comes to. */
export function printParts(reader: Reader, worked: WorkedGarment) {
  const parts = workKeptParts(reader, worked.garment.code);
  const names = namesOfParts(reader, worked, parts);
  return parts.map(({ kept, part, answer, problems }) => ({
    name: kept.name,
    kind: part.title,
    cloth: sayCloth(worked, kept, names),
    pieces: kept.pieces,
    asked: sayPartAsked(Object.values(part.draw(kept.unit, kept.asked))),
    answer,
    problems: problems.map(({ message }) => message),
  }));
}

function namesOfParts(reader: Reader, worked: WorkedGarment, parts: readonly WorkedPart[]): Names {
  const own = [...parts.map(({ kept }) => kept), ...worked.parts];
  return readNames(
    reader,
    own.flatMap(({ clothId }) => clothId ?? []),
    own.flatMap(({ shadeId }) => shadeId ?? []),
  );
}

/** "Nylon organza 150, Deep tide"; '' where neither was chosen and none is cut. */
function sayCloth({ parts }: WorkedGarment, kept: KeptPart, names: Names): string {
  const cut = parts.find(({ tierId }) => tierId === kept.rows[0]?.id);
  const { clothId, shadeId } = cut ?? kept;
  return [
    ...(clothId === null ? [] : [names.cloth(clothId)]),
    ...(shadeId === null ? [] : [names.shade(shadeId)]),
  ].join(', ');
}

interface Done {
  readonly cut: readonly CutFor[];
  readonly held: readonly HeldFor[];
}

/** "3 of 50 cm × 144 cm, 1 cut, 2.4 m held", as each size is cut at the table. */
function shapeCuts(
  { garment, parts }: WorkedGarment,
  kept: KeptPart,
  names: Names,
  { cut, held }: Done,
  units: Units,
) {
  const main = parts.find(({ tierId }) => tierId === kept.rows[0]?.id);
  return kept.rows.flatMap(({ id, size }) => {
    const wanted = parts.find(({ tierId }) => tierId === id);
    if (!wanted) return [];
    const isMine = (row: CutFor | HeldFor) => row.tierId === id && needKey(row) === needKey(wanted);
    const strips = cut.filter(isMine).reduce((sum, { count }) => sum + count, 0);
    const heldTicks = held.filter(isMine).reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
    const cloth = main && needKey(main) === needKey(wanted) ? '' : names.cloth(wanted.clothId);
    return [
      {
        rowId: id,
        /** "facing"; '' for the main size */
        of: saySize(kept, size),
        text: `${wanted.count} of ${showStrip(wanted, units)}${cloth && `, ${cloth}`}`,
        done: [
          ...(strips === 0 ? [] : [strips >= wanted.count ? 'all cut' : `${strips} cut`]),
          ...(heldTicks === 0 ? [] : [`${showLength(heldTicks, units, 'down')} held`]),
        ].join(', '),
        href: cuttingPath(garment.code, id),
      },
    ];
  });
}

/** One row for each thing: what is alike of several parts is added up. */
function wantsOf(worked: WorkedGarment, parts: readonly WorkedPart[], names: Names, units: Units) {
  const found = new Map<string, Pick<GarmentWant, 'ticks' | 'lengths' | 'count'> & { of: string[] }>();
  for (const want of wantsOfGarment(worked, parts)) {
    const { ticks, lengths, count, part } = want;
    const what = sayWhat(worked, want, names);
    const before = found.get(what);
    const of = part === null ? 'Opening' : part.pieces > 1 ? `${part.name} × ${part.pieces}` : part.name;
    found.set(what, {
      ticks: ticks === null ? null : (before?.ticks ?? 0) + ticks,
      lengths: [...(before?.lengths ?? []), ...lengths],
      count: count === null ? null : (before?.count ?? 0) + count,
      of: [...(before?.of ?? []), of],
    });
  }
  return [...found].map(([what, { ticks, lengths, count, of }]) => ({
    what,
    /** "in 4 lengths, the longest 3.9 m", "joined from 2 lengths at most"; '' where nothing has to be said */
    lengths: sayLengths(lengths, units),
    text: ticks === null ? countOf(count ?? 0, 'piece', 'pieces') : showLength(ticks, units, 'up'),
    of: listed(of),
  }));
}

function sayLengths(lengths: GarmentWant['lengths'], units: Units): string {
  const whole = lengths.filter(({ pieces }) => pieces === 1).map(({ ticks }) => ticks);
  const joined = lengths.flatMap(({ pieces }) => (pieces !== null && pieces > 1 ? [pieces] : []));
  const said = [
    ...(whole.length > 1
      ? [`in ${whole.length} lengths, the longest ${showLength(Math.max(...whole), units, 'up')}`]
      : []),
    ...(joined.length > 0 ? [`joined from ${Math.max(...joined)} lengths at most`] : []),
  ];
  return said.join('; ');
}

/** Cloth goes by its kind and shade, all else by what it is. */
function sayWhat(worked: WorkedGarment, { what, part, isCloth }: GarmentWant, names: Names): string {
  if (!isCloth || part === null) return what;
  const cloth = sayCloth(worked, part, names);
  return what === 'Cloth' ? cloth || 'Cloth, none chosen' : cloth ? `${what}, of ${cloth}` : what;
}

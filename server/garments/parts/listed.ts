import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { garmentPartPath, newPartPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { countOf, listed } from '../../kit/words.ts';
import { type Names, readNames } from '../garment/names.ts';
import { shapeOpening } from '../garment/opening.ts';
import type { WorkedGarment } from '../garment/worked.ts';
import type { PartWant } from './describing.ts';
import { type KeptPart, readKeptParts, type WorkedPart, workKeptParts } from './kept.ts';
import { sayPartAsked } from './said.ts';

/** The parts of a garment as its page and its book list them, and all that its opening and its parts take together. */
export function listParts(reader: Reader, worked: WorkedGarment, units: Units) {
  const { garment } = worked;
  const parts = workKeptParts(reader, garment.id);
  const names = namesOfParts(reader, parts);
  const isOpen = garment.finishedAt === null;
  const step = (part: KeptPart, verb: string) =>
    isOpen ? { action: `${garmentPartPath(garment.code, part.id)}/${verb}`, key: mintKey() } : null;
  const out = readKeptParts(reader, garment.id).filter(({ takenOutAt }) => takenOutAt !== null);
  return {
    add: isOpen ? newPartPath(garment.code) : null,
    rows: parts.map(({ kept, part, answer, problems }) => ({
      name: kept.name,
      href: garmentPartPath(garment.code, kept.id),
      kind: part.title,
      cloth: sayCloth(kept, names),
      pieces: kept.pieces,
      brief: answer
        ? answer.figures
            .filter(({ label }) => part.brief.includes(label))
            .map(({ label, value }) => `${label} ${value}`)
            .join('; ')
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
export function printParts(reader: Reader, { garment }: WorkedGarment) {
  const parts = workKeptParts(reader, garment.id);
  const names = namesOfParts(reader, parts);
  return parts.map(({ kept, part, answer, problems }) => ({
    name: kept.name,
    kind: part.title,
    cloth: sayCloth(kept, names),
    pieces: kept.pieces,
    asked: sayPartAsked(Object.values(part.draw(kept.unit, kept.asked))),
    answer,
    problems: problems.map(({ message }) => message),
  }));
}

function namesOfParts(reader: Reader, parts: readonly WorkedPart[]): Names {
  const clothIds = parts.flatMap(({ kept }) => kept.clothId ?? []);
  return readNames(
    reader,
    clothIds,
    parts.flatMap(({ kept }) => kept.shadeId ?? []),
  );
}

/** "Nylon organza 150, Deep tide"; '' where neither was chosen. */
function sayCloth({ clothId, shadeId }: KeptPart, names: Names): string {
  return [
    ...(clothId === null ? [] : [names.cloth(clothId)]),
    ...(shadeId === null ? [] : [names.shade(shadeId)]),
  ].join(', ');
}

/** One row for each thing: what is alike of several parts is added up. */
function wantsOf(worked: WorkedGarment, parts: readonly WorkedPart[], names: Names, units: Units) {
  const opening = shapeOpening(worked, units);
  const found = new Map<string, { ticks: number | null; count: number | null; of: string[] }>();
  for (const { kept, answer } of parts) {
    for (const want of answer?.wants ?? []) {
      // The garment counts its own opening; a part that asks for one beside it is not counted again.
      if (want.of === 'opening' && opening) continue;
      const what = sayWhat(want, kept, names);
      const before = found.get(what);
      found.set(what, {
        ticks: want.ticks === null ? null : (before?.ticks ?? 0) + want.ticks * kept.pieces,
        count: want.count === null ? null : (before?.count ?? 0) + want.count * kept.pieces,
        of: [...(before?.of ?? []), kept.pieces > 1 ? `${kept.name} × ${kept.pieces}` : kept.name],
      });
    }
  }
  return [
    ...(opening?.wants ?? []).map(({ what, text }) => ({ what, text, of: 'Opening' })),
    ...[...found].map(([what, { ticks, count, of }]) => ({
      what,
      text: ticks === null ? countOf(count ?? 0, 'piece', 'pieces') : showLength(ticks, units, 'up'),
      of: listed(of),
    })),
  ];
}

/** A trim goes by the name of its part, since each is bought by itself; cloth by its kind and shade. */
function sayWhat({ what, of }: PartWant, kept: KeptPart, names: Names): string {
  if (kept.kind === 'trim') return kept.name;
  if (of !== 'cloth') return what;
  const cloth = sayCloth(kept, names);
  return what === 'Cloth' ? cloth || 'Cloth, none chosen' : cloth ? `${what}, of ${cloth}` : what;
}

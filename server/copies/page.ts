import { join } from 'node:path';
import type { Book } from '../database/book.ts';
import { copiesIn, sizeOf } from '../database/folder.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { dayAfter, dayOf, showMoment } from '../kit/when.ts';
import type { Page } from '../web/page-frame.ts';
import { type Copier, copierOf } from './copier.ts';
import { COPY_RULES } from './form.ts';
import { sayWrongCopies } from './words.ts';

/** The copies of the book: when the last was made and the next will be, where they lie, and how far they are proved. */
export function copiesPage(book: Book, typed: Typed = {}) {
  const copier = copierOf(book);
  const { record, folder } = copier;
  const proofs = new Map(record.proofs.map((proof) => [proof.name, proof]));
  const copies = copiesIn(folder).map(({ name, at }) => {
    const proof = proofs.get(name);
    return {
      path: join(folder, name),
      made: showMoment(at),
      size: `${(sizeOf(join(folder, name)) / 1e6).toFixed(1)} MB`,
      proof: proof ? PROOFS[proof.how] : 'by the terminal, or not known',
    };
  });
  const data = {
    requestKey: mintKey(),
    fields: drawFields(COPY_RULES.shape, {
      hour: String(record.hour),
      second: record.second ?? '',
      ...typed,
    }),
    wrong: sayWrongCopies(book),
    isWorking: copier.isWorking,
    folder,
    next: copier.isBegun ? sayNext(copier, book.now()) : '',
    second: record.second === null ? null : saySecond(record),
    drilled: record.drilled ? showMoment(record.drilled.at) : '',
    drillFailed: record.drilled?.failure ?? '',
    copies,
  };
  return { view: 'copies/copies', data, title: 'Copies', room: 'setup' } satisfies Page;
}

const PROOFS = {
  quick: 'pages, guards and references',
  whole: 'all that “check” proves',
} as const;

function sayNext({ record: { hour }, lastAt }: Copier, now: string): string {
  const clock = `${String(hour).padStart(2, '0')}:00`;
  const isToday = new Date(now).getHours() <= hour && (lastAt === null || dayOf(lastAt) !== dayOf(now));
  const day = isToday ? dayOf(now) : dayAfter(dayOf(now), 1);
  return `${showMoment(`${day}T${clock}`)}, and when Clothroom is stopped`;
}

function saySecond({ second, carried, carriedWellAt }: Copier['record']) {
  return {
    folder: second ?? '',
    last: carriedWellAt ? showMoment(carriedWellAt) : '',
    failure: carried?.failure ?? '',
  };
}

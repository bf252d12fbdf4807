import type { Reader } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems, unknown } from '../../refusal.ts';
import { readSewing } from '../../setup/rates/store.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { bareUnit } from '../quick/band-form.ts';
import { BIAS, FLOUNCE, PLEATS, REPEAT } from './cloth-parts.ts';
import { type Part, partWords } from './describing.ts';
import { CAGE, CLOSING, GATHERING, TRIM } from './sewn-parts.ts';

export const PARTS = '/garments/parts';

const ALL: readonly Part[] = [FLOUNCE, PLEATS, BIAS, REPEAT, CLOSING, CAGE, TRIM, GATHERING];

const linkTo = ({ slug, title, about }: Part) => ({ href: `${PARTS}/${slug}`, title, about });

/** The parts of a garment that can be worked out, one page each. */
export function partsPage() {
  const data = { parts: ALL.map(linkTo) };
  return { view: 'garments/parts/list', data, title: 'Parts', room: 'garments' } satisfies Page;
}

/** A part as the address asks for it: filled in with the usual figures at first. Nothing is saved. */
export function partPage(reader: Reader, slug: string, asked: Typed, { units }: Asker) {
  const part = ALL.find((each) => each.slug === slug);
  if (!part) throw unknown('such part');
  const { unit: askedUnit, ...given } = asked;
  const unit = bareUnit(askedUnit, units);
  const isBlank = Object.keys(given).length === 0;
  const typed = isBlank ? part.usual(unit) : given;
  const { value: result, problems } = orProblems(() =>
    isBlank ? null : part.workOut(unit, typed, partWords(unit, readSewing(reader))),
  );
  const data = {
    action: `${PARTS}/${slug}`,
    about: part.about,
    sources: part.sources,
    unit,
    fields: Object.values(part.draw(unit, typed)),
    /** null before it is asked, and where it cannot be worked out */
    result: result ?? null,
    others: ALL.filter((each) => each !== part).map(linkTo),
  };
  return {
    view: 'garments/parts/worked',
    data,
    title: part.title,
    room: 'garments',
    problems,
  } satisfies Page;
}

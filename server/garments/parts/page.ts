import type { Reader } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems } from '../../refusal.ts';
import { readSewing } from '../../setup/rates/store.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { bareUnit } from '../quick/band-form.ts';
import { PART_KINDS, partOfKind } from './all.ts';
import { groupedFields, type Part, partWords } from './describing.ts';
import { sayPartAsked } from './said.ts';

export const PARTS = '/garments/parts';

const linkTo = ({ slug, title, about }: Part) => ({ href: `${PARTS}/${slug}`, title, about });

/** The parts of a garment that can be worked out, one page each. */
export function partsPage() {
  const data = { parts: PART_KINDS.map(linkTo) };
  return { view: 'garments/parts/list', data, title: 'Parts', room: 'garments' } satisfies Page;
}

/** A part as the address asks for it: filled in with the usual figures at first. Nothing is saved. */
export function partPage(reader: Reader, slug: string, asked: Typed, { units }: Asker) {
  const part = partOfKind(slug);
  const { unit: askedUnit, ...given } = asked;
  const unit = bareUnit(askedUnit, units);
  const isBlank = Object.keys(given).length === 0;
  const typed = isBlank ? part.usual(unit) : given;
  const { value: result, problems } = orProblems(() =>
    isBlank ? null : part.workOut(unit, typed, partWords(unit, readSewing(reader), null)),
  );
  const drawn = Object.values(part.draw(unit, typed));
  const data = {
    action: `${PARTS}/${slug}`,
    about: part.about,
    sources: part.sources,
    unit,
    groups: groupedFields(part, drawn, ''),
    /** what was asked, for print */
    asked: sayPartAsked(drawn),
    /** null before it is asked, and where it cannot be worked out */
    result: result ?? null,
    others: PART_KINDS.filter((each) => each !== part).map(linkTo),
  };
  return {
    view: 'garments/parts/worked',
    data,
    title: part.title,
    room: 'garments',
    problems,
  } satisfies Page;
}

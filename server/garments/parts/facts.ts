import type { Fact } from '../garment/facts.ts';
import type { Names } from '../garment/names.ts';
import { partOfKind } from './all.ts';
import type { KeptPart } from './record.ts';
import { sayPartAsked } from './said.ts';

/** What a part is asked to be, in words, each with the value that tells whether it changed. */
export function partFacts(
  { kind, name, unit, asked, pieces, clothId, shadeId }: KeptPart,
  names: Names,
): Fact[] {
  const part = partOfKind(kind);
  const figures = sayPartAsked(Object.values(part.draw(unit, asked)));
  const chosen = (what: string, id: number | null, nameOf: (id: number) => string): Fact => ({
    what,
    text: id === null ? 'as the garment' : nameOf(id),
    value: id,
  });
  return [
    { what: 'Name', text: name, value: name },
    { what: 'Kind', text: part.title, value: kind },
    chosen('Cloth', clothId, names.cloth),
    chosen('Shade', shadeId, names.shade),
    { what: 'How many alike', text: String(pieces), value: pieces },
    ...figures.map(({ label, text }) => ({ what: label, text, value: text })),
  ];
}

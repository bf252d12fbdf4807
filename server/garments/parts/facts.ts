import type { Fact } from '../garment/facts.ts';
import type { Names } from '../garment/names.ts';
import { partOfKind } from './all.ts';
import { clothOfSize } from './cut.ts';
import type { KeptPart } from './record.ts';
import { sayPartAsked } from './said.ts';

/** What a part is besides what was asked of it, each with the value that tells whether it changed. */
export function partFacts({ kind, name, asked, pieces, clothId, shadeId }: KeptPart, names: Names): Fact[] {
  const { title, sizes } = partOfKind(kind);
  const chosen = (
    what: string,
    id: number | null,
    nameOf: (id: number) => string,
    blank = 'as the garment',
  ): Fact => ({
    what,
    text: () => (id === null ? blank : nameOf(id)),
    value: id,
  });
  return [
    { what: 'Name', text: () => name, value: name },
    { what: 'Kind', text: () => title, value: kind },
    chosen('Cloth', clothId, names.cloth),
    chosen('Shade', shadeId, names.shade),
    ...sizes
      .filter(({ hasCloth }) => hasCloth)
      .flatMap(({ key, name: size }) => {
        const of = clothOfSize({ kind, asked }, key);
        return [
          chosen(`Cloth of the ${size}`, of.clothId, names.cloth, 'as the part'),
          chosen(`Shade of the ${size}`, of.shadeId, names.shade, 'as the part'),
        ];
      }),
    { what: 'How many alike', text: () => String(pieces), value: pieces },
  ];
}

/** What was asked of a part, in words. */
export function askedFacts({ kind, unit, asked }: KeptPart): Fact[] {
  const figures = sayPartAsked(Object.values(partOfKind(kind).draw(unit, asked)));
  return figures.map(({ label, text }) => ({ what: label, text: () => text, value: text }));
}

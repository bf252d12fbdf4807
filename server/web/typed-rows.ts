import type { Typed } from '../kit/typed.ts';

/** A row of a form with its place in the list, which the names of its fields carry. */
export type TypedRow<Name extends string> = { readonly index: number } & { readonly [N in Name]: string };

/** So many rows of a list as they were typed, for drawing them again; '' where nothing was typed. */
export function typedRows<const Name extends string>(
  typed: Typed,
  list: string,
  names: readonly Name[],
  count: number,
): TypedRow<Name>[] {
  return Array.from({ length: count }, (_, index) => {
    const cells = names.map((name) => [name, typed[`${list}.${index}.${name}`] ?? '']);
    return { index, ...Object.fromEntries(cells) };
  });
}

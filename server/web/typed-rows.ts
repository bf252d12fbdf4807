import type { Typed } from '../kit/typed.ts';

/** How many rows of a list a form had, those between that were left blank counted in. */
export function countTyped(typed: Typed, list: string): number {
  const row = new RegExp(`^${list}\\.(\\d+)\\.`);
  return Math.max(-1, ...Object.keys(typed).map((name) => Number(row.exec(name)?.[1] ?? -1))) + 1;
}

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

import { address, queryNumber } from './address.ts';

export const PAGE_ROWS = 20;

/** What partials/pager draws. */
export interface Pager {
  readonly from: number;
  readonly to: number;
  readonly total: number;
  readonly noun: string;
  readonly previous: string | null;
  readonly next: string | null;
}

/** Groups of rows in order: those that the rows of a page lie in, and how many rows of them come before the page. */
export function groupsOnPage<T extends { readonly pieces: number }>(
  groups: readonly T[],
  { offset, pager }: Slice,
) {
  let before = 0;
  let skip = 0;
  const here = groups.filter(({ pieces }) => {
    const from = before;
    before += pieces;
    if (from <= offset) skip = offset - from;
    return before > offset && from < pager.to;
  });
  return { here, skip };
}

export interface Slice {
  readonly offset: number;
  readonly pager: Pager;
}

/**
 * The rows of a list that the asked page shows. A page beyond the last is the last, so that a list that became
 * shorter is never an empty page.
 */
export function sliceOf(
  query: unknown,
  list: {
    readonly total: number;
    readonly noun: string;
    readonly path: string;
    readonly kept?: Readonly<Record<string, string>>;
    /** how many a page has */
    readonly rows?: number;
  },
): Slice {
  const rows = list.rows ?? PAGE_ROWS;
  const last = Math.max(1, Math.ceil(list.total / rows));
  const page = Math.min(queryNumber(query, 'page') ?? 1, last);
  const offset = (page - 1) * rows;
  const to = (number: number) =>
    address(list.path, { ...list.kept, page: number === 1 ? null : String(number) });
  return {
    offset,
    pager: {
      from: list.total === 0 ? 0 : offset + 1,
      to: Math.min(offset + rows, list.total),
      total: list.total,
      noun: list.noun,
      previous: page > 1 ? to(page - 1) : null,
      next: page < last ? to(page + 1) : null,
    },
  };
}

import { describe, expect, it } from 'vitest';
import { groupsOnPage, sliceOf } from '../../../server/kit/paging.ts';

describe('groups on a page', () => {
  const groups = [3, 0, 4, 2].map((pieces, place) => ({ name: 'abcd'[place], pieces }));
  const list = { total: 9, noun: 'pieces', path: '/shelf', rows: 3 };

  it.each([
    ['1', 'a', 0],
    ['2', 'c', 0],
    ['3', 'cd', 3],
  ])('page %s has rows of %s, behind %i of them', (page, names, skip) => {
    const found = groupsOnPage(groups, sliceOf({ page }, list));
    expect(found.here.map(({ name }) => name).join('')).toBe(names);
    expect(found.skip).toBe(skip);
  });

  it('are none of an empty list', () => {
    expect(groupsOnPage([], sliceOf({}, { ...list, total: 0 }))).toEqual({ here: [], skip: 0 });
  });
});

import { expect, it } from 'vitest';
import { onceFor } from '../../../server/kit/once.ts';

it('is worked out once for each object, also where nothing comes of it', () => {
  const asked: object[] = [];
  const count = onceFor((of: { readonly strips?: number }) => {
    asked.push(of);
    return of.strips;
  });
  const [three, none] = [{ strips: 3 }, {}];
  expect([count(three), count(none), count(three), count(none)]).toEqual([3, undefined, 3, undefined]);
  expect(asked).toEqual([three, none]);
  expect(count({ strips: 3 })).toBe(3);
  expect(asked).toHaveLength(3);
});

/**
 * What came of reading something a person typed.
 *
 * `echo` says what was understood, in plain words, so that it can be shown back; `exact` is false where the
 * value had to be rounded to the unit that is stored. `reason` is a sentence for the person who typed it.
 */
export type Reading<T> =
  | { readonly ok: true; readonly value: T; readonly echo: string; readonly exact: boolean }
  | { readonly ok: false; readonly reason: string };

export function refused(reason: string): { readonly ok: false; readonly reason: string } {
  return { ok: false, reason };
}

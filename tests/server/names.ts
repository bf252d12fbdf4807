const last = new Map<string, number>();

/** A number that nothing else of its kind has in the books of this test file. */
export function nextName(kind: 'thing' | 'batch'): number {
  const next = (last.get(kind) ?? 0) + 1;
  last.set(kind, next);
  return next;
}

/** Begins at 1 again, so that what a test file names does not hang on the files that ran before it. */
export function startNames(): void {
  last.clear();
}

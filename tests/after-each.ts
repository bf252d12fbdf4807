const works: (() => unknown)[] = [];

/**
 * What a helper clears up after each test of every file. The files of one worker share their modules, so that a hook of
 * the runner would be set for the first file that imports the helper, and for no other.
 */
export function afterEachTest(work: () => unknown): void {
  works.unshift(work);
}

/** The last helper first, since it may stand on those before. */
export async function clearUp(): Promise<void> {
  for (const work of works) await work();
}

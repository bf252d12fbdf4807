import { Session } from 'node:inspector/promises';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = resolve(import.meta.dirname, '..');

/** How often a function ran in the thread that counts. */
export interface Called {
  /** from the project's folder */
  readonly file: string;
  readonly name: string;
  readonly times: number;
}

/**
 * Does some work and counts which functions of the project ran meanwhile in this thread. The engine counts them for each
 * thread apart, so what ran in another is not among them.
 */
export async function callsDuring(work: () => Promise<void>): Promise<Called[]> {
  const session = new Session();
  session.connect();
  try {
    await session.post('Profiler.enable');
    await session.post('Profiler.startPreciseCoverage', { callCount: true, detailed: false });
    // What was called before does not count.
    await session.post('Profiler.takePreciseCoverage');
    await work();
    const { result } = await session.post('Profiler.takePreciseCoverage');
    await session.post('Profiler.stopPreciseCoverage');
    return result.flatMap(({ url, functions }) => {
      const path = url.startsWith('file:') ? fileURLToPath(url) : url;
      if (!path.startsWith(`${ROOT}/`) || path.includes('/node_modules/')) return [];
      const file = path.slice(ROOT.length + 1);
      return functions.flatMap(({ functionName: name, ranges }) => {
        const times = ranges[0]?.count ?? 0;
        return times > 0 && name !== '' ? [{ file, name, times }] : [];
      });
    });
  } finally {
    session.disconnect();
  }
}

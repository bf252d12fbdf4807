import type { Reader } from '../../database/book.ts';
import { sliceOf } from '../../kit/paging.ts';
import { swatchPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import type { Page } from '../../web/page-frame.ts';
import { lastVerdict, readResults, type SwatchResult, selectJobs } from './store.ts';

/** All swatch jobs, the newest first, each with what came of its swatches. */
export function swatchesPage(reader: Reader, query: unknown) {
  const total = reader.first(
    reader.db.selectFrom('swatch_job').select((of) => of.fn.countAll<number>().as('total')),
  )?.total;
  const { offset, pager } = sliceOf(query, {
    total: total ?? 0,
    noun: 'swatch jobs',
    path: '/dye-bench/swatches',
    kept: {},
  });
  const jobs = reader.all(selectJobs(reader.db).orderBy('swatch_job.id', 'desc').limit(50).offset(offset));
  const swatches = readSwatchIds(
    reader,
    jobs.map(({ id }) => id),
  );
  const results = readResults(
    reader,
    swatches.map(({ id }) => id),
  );
  const data = {
    jobs: jobs.map((job) => {
      const mine = swatches.filter(({ job_id }) => job_id === job.id).map(({ id }) => id);
      return {
        code: job.code,
        href: swatchPath(job.code),
        cloth: job.cloth_name,
        lot: job.lot_code,
        planned: `${job.planned_by}, ${showMoment(job.planned_at)}`,
        said: sayOutcome(mine, results),
      };
    }),
    pager,
  };
  return { view: 'dye-bench/swatch/swatches', data, title: 'Swatches', room: 'dye-bench' } satisfies Page;
}

function readSwatchIds(reader: Reader, jobIds: readonly number[]) {
  if (jobIds.length === 0) return [];
  return reader.all(
    reader.db
      .selectFrom('swatch')
      .select(['id', 'job_id'])
      .where('job_id', 'in', [...jobIds]),
  );
}

/** "2 of 5 approved, 1 to be adjusted, 2 not judged yet". */
function sayOutcome(swatchIds: readonly number[], results: readonly SwatchResult[]): string {
  const verdicts = swatchIds.map(
    (id) => lastVerdict(results.filter(({ swatchId }) => swatchId === id))?.verdict ?? null,
  );
  const count = (wanted: string | null) => verdicts.filter((verdict) => verdict === wanted).length;
  const [approved, adjusted, gone, open] = [
    count('approved'),
    count('adjusted'),
    count('given up'),
    count(null),
  ];
  const all = wordFor(swatchIds.length, 'one swatch', `${swatchIds.length} swatches`);
  const parts = [
    approved > 0 ? `${approved} approved` : '',
    adjusted > 0 ? `${adjusted} to be adjusted` : '',
    gone > 0 ? `${gone} given up` : '',
    open > 0 ? `${open} not judged yet` : '',
  ];
  return `${all}: ${parts.filter((part) => part !== '').join(', ')}`;
}

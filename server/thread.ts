import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Worker, type WorkerOptions } from 'node:worker_threads';

// The program runs from its TypeScript sources, and a thread of its own must first be told how to read them.
const required = createRequire(import.meta.url).resolve('tsx/esm/api');
const LOADER = pathToFileURL(required.replace(/cjs$/, 'mjs')).href;
const START = `
  const { loader, thread } = require('node:worker_threads').workerData;
  import(loader).then(({ register }) => {
    register();
    return import(thread);
  });
`;

/** Starts a module of ours in a thread of its own; `given` is what the module finds in `workerData.given`. */
export function startThread(module: URL, given: unknown = null, options: WorkerOptions = {}): Worker {
  const workerData = { loader: LOADER, thread: module.href, given };
  // What the program itself was started with is not for a thread.
  return new Worker(START, { execArgv: [], ...options, eval: true, workerData });
}

import { Worker, type WorkerOptions } from 'node:worker_threads';

/** Starts a module of ours in a thread of its own; `given` is what the module finds in `workerData.given`. */
export function startThread(module: URL, given: unknown = null, options: WorkerOptions = {}): Worker {
  // What the program itself was started with is not for a thread.
  return new Worker(module, { execArgv: [], ...options, workerData: { given } });
}

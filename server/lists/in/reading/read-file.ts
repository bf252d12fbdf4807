import { ProcessRunner, Unanswered } from '../../../process.ts';
import type { SomeRows, WhyUnreadable } from './process.ts';
import { rowsOf } from './rows.ts';
import { isWorkbook } from './zip.ts';

const runner = new ProcessRunner<Uint8Array, WhyUnreadable, SomeRows>(
  new URL('./process.ts', import.meta.url),
  {
    mostMs: 60_000,
    mostMemoryMb: 700,
    isSingleUse: true,
  },
);
/** A text of this size is read in some milliseconds, less than a process takes to start. */
const SHORT_BYTES = 128 * 1024;

/** What reads a file, so that whoever writes the rows down can end it. */
export interface FileReading {
  /** Rows as they come; throws an Error with a sentence for the person where the file cannot be read. */
  rows(): AsyncGenerator<SomeRows>;
  stop(): void;
}

/**
 * Reads a list in a process of its own, with bounds on its memory and time, so that no file holds up a page or takes
 * the program with it.
 */
export function readListFile(bytes: Uint8Array): FileReading {
  return bytes.length <= SHORT_BYTES && !isWorkbook(bytes) ? readShort(bytes) : readInProcess(bytes);
}

function readShort(bytes: Uint8Array): FileReading {
  return {
    async *rows() {
      yield rowsOf(bytes);
    },
    stop: () => undefined,
  };
}

/** Ends when the last file that was handed in is read: each may take as much memory as the machine can spare. */
let lastTurn: Promise<void> = Promise.resolve();

/** Files that need a process are read one at a time, in the order in which they came. */
function readInProcess(bytes: Uint8Array): FileReading {
  const turn = lastTurn;
  let leave: () => void = () => undefined;
  lastTurn = new Promise((resolve) => {
    leave = resolve;
  });
  const stopping = new AbortController();
  return {
    async *rows() {
      try {
        await turn;
        yield* rowsAsRead(bytes, stopping.signal);
      } finally {
        stopping.abort();
        leave();
      }
    },
    stop: () => stopping.abort(),
  };
}

async function* rowsAsRead(bytes: Uint8Array, signal: AbortSignal): AsyncGenerator<SomeRows> {
  const heard: SomeRows[] = [];
  let why: WhyUnreadable | null = null;
  let wake: () => void = () => undefined;
  const hear = (rows: SomeRows) => {
    heard.push(rows);
    wake();
  };
  void runner
    .ask(bytes, { hear, signal })
    .catch(sayLost)
    .then((said) => {
      why = said;
      wake();
    });
  for (;;) {
    const rows = heard.shift();
    if (signal.aborted) throw new Error(STOPPED);
    if (rows) yield rows;
    else if (why === '') return;
    else if (why !== null) throw new Error(why);
    else await new Promise<void>((resolve) => (wake = resolve));
  }
}

const STOPPED = 'Reading was stopped.';

function sayLost(error: Error): WhyUnreadable {
  const why = error instanceof Unanswered ? error.why : '';
  if (why === 'stopped') return STOPPED;
  if (why === 'late') return 'Reading took longer than a minute and was stopped.';
  return 'This file is too large or too tangled to be read: save the one sheet as CSV, or divide it.';
}

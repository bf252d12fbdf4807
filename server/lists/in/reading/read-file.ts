import { startThread } from '../../../thread.ts';
import { rowsOf } from './rows.ts';
import type { ReadTold } from './thread.ts';
import { isWorkbook } from './zip.ts';

const MOST_MS = 60_000;
/** A text of this size is read in some milliseconds, less than a thread takes to start. */
const SHORT_BYTES = 128 * 1024;

/** What reads a file, so that whoever writes the rows down can end it. */
export interface FileReading {
  /** Rows as they come; throws an Error with a sentence for the person where the file cannot be read. */
  rows(): AsyncGenerator<readonly (readonly string[])[]>;
  stop(): void;
}

/**
 * Reads a list in a thread of its own, with bounds on its memory and time, so that no file holds up a page or takes
 * the program with it.
 */
export function readListFile(bytes: Uint8Array): FileReading {
  return bytes.length <= SHORT_BYTES && !isWorkbook(bytes) ? readShort(bytes) : readInThread(bytes);
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

/** Files that need a thread are read one at a time, in the order in which they came. */
function readInThread(bytes: Uint8Array): FileReading {
  const turn = lastTurn;
  let leave: () => void = () => undefined;
  lastTurn = new Promise((resolve) => {
    leave = resolve;
  });
  let reading: FileReading | null = null;
  let isStopped = false;
  return {
    async *rows() {
      try {
        await turn;
        if (isStopped) throw new Error(STOPPED);
        reading = startReading(bytes);
        yield* reading.rows();
      } finally {
        leave();
      }
    },
    stop: () => {
      isStopped = true;
      reading?.stop();
    },
  };
}

const STOPPED = 'Reading was stopped.';

function startReading(bytes: Uint8Array): FileReading {
  const worker = startThread(
    new URL('./thread.ts', import.meta.url),
    { bytes },
    { resourceLimits: { maxOldGenerationSizeMb: 700 } },
  );
  const heard: ReadTold[] = [];
  let wake: () => void = () => undefined;
  const hear = (told: ReadTold) => {
    heard.push(told);
    wake();
  };
  const timer = setTimeout(() => {
    hear({ kind: 'failed', message: 'Reading took longer than a minute and was stopped.' });
    void worker.terminate();
  }, MOST_MS);
  const lost = 'This file is too large or too tangled to be read: save the one sheet as CSV, or divide it.';
  worker.on('message', hear);
  worker.on('error', () => hear({ kind: 'failed', message: lost }));
  worker.on('exit', () => hear({ kind: 'failed', message: lost }));
  return {
    async *rows() {
      try {
        for (;;) {
          const told = heard.shift();
          if (told === undefined) await new Promise<void>((resolve) => (wake = resolve));
          else if (told.kind === 'rows') yield told.rows;
          else if (told.kind === 'done') return;
          else throw new Error(told.message);
        }
      } finally {
        clearTimeout(timer);
        await worker.terminate();
      }
    },
    stop: () => hear({ kind: 'failed', message: STOPPED }),
  };
}

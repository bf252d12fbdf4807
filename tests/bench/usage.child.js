// Preloaded into a server that is measured: tells whoever started it what its thread and its memory have used. Plain
// JavaScript, so that what reads TypeScript is not loaded with it: that holds some 10 MB.

/** The longest turn of the event loop, milliseconds of the thread; -1 while nobody watches. */
let longestMs = -1;
let turnFromMs = 0;

function threadMs() {
  const { user, system } = process.threadCpuUsage();
  return (user + system) / 1000;
}

/** Turns all the time, so that what lies between two turns is one piece of work. Counted by the processor, not the clock: others may run meanwhile. */
function turn() {
  if (longestMs < 0) return;
  const nowMs = threadMs();
  longestMs = Math.max(longestMs, nowMs - turnFromMs);
  turnFromMs = nowMs;
  setImmediate(turn);
}

process.on('message', (asked) => {
  const { user, system } = process.cpuUsage();
  process.send?.({
    threadMs: threadMs(),
    processMs: (user + system) / 1000,
    residentMb: process.memoryUsage.rss() / 2 ** 20,
    longestMs: Math.max(longestMs, 0),
  });
  if (asked === 'usage') return;
  const isWatched = longestMs >= 0;
  longestMs = asked === 'watch' ? 0 : -1;
  turnFromMs = threadMs();
  if (asked === 'watch' && !isWatched) setImmediate(turn);
});
process.channel?.unref();

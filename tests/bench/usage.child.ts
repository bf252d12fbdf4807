// Preloaded into a server that is measured: tells whoever started it what its thread and its memory have used.
process.on('message', () => {
  const { user, system } = process.threadCpuUsage();
  const all = process.cpuUsage();
  process.send?.({
    threadMs: (user + system) / 1000,
    processMs: (all.user + all.system) / 1000,
    residentMb: process.memoryUsage.rss() / 2 ** 20,
  });
});
process.channel?.unref();

// Counts down to the end of a step: <p data-timer="725"><span data-left>…</span></p>. The seconds come from the
// server, which reads them off the log, so a reload or a restart changes nothing; without this script the page says
// until when, and a reload says how much is left.
(() => {
  const drawnAt = Date.now();
  const timers = document.querySelectorAll('[data-timer]');

  function say(seconds) {
    const size = Math.abs(seconds);
    const clock = `${Math.floor(size / 60)}:${String(size % 60).padStart(2, '0')}`;
    return seconds >= 0 ? `${clock} left` : `${clock} over`;
  }

  function tick() {
    const gone = Math.floor((Date.now() - drawnAt) / 1000);
    for (const timer of timers) {
      const left = Number(timer.dataset.timer) - gone;
      timer.classList.toggle('over', left < 0);
      const place = timer.querySelector('[data-left]');
      if (place) place.textContent = say(left);
    }
  }

  if (timers.length === 0) return;
  tick();
  setInterval(tick, 1000);
})();

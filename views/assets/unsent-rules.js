// What becomes of work that was done at a bench and may not have reached the book. No page, no network, no clock in here.
(() => {
  const OWNED = /^w(\d+)-\d+-([0-9a-f]{6})_/;

  /** What an answer means for what was sent; 0 is no answer. What a later try may cure is kept, the rest is for a person. */
  function verdictOf(status) {
    if (status >= 200 && status < 300) return 'saved';
    if (status < 400 || status >= 500 || [401, 408, 421, 429].includes(status)) return 'later';
    return 'refused';
  }

  /** Whether a key is that of the person and the book whose page this is; the device may have been let in anew. */
  function isOf(key, prefix) {
    const [, person, mark] = OWNED.exec(key) ?? [];
    const [, ours, book] = OWNED.exec(prefix) ?? [];
    return person !== undefined && person === ours && mark === book;
  }

  /** A further key of the same person, device and book; null where the key is nobody's. */
  function furtherKey(key, bytes) {
    const [prefix] = OWNED.exec(key) ?? [];
    if (prefix === undefined) return null;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
    const parts = [0, 8, 12, 16, 20, 32].map((from, i, all) => hex.slice(from, all[i + 1]));
    return prefix + parts.slice(0, 5).join('-');
  }

  /** Whole seconds that something waited; a clock that was set back counts as none. */
  function waitedSeconds(doneAtMs, nowMs) {
    return Math.max(0, Math.floor((nowMs - doneAtMs) / 1000));
  }

  const MINUTE = 60;
  const UNITS = [
    [24 * 60 * MINUTE, 'day'],
    [60 * MINUTE, 'hour'],
    [MINUTE, 'minute'],
  ];

  /** "just now", "5 minutes ago", "2 days ago". */
  function sayAge(seconds) {
    const [size, name] = UNITS.find(([unit]) => seconds >= unit) ?? [0, ''];
    if (size === 0) return 'just now';
    const count = Math.floor(seconds / size);
    return `${count} ${name}${count === 1 ? '' : 's'} ago`;
  }

  /** Seconds until the next try after so many in vain. */
  function patience(tries) {
    return Math.min(5 * 2 ** Math.max(0, tries - 3), 15);
  }

  /** In the order in which it was done. */
  function inOrder(items) {
    return items.toSorted((a, b) => a.doneAt - b.doneAt || (a.key < b.key ? -1 : 1));
  }

  globalThis.unsentRules = { verdictOf, isOf, furtherKey, waitedSeconds, sayAge, patience, inOrder };
})();

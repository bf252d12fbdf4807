// Tells that somebody else changed what this page shows: <div data-pulse="/pulse?…">. It changes nothing on the page by
// itself, since a hand may be on its way to a button; a page that nobody looks at does not ask.
(() => {
  const EVERY_MS = 15_000;
  const PATIENCE_MS = 8000;
  const page = document.querySelector('[data-pulse]');
  if (!page) return;
  let timer;
  let told = '';

  async function ask() {
    const answer = await fetch(page.dataset.pulse, {
      cache: 'no-store',
      headers: { accept: 'application/json' },
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    if (answer.ok) document.dispatchEvent(new Event('clothroom:answers'));
    if (answer.status === 200) tell(await answer.json());
  }

  function element(tag, text, className = '') {
    const made = document.createElement(tag);
    made.textContent = text;
    made.className = className;
    return made;
  }

  function tell({ said, more }) {
    const lines = [...said, ...(more > 0 ? [`and ${more} more`] : [])];
    if (lines.join('\n') === told) return;
    told = lines.join('\n');
    const again = element('a', 'Show the page as it is now', 'button');
    const now = new URL(location.href);
    now.searchParams.delete('done');
    again.href = now.href;
    const later = element('button', 'Not now');
    later.type = 'button';
    const slip = element('div', '', 'slip slip-note pulse');
    later.addEventListener('click', () => slip.remove());
    const list = document.createElement('ul');
    list.append(...lines.map((line) => element('li', line)));
    const actions = element('p', '', 'actions');
    actions.append(again, later);
    slip.append(element('b', 'Changed', 'slip-kind'), list, actions);
    document.getElementById('changed')?.replaceChildren(slip);
  }

  async function beat() {
    clearTimeout(timer);
    if (document.hidden) return;
    await ask().catch(() => undefined);
    clearTimeout(timer);
    if (!document.hidden) timer = setTimeout(beat, EVERY_MS);
  }

  document.addEventListener('visibilitychange', beat);
  window.addEventListener('pageshow', (event) => event.persisted && beat());
  if (!document.hidden) timer = setTimeout(beat, EVERY_MS);
})();

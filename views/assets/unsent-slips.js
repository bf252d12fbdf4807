// What a page says of work that is kept on the device: "Not sent yet", "Not saved", "Sent". Drawn here alone, since the book
// knows nothing of it.
(() => {
  const { sayAge, waitedSeconds } = globalThis.unsentRules;
  const CLOCK = new Intl.DateTimeFormat('en-GB', { timeStyle: 'short' });
  const MOMENT = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

  function element(tag, { text, ...attributes } = {}, ...children) {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    if (text !== undefined) made.textContent = text;
    made.append(...children);
    return made;
  }

  function button(text, onPress) {
    const made = element('button', { type: 'button', text });
    made.addEventListener('click', onPress);
    return made;
  }

  /** whether the list of what is kept stands open; it stays so while it is drawn again */
  let isOpen = false;

  function slip(kind, label, text, ...more) {
    const lead = element('p', {}, element('b', { class: 'slip-kind', text: label }), ` ${text}`);
    return element('div', { class: `slip slip-${kind}` }, lead, ...more);
  }

  /** "done at 14:05, 12 minutes ago" */
  function sayDone({ doneAt }, now) {
    const isToday = new Date(doneAt).toDateString() === new Date(now).toDateString();
    const when = isToday ? `at ${CLOCK.format(doneAt)}` : MOMENT.format(doneAt);
    return `done ${when}, ${sayAge(waitedSeconds(doneAt, now))}`;
  }

  function sayWhat({ what, details }) {
    return details === '' ? what : `${what}: ${details}`;
  }

  function unsentSlip(items, now, { onDelete }) {
    const rows = items.map((item) =>
      element(
        'li',
        {},
        element('span', { text: `${sayWhat(item)}, ${sayDone(item, now)}.` }),
        button('Delete', () => onDelete(item)),
      ),
    );
    const list = element('ul', { class: 'unsent-list' }, ...rows);
    const why = items.find(({ reason }) => reason)?.reason ?? '';
    const [only] = items;
    const told = `${items.length === 1 ? `${sayWhat(only)}, ${sayDone(only, now)}. It is` : `${items.length} entries are`} kept on this device and sent once the workroom’s computer answers.`;
    const fold = element(
      'details',
      {},
      element('summary', { text: items.length === 1 ? 'Delete it' : 'See them' }),
      list,
    );
    fold.open = isOpen;
    fold.addEventListener('toggle', () => {
      isOpen = fold.open;
    });
    return slip('warn', 'Not sent yet', why === '' ? told : `${told} ${why}`, fold);
  }

  function refusedSlip(item, now, { onCorrect, onAsk }) {
    const ways = [button('What happened?', () => onAsk(item))];
    // Only what was typed can be typed better; what changed in the book meanwhile cannot.
    if (item.status === 422) ways.unshift(button('Correct it', () => onCorrect(item)));
    ways[0].className = 'main';
    const actions = element('p', { class: 'actions' }, ...ways);
    return slip('stop', 'Not saved', `${sayWhat(item)}, ${sayDone(item, now)}. ${item.reason}`, actions);
  }

  function deletedSlip(item, { onKeep }) {
    const told = item.tried
      ? 'It is not sent again; look in the book whether it got there before.'
      : 'It is not sent.';
    return slip(
      'note',
      'Deleted',
      `${sayWhat(item)}. ${told}`,
      button('Keep it after all', () => onKeep(item)),
    );
  }

  /** The address of this page without what it told as done. */
  function pageAsItIs() {
    const url = new URL(location.href);
    url.searchParams.delete('done');
    return url.href;
  }

  function sentSlip(said) {
    const again = element('p', {}, element('a', { href: pageAsItIs(), text: 'Show the page as it is now' }));
    const [only] = said;
    if (said.length === 1) return slip('ok', 'Sent', only, again);
    const rows = said.map((text) => element('li', { text }));
    return slip(
      'ok',
      'Sent',
      `${said.length} entries that were kept on this device:`,
      element('ul', {}, ...rows),
      again,
    );
  }

  /** On a page of nobody, or of a stranger: whose work waits here, and nothing of what it is. */
  function othersSlip(items) {
    const counts = new Map();
    for (const { who } of items) counts.set(who, (counts.get(who) ?? 0) + 1);
    const said = [...counts].map(([who, count]) => `${count} of ${who}`).join(', ');
    return slip(
      'warn',
      'Not sent yet',
      `Entries are kept on this device: ${said}. They are sent once that person signs in here.`,
    );
  }

  let place;

  /** Shows slips. Of itself it moves nothing that a hand may be on its way to: `still` is what nobody asked for just now. */
  function show(slips, still) {
    place ??= document.getElementById('unsent');
    if (!place) return;
    const before = place.offsetHeight;
    place.style.minHeight = still ? `${before}px` : '';
    place.replaceChildren(...slips);
    if (still) window.scrollBy(0, place.offsetHeight - before);
  }

  globalThis.unsentSlips = {
    show,
    slip,
    sayWhat,
    unsentSlip,
    refusedSlip,
    deletedSlip,
    sentSlip,
    othersSlip,
  };
})();

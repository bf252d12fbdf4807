// Work at a bench is kept on the device before it is sent, and until the book has answered: a form with data-work, which
// names the work. It is sent as the person who did it, once, however often it is tried.
(() => {
  const { verdictOf, isOf, furtherKey, waitedSeconds, patience, inOrder } = globalThis.unsentRules;
  const store = globalThis.unsentStore;
  const slips = globalThis.unsentSlips;
  const PATIENCE_MS = 8000;
  const SENT = 'clothroom-sent';
  const TOLD = 'clothroom-told';
  const { keyPrefix: prefix = '', person = '' } = document.body.dataset;

  let tries = 0;
  let timer;
  let running = Promise.resolve();
  const deleted = new Map();
  /** what the book says of entries that were kept and are in it now */
  const sent = [];

  const isMine = ({ key }) => isOf(key, prefix);
  const isUnsent = ({ state }) => state === 'unsent';

  // --- sending

  async function ask(item) {
    try {
      const response = await fetch(item.action, {
        method: 'POST',
        headers: {
          accept: 'application/json',
          'content-type': 'application/x-www-form-urlencoded;charset=UTF-8',
          'clothroom-waited': String(waitedSeconds(item.doneAt, Date.now())),
        },
        body: item.body,
        redirect: 'manual',
        signal: AbortSignal.timeout(PATIENCE_MS),
      });
      return { status: response.status, answer: await response.json() };
    } catch {
      return { status: 0, answer: null };
    }
  }

  /** Another computer at this address, or a page that asks for a password of the Wi-Fi, has not saved anything. */
  function isOurs(answer, { key }) {
    return answer?.request_key === key || typeof answer?.error?.message === 'string';
  }

  async function send(item) {
    const { status, answer } = await ask(item);
    const verdict = isOurs(answer, item) ? verdictOf(status) : 'later';
    if (verdict === 'saved') {
      await store.remove(item.key);
      return { verdict, answer };
    }
    const reason = answer?.error?.message ?? '';
    if (verdict === 'refused') await store.put({ ...item, state: 'refused', status, reason });
    else if (!item.tried || reason !== item.reason) await store.put({ ...item, tried: true, reason });
    return { verdict, status };
  }

  async function sendAll() {
    const outcomes = new Map();
    for (const { key } of inOrder((await store.all()).filter(isMine).filter(isUnsent))) {
      const item = await store.get(key);
      if (!item || !isUnsent(item)) continue;
      const outcome = await send(item);
      outcomes.set(key, outcome);
      if (outcome.verdict === 'later') break;
    }
    return outcomes;
  }

  /** Sends what is kept, one after the other, and says what came of it. One round at a time. */
  function sendKept(besides) {
    const round = running.then(async () => {
      const outcomes = await sendAll();
      const verdicts = [...outcomes].map(([, { verdict }]) => verdict);
      tries = verdicts.includes('later') ? tries + 1 : 0;
      for (const [key, { verdict, answer }] of outcomes)
        if (verdict === 'saved' && key !== besides) sent.push(answer.said);
      return outcomes;
    });
    running = round.catch(() => undefined);
    return round;
  }

  async function retry() {
    clearTimeout(timer);
    if (prefix === '' || document.hidden) return;
    await sendKept();
    await draw(true);
  }

  // --- telling

  /** Whether this very page says what is wrong with it: it is that of the refused form. */
  function isToldHere({ key }) {
    const keys = [...document.forms].map(({ elements }) => elements.request_key?.value);
    return document.getElementById('problems') !== null && keys.includes(key);
  }

  async function draw(still = false) {
    clearTimeout(timer);
    // A page that asks what happened with one says nothing of the others meanwhile.
    if (document.querySelector('.what-happened')) return;
    const all = await store.all();
    if (prefix === '') {
      if (all.length > 0) slips.show([slips.othersSlip(all)], still);
      return;
    }
    const mine = inOrder(all.filter(isMine)).filter(({ key }) => !deleted.has(key));
    const unsent = mine.filter(isUnsent);
    const refused = mine.filter((item) => item.state === 'refused' && !isToldHere(item));
    const now = Date.now();
    const shown = [
      ...(sent.length > 0 ? [slips.sentSlip(sent)] : []),
      ...refused.map((item) => slips.refusedSlip(item, now, { onCorrect, onAsk })),
      ...(unsent.length > 0 ? [slips.unsentSlip(unsent, now, { onDelete })] : []),
      ...[...deleted.values()].map((item) => slips.deletedSlip(item, { onKeep })),
    ];
    slips.show(shown, still);
    if (unsent.length > 0) timer = setTimeout(retry, patience(tries) * 1000);
  }

  function lookAtSlips() {
    const place = document.getElementById('unsent');
    place?.scrollIntoView({ block: 'nearest' });
    place?.focus({ preventScroll: true });
  }

  async function onDelete(item) {
    await running;
    const kept = await store.get(item.key);
    if (kept) {
      await store.remove(item.key);
      deleted.set(item.key, kept);
    }
    await draw();
  }

  async function onKeep(item) {
    await store.put(item);
    deleted.delete(item.key);
    await draw();
  }

  /** Goes to a page of the book with fields, as a form does. */
  function goWith(action, fields) {
    const form = document.createElement('form');
    form.method = 'post';
    form.action = action;
    for (const [name, value] of fields) {
      const field = document.createElement('input');
      field.type = 'hidden';
      field.name = name;
      field.value = value;
      form.append(field);
    }
    document.getElementById('unsent').append(form);
    form.requestSubmit();
  }

  /** Its own form shows again what was typed, and what is wrong. */
  const onCorrect = ({ action, body }) => goWith(action, new URLSearchParams(body));

  /** A page asks what really happened. */
  function onAsk(item) {
    const { key, action, body, reason, doneAt } = item;
    const waited = String(waitedSeconds(doneAt, Date.now()));
    const what = slips.sayWhat(item);
    goWith('/unsent', Object.entries({ key, path: action, fields: body, what, reason, waited }));
  }

  // --- taking

  /** What was typed and chosen, in the words of the form. */
  function sayTyped(form, submitter) {
    const said = [...form.elements].flatMap((field) => {
      if (!field.name || ['hidden', 'submit', 'button'].includes(field.type) || field.value === '') return [];
      const label = field.labels?.[0]?.textContent.trim() || field.getAttribute('aria-label') || '';
      if (field.type === 'checkbox' || field.type === 'radio') return field.checked ? [label] : [];
      const value = field.selectedOptions?.[0]?.textContent.trim() ?? field.value;
      return [label === '' ? value : `${label} ${value}`];
    });
    return [...said, ...(submitter?.name ? [submitter.textContent.trim()] : [])].join(', ');
  }

  async function take(form, submitter) {
    const key = form.elements.request_key.value;
    const before = await store.get(key);
    const item = {
      key,
      action: submitter?.getAttribute('formaction') ?? form.getAttribute('action'),
      body: new URLSearchParams(new FormData(form, submitter)).toString(),
      what: form.dataset.work,
      details: sayTyped(form, submitter),
      who: person,
      doneAt: before?.doneAt ?? Date.now(),
      state: 'unsent',
    };
    await store.put(item);
    return item;
  }

  function withDone(href, key) {
    const url = new URL(href, location.href);
    url.searchParams.set('done', key);
    return url.href;
  }

  async function goOn(form, submitter, key) {
    // Where nobody answered just now, wet hands are not kept waiting again.
    const outcomes = tries === 0 ? await sendKept(key) : new Map();
    const { verdict, status, answer } = outcomes.get(key) ?? { verdict: 'later' };
    if (verdict === 'saved') {
      sessionStorage.setItem(SENT, JSON.stringify(sent));
      location.assign(withDone(answer.location, key));
      return;
    }
    if (status === 422) {
      // What was typed is shown with what is wrong beside it, as it is without this script.
      sessionStorage.setItem(TOLD, key);
      sendPlainly(form, submitter);
      return;
    }
    release(form);
    if (verdict === 'later') turnOver(form);
    await draw();
    lookAtSlips();
  }

  function sendPlainly(form, submitter) {
    release(form);
    form.dataset.plainly = 'yes';
    form.requestSubmit(submitter);
  }

  function markBusy(form) {
    form.dataset.busy = 'yes';
    for (const button of form.querySelectorAll('button')) button.setAttribute('aria-disabled', 'true');
  }

  function release(form) {
    delete form.dataset.busy;
    for (const button of form.querySelectorAll('button')) button.removeAttribute('aria-disabled');
  }

  /** After something was kept: the next turn of the work where the page holds it, else the form anew, under a key of its own. */
  function turnOver(form) {
    const turn = form.closest('[data-turn]');
    if (turn) {
      const covered = new Set(form.dataset.covers?.split(' '));
      for (const passed of document.querySelectorAll('template[data-next-turn]')) {
        if (!passed.dataset.nextTurn.split(' ').some((one) => covered.has(one))) break;
        passed.remove();
      }
      const next = document.querySelector('template[data-next-turn]');
      turn.replaceChildren(...(next ? next.content.cloneNode(true).childNodes : []));
      next?.remove();
      for (const former of document.querySelectorAll('[data-this-turn]')) former.remove();
      return;
    }
    form.reset();
    const field = form.elements.request_key;
    field.value = furtherKey(field.value, crypto.getRandomValues(new Uint8Array(16))) ?? field.value;
  }

  async function onSubmit(event) {
    const { target: form, submitter } = event;
    if (!('work' in form.dataset) || submitter?.formMethod === 'get' || prefix === '') return;
    if (form.dataset.plainly) {
      delete form.dataset.plainly;
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
    if (form.dataset.busy) return;
    markBusy(form);
    let item;
    try {
      item = await take(form, submitter);
    } catch {
      // This browser keeps nothing: it is sent as any other form.
      sendPlainly(form, submitter);
      return;
    }
    await goOn(form, submitter, item.key);
  }

  /** Whoever hands a shared device back is told once what waits on it. */
  let warned = false;
  async function onHandBack(event) {
    const form = event.target;
    if (form.getAttribute('action') !== '/who/done' || warned || prefix === '') return;
    event.preventDefault();
    event.stopImmediatePropagation();
    warned = true;
    const mine = (await store.all().catch(() => [])).filter(isMine);
    if (mine.length === 0) {
      form.requestSubmit(event.submitter);
      return;
    }
    await draw();
    const place = document.getElementById('unsent');
    place.prepend(
      slips.slip(
        'warn',
        'Wait',
        'What stands below is not in the book yet. It stays on this device, and is sent once you sign in here again. Press Done again to hand the device back.',
      ),
    );
    lookAtSlips();
  }

  // --- a page that opens

  /** What the page tells of needs no slip: it was saved, or is being corrected. */
  async function dropTold() {
    const done = new URLSearchParams(location.search).get('done') ?? '';
    if (done !== '') await store.remove(done.replace(/-told$/, ''));
    // A form that was refused as it was sent is on this page with what was typed in it.
    const told = sessionStorage.getItem(TOLD);
    sessionStorage.removeItem(TOLD);
    if (told && document.getElementById('problems')) await store.remove(told);
  }

  async function begin() {
    sent.push(...JSON.parse(sessionStorage.getItem(SENT) ?? '[]'));
    sessionStorage.removeItem(SENT);
    await dropTold();
    await draw();
    await retry();
  }

  document.addEventListener('submit', onSubmit, true);
  document.addEventListener('submit', onHandBack, true);
  const again = () => void retry().catch(() => undefined);
  window.addEventListener('online', again);
  document.addEventListener('clothroom:answers', again);
  document.addEventListener('visibilitychange', again);
  window.addEventListener('pageshow', (event) => event.persisted && again());
  begin().catch(() => undefined);
})();

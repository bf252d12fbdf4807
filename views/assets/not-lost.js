// Over a network a form may reach nobody, and a browser then forgets what was typed. Before a form is sent the workroom's
// computer is asked whether it is there; what was typed is kept until an answer came.
(() => {
  const PATIENCE_MS = 8000;
  const KEPT = 'clothroom-typed';
  const AT_MACHINE = ['127.0.0.1', 'localhost', '[::1]'];
  if (AT_MACHINE.includes(location.hostname)) return;

  async function isThere() {
    try {
      return (await fetch('/ping', { cache: 'no-store', signal: AbortSignal.timeout(PATIENCE_MS) })).ok;
    } catch {
      return false;
    }
  }

  const page = () => {
    const query = new URLSearchParams(location.search);
    query.delete('done');
    return `${location.pathname}?${query}`;
  };

  function tell(form, kind, text) {
    form.querySelector('[data-told]')?.remove();
    const slip = document.createElement('div');
    slip.className = `slip slip-${kind}`;
    slip.dataset.told = '';
    slip.setAttribute('role', 'alert');
    const said = document.createElement('p');
    said.textContent = text;
    slip.append(said);
    form.prepend(slip);
    slip.scrollIntoView({ block: 'nearest' });
  }

  // Under the key of the form: sent twice, it is saved once. A passphrase is kept nowhere.
  function keep(form) {
    const key = form.elements.request_key?.value;
    if (!key) return;
    const fields = [...form.elements]
      .filter(({ name, type }) => name && !['password', 'file', 'submit', 'button'].includes(type))
      .map((field) => [
        field.name,
        field.type === 'checkbox' || field.type === 'radio' ? field.checked : field.value,
      ]);
    sessionStorage.setItem(
      KEPT,
      JSON.stringify({ page: page(), action: form.getAttribute('action'), key, fields }),
    );
  }

  // Back on the page after no answer came: the browser drew it anew, without what was typed. Any other page is an answer.
  function bringBack() {
    const kept = JSON.parse(sessionStorage.getItem(KEPT) ?? 'null');
    sessionStorage.removeItem(KEPT);
    if (kept?.page !== page() || new URLSearchParams(location.search).get('done') === kept.key) return;
    const form = [...document.forms].find((one) => one.getAttribute('action') === kept.action);
    if (!form) return;
    const seen = new Map();
    for (const [name, value] of kept.fields) {
      const fields = [...form.elements].filter((field) => field.name === name);
      const field = fields[seen.get(name) ?? 0];
      seen.set(name, (seen.get(name) ?? 0) + 1);
      if (!field) continue;
      if (typeof value === 'boolean') field.checked = value;
      else field.value = value;
    }
    tell(
      form,
      'warn',
      'No answer came. What you typed is back: send it once more. If it was saved, it is not entered twice.',
    );
  }

  async function sendIfThere(form, submitter) {
    form.dataset.asking = 'yes';
    const there = await isThere();
    delete form.dataset.asking;
    if (!there) {
      tell(
        form,
        'stop',
        'Not sent: the workroom’s computer does not answer. What you typed is still here. Send it again in a moment.',
      );
      return;
    }
    form.querySelector('[data-told]')?.remove();
    keep(form);
    form.dataset.there = 'yes';
    form.requestSubmit(submitter);
  }

  // Before every other listener: to them a form that is not sent yet was not submitted.
  function onSubmit(event) {
    const form = event.target;
    if (form.method !== 'post' || event.submitter?.formMethod === 'get') return;
    if (form.dataset.there) {
      delete form.dataset.there;
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
    if (!form.dataset.asking) sendIfThere(form, event.submitter);
  }

  document.addEventListener('submit', onSubmit, true);
  bringBack();
})();

// Small helps on pages that work without any of this. No eval, nothing inline.
(() => {
  const RELEASE_AFTER_MS = 8000;
  document.documentElement.classList.add('scripted');

  // A live filter form redraws its list in place: <form method="get" data-live="list"> and id="list". It does so while
  // somebody types, or only when it is sent: data-live-on="submit". Of a form with several buttons, those that ask say
  // data-live themselves. The attributes are set before htmx looks at the page, so templates need not repeat them.
  function dressLive(node) {
    const form = node.form ?? node;
    const list = `#${node.dataset.live}`;
    const attributes = {
      [`hx-${form.method}`]: form.getAttribute('action') || location.pathname,
      'hx-trigger': node.form ? 'click' : (node.dataset.liveOn ?? 'input delay:250ms, change, submit'),
      'hx-target': list,
      'hx-select': list,
      'hx-swap': 'outerHTML',
      'hx-sync': 'this:replace',
    };
    if (form.method === 'get') attributes['hx-replace-url'] = 'true';
    for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  }

  // Empty filters stay out of the address.
  function dropEmptyFilters(event) {
    if (event.target.method !== 'get') return;
    for (const [name, value] of [...event.formData]) if (value === '') event.formData.delete(name);
  }

  // A second click while the first is on its way is dropped. The request key makes a repeat
  // harmless anyway, so the form opens again by itself if no answer comes.
  function submitOnce(event) {
    const form = event.target;
    if (form.method !== 'post') return;
    if (form.dataset.sent) {
      event.preventDefault();
      return;
    }
    form.dataset.sent = 'yes';
    markButtons(form, true);
    setTimeout(() => release(form), RELEASE_AFTER_MS);
  }

  function release(form) {
    delete form.dataset.sent;
    markButtons(form, false);
  }

  // aria-disabled, not disabled: a disabled button would lose focus and its own value.
  function markButtons(form, busy) {
    for (const button of form.querySelectorAll('button')) {
      if (busy) button.setAttribute('aria-disabled', 'true');
      else button.removeAttribute('aria-disabled');
    }
  }

  function submitOnChange(event) {
    const form = event.target.form;
    if (form && 'submitOnChange' in form.dataset) form.requestSubmit();
  }

  const liveSource = (event) => event.detail?.ctx?.sourceElement?.closest?.('[data-live]');
  const liveForm = (event) => liveSource(event)?.form ?? liveSource(event);

  // What somebody unfolded in a result stays unfolded in the next, which stands where the last one was scrolled to.
  let lastResult = null;
  const foldsOf = (result) =>
    [...result.querySelectorAll('details')].map((fold) => [
      fold.dataset.keep ?? fold.textContent.trim().split('\n')[0],
      fold,
    ]);

  function keepFolds(event) {
    const result = event.detail.ctx.target;
    if (!result?.matches?.('.result')) return;
    const isOpen = new Map(foldsOf(result).map(([name, fold]) => [name, fold.open]));
    lastResult = { id: result.id, isOpen, top: result.scrollTop };
  }

  function restoreFolds() {
    const result = lastResult && document.getElementById(lastResult.id);
    if (!result) return;
    for (const [name, fold] of foldsOf(result)) fold.open = lastResult.isOpen.get(name) ?? fold.open;
    result.scrollTop = lastResult.top;
    lastResult = null;
    // An open result that grew may lie over the field that is being filled in.
    document.activeElement.scrollIntoView({ block: 'nearest' });
  }

  // What a filter could not be read as stands beside it; the form itself stays, with the focus in it.
  function showFilterProblems(form, page) {
    for (const field of form.querySelectorAll('.field')) {
      const control = field.querySelector('input, select');
      const now = page.getElementById(control.id);
      const problem = page.getElementById(`${control.id}-error`);
      field.querySelector('.wrong')?.remove();
      field.classList.toggle('field-wrong', problem !== null);
      if (problem) field.append(document.importNode(problem, true));
      for (const name of ['aria-invalid', 'aria-describedby']) {
        const value = now?.getAttribute(name);
        if (value) control.setAttribute(name, value);
        else control.removeAttribute(name);
      }
    }
  }

  // A screen's colour picker writes into the text field that it names.
  function fillPicked(event) {
    const field = document.getElementById(event.target.dataset?.fills ?? '');
    if (field) field.value = event.target.value;
  }

  // What a delivery describes is chosen in its rows by its name: "New cloth 1: Organza".
  function nameDescribed({ target }) {
    const [, what, place] = /^new_(cloth|shade)s\.(\d+)\.name$/.exec(target.name ?? '') ?? [];
    if (!what) return;
    const name = target.value.trim();
    const label = `New ${what} ${Number(place) + 1}${name && ': '}${name}`;
    for (const option of target.form.querySelectorAll(
      `select[name$=".${what}_id"] > [value="${-1 - place}"]`,
    ))
      option.textContent = label;
  }

  // A list that was swapped says its count once, or what is wrong, in a place that was there before.
  function tellOutcome(event) {
    const form = liveForm(event);
    if (!form) return;
    showFilterProblems(form, new DOMParser().parseFromString(event.detail.ctx.text, 'text/html'));
    const told =
      form.querySelector('.wrong') ??
      document.querySelector(`#${liveSource(event).dataset.live} :is(.count, .result-said)`);
    const spoken = document.getElementById('spoken');
    if (told && spoken) spoken.textContent = told.textContent.trim();
  }

  // An answer that is no list is shown whole, as it would be without this script. A result says itself what is wrong.
  function showFailure(event) {
    const form = liveForm(event);
    const { response, target } = event.detail.ctx;
    if (!form || response?.status < 400 || (response?.status === 422 && target.matches('.result'))) return;
    event.preventDefault();
    form.submit();
  }

  document.addEventListener('formdata', dropEmptyFilters);
  document.addEventListener('submit', submitOnce);
  document.addEventListener('change', submitOnChange);
  document.addEventListener('input', fillPicked);
  document.addEventListener('input', nameDescribed);
  document.addEventListener('htmx:before:swap', keepFolds);
  document.addEventListener('htmx:after:swap', restoreFolds);
  document.addEventListener('htmx:after:swap', tellOutcome);
  document.addEventListener('htmx:before:response', showFailure);
  document.addEventListener('htmx:error', showFailure);
  window.addEventListener('pageshow', (event) => {
    if (event.persisted) for (const form of document.forms) release(form);
  });
  for (const node of document.querySelectorAll('[data-live]')) dressLive(node);
})();

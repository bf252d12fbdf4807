// Small helps on pages that work without any of this. No eval, nothing inline.
(() => {
  const RELEASE_AFTER_MS = 8000;
  document.documentElement.classList.add('scripted');

  // A live filter form redraws its list in place: <form method="get" data-live="list"> and id="list".
  // The attributes are set before htmx looks at the page, so templates need not repeat them.
  function dressLiveForm(form) {
    const list = `#${form.dataset.live}`;
    const attributes = {
      'hx-get': form.getAttribute('action') || location.pathname,
      'hx-trigger': 'input delay:250ms, change, submit',
      'hx-target': list,
      'hx-select': list,
      'hx-swap': 'outerHTML',
      'hx-replace-url': 'true',
      'hx-sync': 'this:replace',
    };
    for (const [name, value] of Object.entries(attributes)) form.setAttribute(name, value);
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

  const liveForm = (event) => event.detail?.ctx?.sourceElement?.closest?.('form[data-live]');

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

  // A list that was swapped says its count once, or what is wrong, in a place that was there before.
  function tellOutcome(event) {
    const form = liveForm(event);
    if (!form) return;
    showFilterProblems(form, new DOMParser().parseFromString(event.detail.ctx.text, 'text/html'));
    const told = form.querySelector('.wrong') ?? document.querySelector(`#${form.dataset.live} .count`);
    const spoken = document.getElementById('spoken');
    if (told && spoken) spoken.textContent = told.textContent.trim();
  }

  // An answer that is no list is shown whole, as it would be without this script.
  function showFailure(event) {
    const form = liveForm(event);
    if (!form || event.detail.ctx.response?.status < 400) return;
    event.preventDefault();
    form.submit();
  }

  document.addEventListener('formdata', dropEmptyFilters);
  document.addEventListener('submit', submitOnce);
  document.addEventListener('change', submitOnChange);
  document.addEventListener('input', fillPicked);
  document.addEventListener('htmx:after:swap', tellOutcome);
  document.addEventListener('htmx:before:response', showFailure);
  document.addEventListener('htmx:error', showFailure);
  window.addEventListener('pageshow', (event) => {
    if (event.persisted) for (const form of document.forms) release(form);
  });
  for (const form of document.querySelectorAll('form[data-live]')) dressLiveForm(form);
})();

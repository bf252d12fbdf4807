// Keys for a PIN with wet hands, and the code of an invitation out of the address. Both pages work without.
(() => {
  for (const keys of document.querySelectorAll('[data-keys-for]')) {
    const field = document.getElementById(keys.dataset.keysFor);
    keys.hidden = false;
    keys.addEventListener('click', (event) => {
      const key = event.target.closest('[data-key]')?.dataset.key;
      if (!field || !key) return;
      field.value = key === 'back' ? field.value.slice(0, -1) : field.value + key;
    });
  }

  // What stands behind the # is sent to nobody. It leaves the address once it is read, so that no history keeps it.
  const form = document.querySelector('[data-code-from-address]');
  const code = location.hash.slice(1);
  if (form && code) {
    form.elements.code.value = code;
    history.replaceState(null, '', location.pathname);
  }
})();

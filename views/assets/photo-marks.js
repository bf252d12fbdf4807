// Squares on a photo: a tap moves the one that is chosen, and what is typed moves its square. The numbers are what is sent.
(() => {
  const form = document.querySelector('form[data-photo-marks]');
  if (!form) return;
  const picture = form.querySelector('.photo-picture');
  const buttons = [...form.querySelectorAll('button[data-photo-area]')];
  const [width, height] = [Number(form.dataset.width), Number(form.dataset.height)];
  const fieldOf = (area, part) => form.elements[`${area}_${part}`];
  const numberIn = (field) => Number(field.value.replace(',', '.').replace('%', ''));

  function draw(area) {
    const square = form.querySelector(`[data-photo-square="${area}"]`);
    const [x, y, size] = ['x', 'y', 'size'].map((part) => numberIn(fieldOf(area, part)));
    const side = (size * width) / 100;
    const [middleX, middleY] = [(x * width) / 100, (y * height) / 100];
    if (![side, middleX, middleY].every(Number.isFinite)) return;
    const place = { x: middleX - side / 2, y: middleY - side / 2, width: side, height: side };
    for (const rect of square.querySelectorAll('rect'))
      for (const [name, value] of Object.entries(place)) rect.setAttribute(name, value);
    const text = square.querySelector('text');
    text.setAttribute('x', middleX);
    text.setAttribute('y', middleY);
  }

  function choose(chosen) {
    for (const button of buttons) button.setAttribute('aria-pressed', String(button === chosen));
  }

  function moveTo(event) {
    const at = buttons.findIndex((button) => button.getAttribute('aria-pressed') === 'true');
    const button = buttons[at];
    const box = picture.getBoundingClientRect();
    const percent = (part, whole) => String(Math.round((1000 * part) / whole) / 10);
    fieldOf(button.dataset.photoArea, 'x').value = percent(event.clientX - box.left, box.width);
    fieldOf(button.dataset.photoArea, 'y').value = percent(event.clientY - box.top, box.height);
    draw(button.dataset.photoArea);
    document.getElementById('spoken').textContent = `${button.textContent} moved`;
    // The next tap is for the next square.
    choose(buttons[(at + 1) % buttons.length]);
  }

  for (const button of buttons) button.addEventListener('click', () => choose(button));
  picture.addEventListener('click', moveTo);
  form.addEventListener('input', ({ target }) => {
    const area = /^(card|one|other)_/.exec(target.name)?.[1];
    if (area) draw(area);
  });
})();

import type { DrawnField } from '../../kit/form-drawing.ts';

/** What was asked of a part, field by field, as it was typed; what was left blank is left out. */
export function sayPartAsked(fields: readonly DrawnField[]) {
  return fields.flatMap((field) => {
    const text = saidOf(field);
    return text === '' ? [] : [{ label: field.label, text }];
  });
}

function saidOf({ kind, value, checked, options = [], unit }: DrawnField): string {
  if (kind === 'checkbox') return checked ? 'yes' : '';
  const typed = value.trim();
  if (typed === '') return '';
  if (kind === 'select') {
    const chosen = options.find((option) => typeof option !== 'string' && String(option.value) === typed);
    return typeof chosen === 'object' ? chosen.label : typed;
  }
  // A length that was typed with its own unit keeps it; a bare number gets that of its field.
  return unit && /\d\s*$|[¼½¾⅛⅓⅔⅜⅝⅞]\s*$/.test(typed) ? `${typed}${unit === '×' ? '' : ' '}${unit}` : typed;
}

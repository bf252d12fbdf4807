import { type Element, JSDOM } from 'jsdom';

/** A form as a page opens it: where it is sent, and every field with the value that a browser would send. */
export interface OpenedForm {
  readonly action: string;
  readonly fields: Readonly<Record<string, string>>;
}

const FORM = /<form[^>]*method="post"[^>]*action="([^"]*)"[\s\S]*?<\/form>/g;
const TYPED_FIELD = /<(?:input(?![^>]*type="hidden")|select|textarea)[^>]* name="/;

/** The forms of a page in which a person can change something, by POST. */
export function openedForms(html: string): OpenedForm[] {
  return [...html.matchAll(FORM)].flatMap(([form, action = '']) => {
    if (!TYPED_FIELD.test(form)) return [];
    // Most forms are opened on many pages and looked at once: only then are their fields read.
    return [
      {
        action,
        get fields() {
          return fieldsOf(form);
        },
      },
    ];
  });
}

/** The same form of a page that was opened again. */
export function formTo(html: string, action: string): OpenedForm | undefined {
  return openedForms(html).find((form) => form.action === action);
}

function fieldsOf(form: string): Record<string, string> {
  const fields = [...JSDOM.fragment(form).querySelectorAll('input, select, textarea')];
  return Object.fromEntries(fields.filter(isSent).map((field) => [field.name, field.value]));
}

/** An unticked box and a field without a name are not sent. */
function isSent(field: Element): boolean {
  const ticks = ['checkbox', 'radio'].includes(field.getAttribute('type') ?? '');
  return field.name !== '' && (!ticks || field.hasAttribute('checked'));
}

/**
 * A page without what its reader may not do: forms that they may not send are left out, with the buttons that lead to
 * pages that are not theirs; other links to those are plain text. So no page has to know who reads it for that.
 */
export function onlyOffered(
  html: string,
  isAllowed: (method: 'GET' | 'POST', path: string) => boolean,
): string {
  const without = html
    .replace(FORM, (form) => {
      const head = form.slice(0, form.indexOf('>'));
      const method = /\smethod="post"/i.test(head) ? 'POST' : 'GET';
      const [, action] = /\saction="(\/[^"]*)"/.exec(head) ?? [];
      return action === undefined || isAllowed(method, pathIn(action)) ? form : '';
    })
    .replace(LINK, (link, given: string, text: string) => {
      const [, href] = /\shref="(\/[^"]*)"/.exec(given) ?? [];
      if (href === undefined || isAllowed('GET', pathIn(href))) return link;
      return /\sclass="[^"]*\bbutton\b/.test(given) ? '' : `<span>${text}</span>`;
    });
  return without === html ? html : without.replace(LEFT_EMPTY, '').replace(LEFT_EMPTY, '');
}

const FORM = /<form\b[\s\S]*?<\/form>/g;
const LINK = /<a\b([^>]*)>([\s\S]*?)<\/a>/g;
/** What held nothing but what was left out. */
const LEFT_EMPTY =
  /<p class="actions[^"]*">\s*<\/p>|<li>\s*<\/li>|<ul[^>]*>\s*<\/ul>|<details[^>]*>\s*<summary>[^<]*(?:<(?!\/summary>)[^<]*)*<\/summary>\s*<\/details>/g;

function pathIn(address: string): string {
  return address.replaceAll('&amp;', '&').split(/[?#]/)[0] ?? '/';
}

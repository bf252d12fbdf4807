/**
 * The names of the fields of a page, by the id that their problems link to: what a person reads above or beside the
 * control, and for a row of several the heading of its group. Read off the page itself, so that a problem is told by the
 * name that stands at the field.
 */
export function fieldNames(html: string): Map<string, string> {
  const names = new Map<string, string>();
  let group = '';
  for (const { groups = {} } of html.matchAll(NAMED)) {
    if (groups.legend !== undefined) group = plainText(groups.legend);
    else if (groups.label !== undefined) names.set(groups.for ?? '', named(group, groups.for, groups.label));
    else if (groups.aria !== undefined) names.set(groups.id ?? '', plainText(groups.aria));
    else group = '';
  }
  return names;
}

const NAMED = new RegExp(
  [
    '<legend[^>]*>(?<legend>[\\s\\S]*?)</legend>',
    '</fieldset>',
    '<label[^>]* for="(?<for>f-[^"]*)"[^>]*>(?<label>[\\s\\S]*?)</label>',
    '<(?:input|select|textarea)[^>]* id="(?<id>f-[^"]*)"[^>]* aria-label="(?<aria>[^"]*)"',
  ].join('|'),
  'g',
);

/** Fields of numbered rows are told apart by the heading of their row. */
function named(group: string, id: string | undefined, label: string): string {
  const text = plainText(label.replace(/<span class="optional">[\s\S]*?<\/span>/, ''));
  return group !== '' && /-\d+-/.test(id ?? '') ? `${group}, ${text}` : text;
}

const ENTITIES: Record<string, string> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#39;': "'",
};

function plainText(html: string): string {
  return html
    .replace(/<[^>]*>/g, '')
    .replace(/&(?:amp|lt|gt|quot|#39);/g, (entity) => ENTITIES[entity] ?? entity)
    .replace(/\s+/g, ' ')
    .trim();
}

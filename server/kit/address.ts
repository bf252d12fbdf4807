/** A page's address with what is asked of it; what is blank stays out. */
export function address(path: string, asked: Readonly<Record<string, string | number | null>>): string {
  const parts = Object.entries(asked).flatMap(([name, value]) =>
    value === null || value === '' ? [] : [`${name}=${encoded(String(value))}`],
  );
  return parts.length === 0 ? path : `${path}?${parts.join('&')}`;
}

/** As a form would send it. */
function encoded(value: string): string {
  return /^[\w.*-]+$/.test(value) ? value : new URLSearchParams({ '': value }).toString().slice(1);
}

/** One text of a query; of a name that was given twice, the first. */
export function queryText(query: unknown, name: string): string {
  const given = (query as Record<string, unknown> | null)?.[name];
  const text = Array.isArray(given) ? given[0] : given;
  return typeof text === 'string' ? text.trim() : '';
}

/** A whole number above nothing in a query or path, or null. */
export function queryNumber(query: unknown, name: string): number | null {
  const text = queryText(query, name);
  return /^[1-9][0-9]{0,14}$/.test(text) ? Number(text) : null;
}

/** The number in a path such as /shelf/cloths/7; 0, which nothing has, for anything else. */
export function idIn(params: unknown): number {
  return queryNumber(params, 'id') ?? 0;
}

/** A path of our own only: what begins with two slashes names another host. */
export function ownPath(text: string, otherwise = '/'): string {
  return /^\/(?!\/|\\)/.test(text) && text.length <= 500 ? text : otherwise;
}

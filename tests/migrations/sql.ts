/** A value of a statement; `sql` is put in as it stands. */
export type Value = string | number | null | { readonly sql: string };
export type Row = Readonly<Record<string, Value>>;

export function raw(sql: string): Value {
  return { sql };
}

export function insert(table: string, row: Row, verb = 'INSERT'): string {
  const names = Object.keys(row).map(quoted);
  return `${verb} INTO ${quoted(table)} (${names.join(', ')}) VALUES (${Object.values(row).map(literal).join(', ')})`;
}

export function quoted(name: string): string {
  return `"${name}"`;
}

export function literal(value: Value): string {
  if (value === null) return 'NULL';
  if (typeof value === 'number') return String(value);
  if (typeof value === 'string') return `'${value.replaceAll("'", "''")}'`;
  return value.sql;
}

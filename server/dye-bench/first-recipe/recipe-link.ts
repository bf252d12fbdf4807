import { affinity, DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import type { Scope } from './scope.ts';

/** The recipe form with dyes filled in; null where the class of dye is worked by its label, or what it dyes is not known. */
export function recipeFormPath(
  reader: Reader,
  {
    scope: { cloth, bath },
    shade,
    dyes,
    note,
  }: {
    readonly scope: Scope;
    readonly shade: { readonly id: number; readonly name: string };
    readonly dyes: readonly { readonly name: string; readonly percent: number }[];
    readonly note: string;
  },
): string | null {
  const dyeClass = DYE_CLASSES.find((each) => each === bath?.dyeClass);
  const fibre = cloth.content
    .filter(({ fibre: code }) => dyeClass && affinity(code, dyeClass).take === 'dyes')
    .toSorted((one, other) => other.shareBp - one.shareBp)[0]?.fibre;
  if (!dyeClass || !fibre) return null;
  const rows = dyes.flatMap(({ name, percent }, at) => [
    [`dyes.${at}.name`, name],
    [`dyes.${at}.owf`, String(percent)],
  ]);
  return address('/dye-bench/recipes/new', {
    name: freeName(reader, `${shade.name} on ${cloth.name}`),
    shade_id: shade.id,
    fibre,
    dye_class: dyeClass,
    method: bath?.method ?? '',
    ...Object.fromEntries(rows),
    note,
  });
}

/** The name itself, or with the next number where recipes have it already. */
function freeName(reader: Reader, name: string): string {
  const rows = reader.all(
    reader.db
      .selectFrom('recipe')
      .select('name')
      .distinct()
      .where(({ eb, fn }) => eb(fn('substr', ['name', eb.val(1), eb.val(name.length)]), '=', name)),
  );
  const taken = new Set(rows.map((row) => row.name));
  if (!taken.has(name)) return name;
  let next = 2;
  while (taken.has(`${name}, ${next}`)) next++;
  return `${name}, ${next}`;
}

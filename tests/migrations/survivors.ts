import { readMigrationSteps } from '../../server/database/migrate.ts';
import { type Attack, attempt } from './attacks.ts';
import { everyAttack } from './every-attack.ts';
import { buildMutant, mutantsOfBytes } from './mutant-books.ts';
import { type Mutant, type MutantKind, mutantsOf, rulesOf } from './mutants.ts';
import { reachOf } from './reach.ts';
import { REDUNDANT } from './redundant.ts';
import { contents, doLawfulWork, openEmpty } from './scene.ts';

const sound = openEmpty(readMigrationSteps());
const rules = rulesOf(sound);
const openUnused = mutantsOfBytes(sound.serialize());
const empty = openEmpty(readMigrationSteps());
doLawfulWork(sound);
// To insist is costly, so it comes last.
const attacks = everyAttack(sound).sort((a, b) => Number(a.stubborn ?? false) - Number(b.stubborn ?? false));
const openWorked = mutantsOfBytes(sound.serialize());
const lawful = contents(sound);
const reach = reachOf(sound);
const reaching = attacks.map((attack) => ({ attack, tables: reach(attack.statements) }));

const MUTANTS = mutantsOf(rules);

/** The mutants of a kind that no attack breaks and that refuse no lawful work, and how many were tried. */
export function survivorsOf(kind: MutantKind): { tried: number; survivors: string[] } {
  const tried = MUTANTS.filter((mutant) => mutant.kind === kind && !(mutant.name in REDUNDANT));
  return { tried: tried.length, survivors: tried.filter(survives).map(({ name }) => name) };
}

/** Whether nothing tells the mutants of a name from the book. */
export function surviveAll(wanted: string): boolean {
  return MUTANTS.filter(({ name }) => name === wanted).every(survives);
}

/**
 * Lawful work leaves the same behind in a book that only asks for less, so that its attacks are made on a copy of a
 * sound one, the likeliest first.
 */
function survives(mutant: Mutant): boolean {
  const [near, far] = byDistance(mutant);
  if (mutant.kind !== 'unique' && isBroken(openWorked(mutant), near)) return false;
  const db = mutant.kind === 'unique' ? buildMutant(empty, rules, mutant) : openUnused(mutant);
  try {
    doLawfulWork(db);
  } catch (error) {
    if (/syntax|no such|incomplete|malformed/.test(String(error)))
      throw new Error(`${mutant.name}: ${error}`);
    if (mutant.kind === 'term' || mutant.kind === 'trigger') return false;
    throw error;
  }
  const asBefore = mutant.kind !== 'unique' && contents(db) === lawful;
  return !isBroken(db, asBefore ? far : [...near, ...far]);
}

function isBroken(db: ReturnType<typeof openEmpty>, tried: readonly Attack[]): boolean {
  const broken = tried.some((attack) => attempt(db, attack).broken);
  db.close();
  return broken;
}

const concerned = new Map<string, readonly Attack[]>();

/** The attacks that a mutant may bear otherwise than the sound book, which refuses all: those that ask its rule at all. */
function attacksOn({ kind, rule }: Mutant): readonly Attack[] {
  // What goes or is changed in a table is looked for in those that refer to it.
  const parents =
    kind === 'reference' ? [...rule.sql.matchAll(/REFERENCES "?(\w+)/g)].map(([, table = '']) => table) : [];
  const asked = [rule.table, ...parents];
  const found =
    concerned.get(asked.join()) ??
    reaching
      .filter(({ tables }) => !tables || asked.some((table) => tables.has(table)))
      .map(({ attack }) => attack);
  concerned.set(asked.join(), found);
  return found;
}

/**
 * The attacks that are likeliest to break a mutant, and all others that concern it. Before the others comes the lawful work, which
 * is quicker than all attacks on a table and gives away most triggers and terms.
 */
function byDistance(mutant: Mutant): [near: readonly Attack[], far: readonly Attack[]] {
  const { kind, name, rule } = mutant;
  const [, column = ''] = /^(\S+) /.exec(name) ?? [];
  const [, entered] = /^entry: '([^']*)'/.exec(name) ?? [];
  const [, said] = /RAISE\(ABORT, '([^']*)'\)/.exec(rule.sql) ?? [];
  const aimed = (attack: Attack) => {
    if (entered !== undefined) return attack.name.startsWith(`entry: ${entered} with`);
    return said === undefined ? attack.name.startsWith(`${column}:`) : attack.refused.test(said);
  };
  const onTable = ({ table }: Attack) => table === rule.table;
  const all = attacksOn(mutant);
  const first = all.filter(aimed);
  const others = all.filter((attack) => !aimed(attack));
  const beside = others.filter(onTable);
  const elsewhere = others.filter((attack) => !onTable(attack));
  return kind === 'trigger' || kind === 'term'
    ? [first, [...beside, ...elsewhere]]
    : [[...first, ...beside], elsewhere];
}

import { describe, expect, it } from 'vitest';
import { readMigrationSteps } from '../../server/database/migrate.ts';
import { attempt } from './attacks.ts';
import { put, tablesOf } from './attacks-on-columns.ts';
import { everyAttack } from './every-attack.ts';
import { LAWFUL } from './rows.ts';
import { contents, openScene } from './scene.ts';

const db = openScene(readMigrationSteps());

describe('a lawful row', () => {
  it.each(tablesOf(db))('of %s is written', (table) => {
    expect(Object.keys(LAWFUL)).toContain(table);
    db.exec(['BEGIN', ...put(table)].join(';'));
    db.exec('ROLLBACK');
  });
});

const attacks = everyAttack(db).map((attack) => [attack.name, attack] as const);

describe('another program is refused', () => {
  const before = contents(db);

  it.each(attacks)('%s', (_name, attack) => {
    const { refused, broken } = attempt(db, attack);
    expect(refused).toMatch(attack.refused);
    expect(broken).toBe(false);
    expect(contents(db)).toBe(before);
  });
});

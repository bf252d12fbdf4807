import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync } from 'node:fs';
import { join } from 'node:path';

// Roots that a browser trusts, as it keeps them on Linux: in a store that `certutil` of NSS makes.

/** Why no root can be trusted here, told once; '' where it can. */
export const noStore = whyNoStore();

function whyNoStore(): string {
  const { error } = spawnSync('certutil', ['--help'], { stdio: 'ignore' });
  if (!error) return '';
  if (process.env.CLOTHROOM_TRIES_ALL) throw new Error(`no certutil: ${error.message}`);
  process.stdout.write('The own certificate is not tried in a browser: certutil is not installed.\n');
  return error.message;
}

/** A place in which a browser trusts one more root. */
export function homeThatTrusts(within: string, root: string): string {
  const home = mkdtempSync(join(within, 'home-'));
  const store = join(home, '.pki', 'nssdb');
  mkdirSync(store, { recursive: true });
  execFileSync('certutil', ['-d', `sql:${store}`, '-N', '--empty-password']);
  execFileSync('certutil', ['-d', `sql:${store}`, '-A', '-t', 'C,,', '-n', 'Clothroom', '-i', root]);
  return home;
}

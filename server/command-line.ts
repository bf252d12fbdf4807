import { homedir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';

/** The command line cannot be understood; the message is one line for the terminal. */
export class Misused extends Error {}

export type Command =
  | { readonly name: 'help' }
  | { readonly name: 'version' }
  | {
      readonly name: 'serve' | 'demo' | 'install-service';
      readonly folder: string;
      readonly port: number;
      /** on the workroom's network too, whatever the book says */
      readonly network: boolean;
    }
  | { readonly name: 'passphrase'; readonly folder: string; readonly person: string }
  | {
      readonly name: 'invite';
      readonly device: string;
      readonly person: string | null;
      readonly keeper: string | null;
      readonly port: number;
    }
  | { readonly name: 'check'; readonly folder: string }
  | { readonly name: 'backup' | 'export'; readonly folder: string; readonly to: string | null }
  | { readonly name: 'import' | 'restore'; readonly folder: string; readonly file: string };

/** The workroom's own port unless another is given: no well-known program asks for it. */
export const DEFAULT_PORT = 8737;

export const HELP = `Clothroom: the cloth, dye and buying book of a costume workroom.

Usage: clothroom [command] [options]

Commands:
  serve   open the workroom's book and serve it on this machine (the default)
  demo    the same with an invented workroom, in a book of its own
  check   prove the book: every balance, hold and cost from the ledger's entries
  export  write the whole workroom as JSON to the standard output, or with its photos into a folder
  import FILE
          fill an empty book with an exported workroom
  backup  make a copy of the book and prove it
  restore FILE
          put a copy in the place of the book, which is set aside
  passphrase NAME
          set a keeper's passphrase anew, read from the terminal, while nothing is served
  invite DEVICE
          let a device in while Clothroom is open: writes a link and a code that work once
  install-service
          write what has this computer start Clothroom by itself, and say what to type for it

Options:
  --data DIR    where the book lies (else $CLOTHROOM_DATA, else the usual data folder)
  --to DIR      where "backup" puts the copy (else with the book), or "export" the workroom and its photos
  --port N      port to serve on, 0 for any that is free (else ${DEFAULT_PORT})
  --for NAME    whose own the device of "invite" is (else shared)
  --as NAME     the keeper who lets it in (else the only one)
  --network     serve phones and tablets in the workroom's network too
  --help        this text
  --version     the version

Exit status: 0 done, 1 failed, 2 the command line was not understood.
`;

/** Reads arguments and environment. @throws {Misused} */
export function readCommand(
  args: readonly string[],
  env: NodeJS.ProcessEnv,
  platform: NodeJS.Platform,
): Command {
  const { values, positionals } = parse(args);
  if (values.help) return { name: 'help' };
  if (values.version) return { name: 'version' };
  const [name = 'serve', ...more] = positionals;
  if (!isCommand(name)) throw new Misused(`there is no command ${name}`);
  const what = NEEDS_NAMED[name];
  const named = what === undefined ? undefined : more.shift();
  if (what !== undefined && named === undefined) throw new Misused(`${name} needs ${what}`);
  if (more[0] !== undefined) throw new Misused(`there is one command too many: ${more[0]}`);
  const folder = values.data ?? env.CLOTHROOM_DATA ?? usualFolder(name === 'demo', env, platform);
  if (folder === '') throw new Misused('--data needs a folder');
  refuseOptionsOfOthers(name, values);
  if (name === 'serve' || name === 'demo' || name === 'install-service')
    return { name, folder, port: readPort(values.port), network: values.network ?? false };
  if (name === 'invite')
    return {
      name,
      device: named ?? '',
      person: values.for ?? null,
      keeper: values.as ?? null,
      port: readPort(values.port),
    };
  if (name === 'backup' || name === 'export') return { name, folder, to: values.to ?? null };
  if (name === 'passphrase') return { name, folder, person: named ?? '' };
  if (name === 'import' || name === 'restore') return { name, folder, file: named ?? '' };
  return { name, folder };
}

const COMMANDS = [
  'serve',
  'demo',
  'check',
  'export',
  'import',
  'backup',
  'restore',
  'passphrase',
  'invite',
  'install-service',
] as const;
type CommandName = (typeof COMMANDS)[number];

/** The options that some commands alone take. */
const TAKEN_BY: Readonly<Record<string, readonly CommandName[]>> = {
  port: ['serve', 'demo', 'invite', 'install-service'],
  network: ['serve', 'demo', 'install-service'],
  to: ['backup', 'export'],
  for: ['invite'],
  as: ['invite'],
};

function refuseOptionsOfOthers(name: CommandName, values: Readonly<Record<string, unknown>>): void {
  for (const [option, takers] of Object.entries(TAKEN_BY))
    if (values[option] !== undefined && !takers.includes(name))
      throw new Misused(`${name} takes no --${option}`);
}

/** What a command must be given. */
const NEEDS_NAMED: Partial<Record<CommandName, string>> = {
  import: 'the file of an exported workroom',
  restore: 'the file of a copy',
  passphrase: 'the name of a keeper',
  invite: 'a name for the device',
};

function isCommand(name: string): name is CommandName {
  return COMMANDS.some((known) => known === name);
}

function parse(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        data: { type: 'string' },
        port: { type: 'string' },
        to: { type: 'string' },
        for: { type: 'string' },
        as: { type: 'string' },
        network: { type: 'boolean' },
        help: { type: 'boolean' },
        version: { type: 'boolean' },
      },
    });
  } catch (error) {
    throw new Misused((error as Error).message.split('. ')[0] ?? 'the options cannot be read');
  }
}

function readPort(text: string | undefined): number {
  if (text === undefined) return DEFAULT_PORT;
  const port = /^[0-9]{1,5}$/.test(text) ? Number(text) : Number.NaN;
  if (port <= 65_535) return port;
  throw new Misused(`--port takes a number from 0 to 65535, not ${text}`);
}

/** Where programs of this platform keep their data. The invented workroom has a folder of its own. */
function usualFolder(demo: boolean, env: NodeJS.ProcessEnv, platform: NodeJS.Platform): string {
  const name = demo ? 'clothroom-demo' : 'clothroom';
  if (platform === 'win32') return join(env.APPDATA ?? join(homedir(), 'AppData', 'Roaming'), name);
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', name);
  return join(env.XDG_DATA_HOME || join(homedir(), '.local', 'share'), name);
}

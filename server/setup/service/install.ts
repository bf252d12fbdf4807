import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { CannotOpen } from '../../database/folder.ts';
import { type ServiceCommand, type ServiceFile, WRITTEN_BY } from './command.ts';
import { launchdAgent } from './launchd.ts';
import { scheduledTask } from './scheduled-task.ts';
import { systemdUnit } from './systemd.ts';

/** The machine and the person for whom it is to start by itself. */
export interface ServiceMachine {
  readonly platform: NodeJS.Platform;
  readonly env: NodeJS.ProcessEnv;
  readonly home: string;
  readonly isAdministrator: boolean;
  /** whether systemd runs here (sd_booted(3)) */
  readonly hasSystemd: boolean;
}

/**
 * Writes what has this system start Clothroom by itself, and says what is to be typed for it. Nothing is started or
 * changed besides.
 *
 * @throws {CannotOpen} with a sentence for the terminal where it cannot be
 */
export function installService(machine: ServiceMachine, command: ServiceCommand): string {
  if (machine.isAdministrator)
    throw new CannotOpen(
      'run this as the person whose book it is, not as administrator: it then runs with that person’s rights only',
    );
  const file = serviceFileFor(machine, command);
  const isThere = existsSync(file.path);
  if (isThere && !readFileSync(file.path, file.encoding).includes(WRITTEN_BY))
    throw new CannotOpen(`${file.path} is there already and is not ours; move it away first`);
  mkdirSync(dirname(file.path), { recursive: true });
  writeFileSync(file.path, file.text, { encoding: file.encoding, mode: 0o600 });
  return explain(file, isThere);
}

function serviceFileFor(machine: ServiceMachine, command: ServiceCommand): ServiceFile {
  const { platform, env, home, hasSystemd } = machine;
  if (platform === 'linux' && hasSystemd)
    return systemdUnit(command, env.XDG_CONFIG_HOME || join(home, '.config'));
  if (platform === 'darwin') return launchdAgent(command, home);
  if (platform === 'win32')
    return scheduledTask(command, home, [env.USERDOMAIN, env.USERNAME].filter(Boolean).join('\\'));
  const words = [command.program, ...command.args].join(' ');
  throw new CannotOpen(
    `this system has no systemd, launchd or Task Scheduler; have it run by its own means: ${words}`,
  );
}

function explain({ path, toStart, toLook, toRemove, notes }: ServiceFile, isAgain: boolean): string {
  const block = (head: string, lines: readonly string[]) =>
    `${head}\n${lines.map((line) => `  ${line}`).join('\n')}\n`;
  return [
    `${isAgain ? 'Written anew' : 'Written'}: ${path}\n`,
    block('Stop Clothroom where it is open, and type, to start it now and by itself from then on:', toStart),
    block('To see how it goes:', toLook),
    block('To take it off again (the book stays):', toRemove),
    ...notes.map((note) => `${note}\n`),
    'A computer that sleeps answers nobody: keep it awake in the working hours.\n',
    'After an update whose folder has another name, run install-service again from the new one.\n',
  ].join('\n');
}

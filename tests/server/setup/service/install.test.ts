import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ENGINE_FLAGS, STOP_SECONDS, WRITTEN_BY } from '../../../../server/setup/service/command.ts';
import { installService, type ServiceMachine } from '../../../../server/setup/service/install.ts';

// A name with what each of the three ways gives a meaning of its own.
const ODD = 'a "b" 100% $HOME & <c> it\'s';

let home: string;
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'clothroom-service-'));
});
afterEach(() => rmSync(home, { recursive: true, force: true }));

const command = () => ({ program: process.execPath, args: ['start.js', 'serve', '--data', join(home, ODD)] });
const machine = (platform: NodeJS.Platform, more: Partial<ServiceMachine> = {}): ServiceMachine => ({
  platform,
  env: { USERDOMAIN: 'LOFT', USERNAME: 'Ann & Co' },
  home,
  isAdministrator: false,
  hasSystemd: true,
  ...more,
});
const files = {
  linux: () => join(home, '.config', 'systemd', 'user', 'clothroom.service'),
  darwin: () => join(home, 'Library', 'LaunchAgents', 'clothroom.workroom.plist'),
  win32: () => join(home, 'clothroom-task.xml'),
};

/** The words of the command in a file, as its system reads them back. */
const wordsOf = {
  // systemd.syntax(7), systemd.service(5): quotes, %% for %, $$ for $.
  linux: () => {
    const [, line = ''] = /^ExecStart=(.*)$/m.exec(readFileSync(files.linux(), 'utf8')) ?? [];
    return [...line.matchAll(/"((?:\\.|[^"\\])*)"/g)].map(([, word = '']) =>
      word.replace(/\\(.)/g, '$1').replaceAll('%%', '%').replaceAll('$$', '$'),
    );
  },
  // launchd.plist(5): each word a string.
  darwin: () =>
    readByPython(
      'import json,plistlib,sys; print(json.dumps(plistlib.load(open(sys.argv[1],"rb"))["ProgramArguments"]))',
      files.darwin(),
    ) as string[],
  // CommandLineToArgvW: quotes hold words together, and a backslash before a quote makes it one of the word.
  win32: () => {
    const read =
      'import json,sys,xml.etree.ElementTree as t; n="{http://schemas.microsoft.com/windows/2004/02/mit/task}"; e=t.parse(sys.argv[1]).getroot().find(f".//{n}Exec"); print(json.dumps([e.find(n+"Command").text, e.find(n+"Arguments").text]))';
    const [program = '', line = ''] = readByPython(read, files.win32()) as string[];
    const words = [...line.matchAll(/(?:"(?:\\.|[^"\\])*"|[^\s"])+/g)].map(([word]) =>
      word.replace(/\\"|"/g, (found) => (found === '"' ? '' : '"')),
    );
    return [program, ...words];
  },
};

/** What Python's own readers make of a file. */
function readByPython(program: string, path: string): unknown {
  return JSON.parse(execFileSync('python3', ['-c', program, path], { encoding: 'utf8' }));
}

describe('install-service', () => {
  it.each(['linux', 'darwin', 'win32'] as const)('writes and explains, and writes anew: %s', (platform) => {
    const said = installService(machine(platform), command());
    const path = files[platform]();
    expect(said).toMatch(new RegExp(`^Written: ${path}\n`));
    for (const words of [
      'To see how it goes:',
      'To take it off again (the book stays):',
      'A computer that sleeps',
    ])
      expect(said).toContain(words);
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(installService(machine(platform), command())).toMatch(/^Written anew: /);
  });

  it('leaves a file alone that it did not write', () => {
    installService(machine('darwin'), command());
    writeFileSync(files.darwin(), '<plist/>');
    expect(() => installService(machine('darwin'), command())).toThrow(/is there already and is not ours/);
    expect(readFileSync(files.darwin(), 'utf8')).toBe('<plist/>');
  });

  it('refuses an administrator, and a system that it knows no way for, and writes nothing', () => {
    expect(() => installService(machine('linux', { isAdministrator: true }), command())).toThrow(
      /^run this as the person whose book it is, not as administrator/,
    );
    for (const other of [machine('linux', { hasSystemd: false }), machine('freebsd')])
      expect(() => installService(other, command())).toThrow(
        `this system has no systemd, launchd or Task Scheduler; have it run by its own means: ${process.execPath} start.js`,
      );
    expect(Object.values(files).filter((file) => existsSync(file()))).toEqual([]);
  });

  it.each(['linux', 'darwin', 'win32'] as const)(
    'writes a command that starts the program from anywhere, and stops it in time: %s',
    async (platform) => {
      const script = fileURLToPath(new URL('../../../../server/start.js', import.meta.url));
      const where = ['serve', '--data', join(home, ODD), '--port', '0'];
      const wanted = { program: process.execPath, args: [...ENGINE_FLAGS, script, ...where] };
      installService(machine(platform), wanted);
      const [program = '', ...args] = wordsOf[platform]();
      expect([program, ...args]).toEqual([wanted.program, ...wanted.args]);
      // With no more than a system gives: another folder, and no variables of a terminal.
      const child = spawn(program, args, { cwd: '/', env: { HOME: home, TMPDIR: tmpdir() } });
      const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
      try {
        const said = await new Promise<string>((resolve) =>
          child.stdout.once('data', (text) => resolve(String(text))),
        );
        const [, address = ''] = /^Clothroom is open at (\S+)\n/.exec(said) ?? [];
        expect((await fetch(`${address}/ping`)).status).toBe(204);
        expect(existsSync(join(home, ODD, 'clothroom.db'))).toBe(true);
        const asked = performance.now();
        child.kill('SIGTERM');
        expect(await ended).toBe(0);
        expect(performance.now() - asked).toBeLessThan(STOP_SECONDS * 1000);
      } finally {
        child.kill('SIGKILL');
      }
    },
  );

  it('gives the engine what "npm start" gives it', () => {
    const { scripts } = JSON.parse(readFileSync('package.json', 'utf8')) as { scripts: { start: string } };
    expect(scripts.start).toBe(`node ${ENGINE_FLAGS.join(' ')} server/start.js serve`);
  });
});

const noAnalyzer =
  !process.env.CLOTHROOM_TRIES_ALL && spawnSync('systemd-analyze', ['--version']).status !== 0;

describe('the unit of systemd', () => {
  const verify = (path: string) => {
    const env = { ...process.env, XDG_RUNTIME_DIR: home };
    const { status, stdout, stderr } = spawnSync('systemd-analyze', ['verify', '--user', path], {
      env,
      encoding: 'utf8',
    });
    return { status, said: stdout + stderr };
  };

  it.skipIf(noAnalyzer)('is taken by systemd-analyze without a word, which a misspelled key is not', () => {
    installService(machine('linux'), command());
    expect(verify(files.linux())).toEqual({ status: 0, said: '' });
    const wrong = join(home, 'wrong.service');
    writeFileSync(wrong, readFileSync(files.linux(), 'utf8').replace('NoNewPrivileges', 'NoNewPriviledges'));
    // It prints, and ends as if all were well.
    expect(verify(wrong).said).toContain("Unknown key 'NoNewPriviledges'");
  });

  it('names the program and the folder as systemd reads them back', () => {
    installService(machine('linux'), command());
    expect(wordsOf.linux()).toEqual([process.execPath, ...command().args]);
  });
});

describe('the agent of launchd', () => {
  // launchd.plist(5); read by Python's plistlib.
  it('is a property list of documented keys', () => {
    installService(machine('darwin'), command());
    const read = 'import json,plistlib,sys; print(json.dumps(plistlib.load(open(sys.argv[1],"rb"))))';
    const log = join(home, 'Library', 'Logs', 'clothroom.log');
    expect(readByPython(read, files.darwin())).toEqual({
      Label: 'clothroom.workroom',
      ProgramArguments: [process.execPath, ...command().args],
      RunAtLoad: true,
      KeepAlive: { SuccessfulExit: false },
      ThrottleInterval: 10,
      ExitTimeOut: 20,
      Umask: 0o77,
      StandardOutPath: log,
      StandardErrorPath: log,
    });
  });
});

describe('the task of Windows', () => {
  // Elements of the Task Scheduler Schema ([MS-TSCH] 2.5, and the pages of its types), by the element that they stand in.
  const DOCUMENTED: Readonly<Record<string, readonly string[]>> = {
    Task: ['RegistrationInfo', 'Triggers', 'Principals', 'Settings', 'Actions', 'Data'],
    RegistrationInfo: [
      'URI',
      'SecurityDescriptor',
      'Source',
      'Date',
      'Author',
      'Version',
      'Description',
      'Documentation',
    ],
    Triggers: [
      'BootTrigger',
      'TimeTrigger',
      'CalendarTrigger',
      'IdleTrigger',
      'LogonTrigger',
      'EventTrigger',
    ],
    LogonTrigger: [
      'Enabled',
      'StartBoundary',
      'EndBoundary',
      'Repetition',
      'ExecutionTimeLimit',
      'UserId',
      'Delay',
    ],
    Principals: ['Principal'],
    Principal: [
      'UserId',
      'LogonType',
      'GroupId',
      'DisplayName',
      'RunLevel',
      'ProcessTokenSidType',
      'RequiredPrivileges',
    ],
    Settings: [
      ...['AllowStartOnDemand', 'RestartOnFailure', 'MultipleInstancesPolicy', 'DisallowStartIfOnBatteries'],
      ...['StopIfGoingOnBatteries', 'AllowHardTerminate', 'StartWhenAvailable', 'NetworkProfileName'],
      ...[
        'RunOnlyIfNetworkAvailable',
        'WakeToRun',
        'Enabled',
        'Hidden',
        'DeleteExpiredTaskAfter',
        'IdleSettings',
      ],
      ...['NetworkSettings', 'ExecutionTimeLimit', 'Priority', 'RunOnlyIfIdle', 'UseUnifiedSchedulingEngine'],
    ],
    RestartOnFailure: ['Interval', 'Count'],
    Actions: ['Exec', 'ComHandler', 'SendEmail', 'ShowMessage'],
    Exec: ['Command', 'Arguments', 'WorkingDirectory'],
  };
  const READ = `
import json, sys, xml.etree.ElementTree as tree
NS = '{http://schemas.microsoft.com/windows/2004/02/mit/task}'
def read(e):
    assert e.tag.startswith(NS), e.tag
    return [e.tag[len(NS):], dict(e.attrib), [read(c) for c in e], (e.text or '').strip()]
print(json.dumps(read(tree.parse(sys.argv[1]).getroot())))`;
  type Element = [name: string, attributes: Record<string, string>, children: Element[], text: string];

  const texts = ([name, , children, text]: Element): [string, string][] => [
    [name, text],
    ...children.flatMap(texts),
  ];
  const unknown = ([name, , children]: Element): string[] =>
    children.flatMap((child) => [
      ...(DOCUMENTED[name]?.includes(child[0]) ? [] : [`${name}/${child[0]}`]),
      ...unknown(child),
    ]);

  it('is well-formed, of documented elements, without a limit of time, and runs on batteries', () => {
    installService(machine('win32'), command());
    expect([...readFileSync(files.win32()).subarray(0, 2)]).toEqual([0xff, 0xfe]);
    const task = readByPython(READ, files.win32()) as Element;
    expect(unknown(task)).toEqual([]);
    const said = Object.fromEntries(texts(task));
    expect(said).toMatchObject({
      ExecutionTimeLimit: 'PT0S',
      DisallowStartIfOnBatteries: 'false',
      StopIfGoingOnBatteries: 'false',
      RunLevel: 'LeastPrivilege',
      UserId: 'LOFT\\Ann & Co',
      Command: process.execPath,
    });
    const [, context] = task[2].find(([name]) => name === 'Actions') ?? [];
    const principal = task[2].find(([name]) => name === 'Principals')?.[2][0];
    expect(context).toEqual({ Context: principal?.[1].id });
    expect(said.Arguments).toBe(`start.js serve --data "${join(home, ODD).replaceAll('"', '\\"')}"`);
    expect(said.Description).toContain(WRITTEN_BY);
  });
});

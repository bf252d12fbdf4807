import { homedir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { DEFAULT_PORT, Misused, readCommand } from '../../server/command-line.ts';

const read = (args: string, env: NodeJS.ProcessEnv = {}, platform: NodeJS.Platform = 'linux') =>
  readCommand(args.split(' ').filter(Boolean), env, platform);

describe('commands', () => {
  it('serve the workroom unless another is named', () => {
    expect(read('')).toMatchObject({ name: 'serve', port: DEFAULT_PORT, network: false });
    expect(read('--network')).toMatchObject({ name: 'serve', network: true });
    expect(read('passphrase Oda --data /books/loft')).toEqual({
      name: 'passphrase',
      folder: '/books/loft',
      person: 'Oda',
    });
    expect(read('demo --port 0')).toMatchObject({ name: 'demo', port: 0 });
    expect(read('check --data /books/loft')).toEqual({ name: 'check', folder: '/books/loft' });
    expect(read('export --data /books/loft')).toEqual({ name: 'export', folder: '/books/loft', to: null });
    expect(read('import all.json --data /new')).toEqual({ name: 'import', folder: '/new', file: 'all.json' });
    expect(read('backup --data /b --to /drive')).toEqual({ name: 'backup', folder: '/b', to: '/drive' });
    expect(read('backup --data /b')).toEqual({ name: 'backup', folder: '/b', to: null });
    expect(read('restore c.db --data /b')).toEqual({ name: 'restore', folder: '/b', file: 'c.db' });
    expect(read('invite Tablet')).toEqual({
      name: 'invite',
      device: 'Tablet',
      person: null,
      keeper: null,
      port: DEFAULT_PORT,
    });
    expect(read('invite Phone --for Ann --as Oda --port 80')).toMatchObject({
      person: 'Ann',
      keeper: 'Oda',
      port: 80,
    });
    expect(read('install-service --data /b --network')).toEqual({
      name: 'install-service',
      folder: '/b',
      port: DEFAULT_PORT,
      network: true,
    });
    expect(read('--help')).toEqual({ name: 'help' });
    expect(read('serve --version')).toEqual({ name: 'version' });
  });

  it.each([
    ['sew', 'there is no command sew'],
    ['serve demo', 'one command too many: demo'],
    ['--port -1', '--port'],
    ['--port=65536', '--port takes a number from 0 to 65535, not 65536'],
    ['--port=80x', 'not 80x'],
    ['--data=', '--data needs a folder'],
    ['--loud', '--loud'],
    ['check --port 1', 'takes no --port'],
    ['check --network', 'takes no --network'],
    ['passphrase', 'passphrase needs the name'],
    ['invite', 'invite needs a name for the device'],
    ['serve --for Ann', 'serve takes no --for'],
    ['invite Tablet --network', 'invite takes no --network'],
    ['import', 'import needs the file'],
    ['restore', 'restore needs the file of a copy'],
    ['check --to /drive', 'check takes no --to'],
    ['export all.json', 'one command too many: all.json'],
  ])('refuse %s', (args, message) => {
    expect(() => read(args)).toThrow(Misused);
    expect(() => read(args)).toThrow(message);
  });
});

describe('the data folder', () => {
  it('is the one that is named, else the one of the environment, else where the platform keeps data', () => {
    const env = { CLOTHROOM_DATA: '/from/environment' };
    expect(read('--data /named', env)).toMatchObject({ folder: '/named' });
    expect(read('', env)).toMatchObject({ folder: '/from/environment' });
    expect(read('', { XDG_DATA_HOME: '/xdg' })).toMatchObject({ folder: '/xdg/clothroom' });
    expect(read('')).toMatchObject({ folder: join(homedir(), '.local/share/clothroom') });
    expect(read('', {}, 'darwin')).toMatchObject({
      folder: join(homedir(), 'Library', 'Application Support', 'clothroom'),
    });
    expect(read('', { APPDATA: '/appdata' }, 'win32')).toMatchObject({
      folder: join('/appdata', 'clothroom'),
    });
  });

  it('of the invented workroom is never the workroom’s own', () => {
    expect(read('demo', { XDG_DATA_HOME: '/xdg' })).toMatchObject({ folder: '/xdg/clothroom-demo' });
  });
});

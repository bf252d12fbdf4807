import { MACHINE_ADDRESS, TABLET_ADDRESS } from './two-machines.ts';

/** Spellings of a host that somebody's page, name or program may come by, none of them our own. */
export function hostsBeside(number: string, port: number): string[] {
  const isHere = number === '127.0.0.1';
  const asNumber = number.split('.').reduce((sum, part) => sum * 256 + Number(part), 0);
  const hexadecimal = number.split('.').map((part) => `0x${Number(part).toString(16)}`);
  const octal = number.split('.').map((part) => `0${Number(part).toString(8)}`);
  const names = [
    ...[
      'evil.example',
      `${number}.evil.example`,
      `evil.example.${number}`,
      `${number}.`,
      `.${number}`,
      `x${number}`,
    ],
    ...[
      `${number}x`,
      `evil@${number}`,
      `${number}@evil.example`,
      `${number}/`,
      `${number}#`,
      `${number}?`,
      `${number}\\`,
    ],
    ...[
      `http://${number}`,
      `[${number}]`,
      `[::ffff:${number}]`,
      `::ffff:${number}`,
      '[::]',
      '[fe80::1]',
      '0.0.0.0',
    ],
    ...[
      String(asNumber),
      `0x${asNumber.toString(16)}`,
      hexadecimal.join('.'),
      octal.join('.'),
      number.replace(/\.\d+$/, ''),
    ],
    ...[
      '255.255.255.255',
      '10.77.0.2',
      '10.77.0.11',
      '110.77.0.1',
      '192.168.1.20',
      'clothroom',
      'clothroom.local',
      'workroom',
    ],
    ...[
      'local',
      'LOCALHOST',
      'localhost.',
      'localhost.evil.example',
      'localhost.localdomain',
      'ip6-localhost',
      '127.1',
    ],
    ...[
      '127.0.0.2',
      '127.0.1',
      '2130706433',
      '0x7f000001',
      '0',
      '-',
      '*',
      '..',
      '%31',
      `${number}%00`,
      `${number},evil.example`,
    ],
    ...(isHere ? [MACHINE_ADDRESS, TABLET_ADDRESS] : ['127.0.0.1', 'localhost', '[::1]']),
  ];
  const ports = [
    '',
    ':',
    ':80',
    ':443',
    ':9001',
    `:${port + 100}`,
    `:0${port}`,
    `:${port}:${port}`,
    `:+${port}`,
    `:${port} x`,
  ];
  return [...names.map((name) => `${name}:${port}`), ...ports.map((end) => `${number}${end}`)];
}

import { join } from 'node:path';
import {
  RESTART_SECONDS,
  type ServiceCommand,
  type ServiceFile,
  STOP_SECONDS,
  WRITTEN_BY,
} from './command.ts';

const UNIT = 'clothroom.service';

/** A unit of the person's own systemd: systemd.unit(5), systemd.service(5), systemd.exec(5). */
export function systemdUnit({ program, args }: ServiceCommand, configFolder: string): ServiceFile {
  const path = join(configFolder, 'systemd', 'user', UNIT);
  const text = `# ${WRITTEN_BY}
[Unit]
Description=Clothroom, the book of the workroom
StartLimitIntervalSec=300
StartLimitBurst=5

[Service]
ExecStart=${[program, ...args].map(quoted).join(' ')}
Restart=on-failure
RestartSec=${RESTART_SECONDS}
TimeoutStopSec=${STOP_SECONDS}
NoNewPrivileges=yes
UMask=0077

[Install]
WantedBy=default.target
`;
  return {
    path,
    text,
    encoding: 'utf8',
    toStart: [
      'systemctl --user daemon-reload',
      `systemctl --user enable --now ${UNIT}`,
      // Units of a person run while the person is logged in, unless they linger.
      'loginctl enable-linger',
    ],
    toLook: [`systemctl --user status ${UNIT}`, `journalctl --user -u ${UNIT}`],
    toRemove: [
      `systemctl --user disable --now ${UNIT}`,
      `rm '${path}'`,
      'systemctl --user daemon-reload',
      'loginctl disable-linger',
    ],
    notes: ['The last of the first three lets it run before anybody logs in.'],
  };
}

/** A word of ExecStart: quoted, with the signs escaped that mean something to systemd (systemd.syntax(7)). */
function quoted(word: string): string {
  const escaped = word
    .replaceAll('\\', '\\\\')
    .replaceAll('"', '\\"')
    .replaceAll('%', '%%')
    .replaceAll('$', '$$$$');
  return `"${escaped}"`;
}

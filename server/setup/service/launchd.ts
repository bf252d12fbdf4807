import { join } from 'node:path';
import {
  escapeXml,
  RESTART_SECONDS,
  type ServiceCommand,
  type ServiceFile,
  STOP_SECONDS,
  WRITTEN_BY,
} from './command.ts';

const LABEL = 'clothroom.workroom';
/** 077: property lists have no octal numbers. */
const UMASK = 63;

/** An agent of the person's own launchd: launchd.plist(5). */
export function launchdAgent({ program, args }: ServiceCommand, home: string): ServiceFile {
  const path = join(home, 'Library', 'LaunchAgents', `${LABEL}.plist`);
  const log = join(home, 'Library', 'Logs', 'clothroom.log');
  const strings = [program, ...args].map((word) => `    <string>${escapeXml(word)}</string>`);
  const text = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE plist PUBLIC "-//Apple//DTD PLIST 1.0//EN" "http://www.apple.com/DTDs/PropertyList-1.0.dtd">
<!-- ${WRITTEN_BY} -->
<plist version="1.0">
<dict>
  <key>Label</key>
  <string>${LABEL}</string>
  <key>ProgramArguments</key>
  <array>
${strings.join('\n')}
  </array>
  <key>RunAtLoad</key>
  <true/>
  <key>KeepAlive</key>
  <dict>
    <key>SuccessfulExit</key>
    <false/>
  </dict>
  <key>ThrottleInterval</key>
  <integer>${RESTART_SECONDS}</integer>
  <key>ExitTimeOut</key>
  <integer>${STOP_SECONDS}</integer>
  <key>Umask</key>
  <integer>${UMASK}</integer>
  <key>StandardOutPath</key>
  <string>${escapeXml(log)}</string>
  <key>StandardErrorPath</key>
  <string>${escapeXml(log)}</string>
</dict>
</plist>
`;
  return {
    path,
    text,
    encoding: 'utf8',
    toStart: [`launchctl bootstrap gui/$(id -u) '${path}'`],
    toLook: [`launchctl print gui/$(id -u)/${LABEL}`, `tail '${log}'`],
    toRemove: [`launchctl bootout gui/$(id -u)/${LABEL}`, `rm '${path}'`],
    notes: ['It starts when you log in. It is written after the documentation and was not tried on a Mac.'],
  };
}

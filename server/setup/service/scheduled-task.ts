import { join } from 'node:path';
import { escapeXml, type ServiceCommand, type ServiceFile, WRITTEN_BY } from './command.ts';

const NAME = 'Clothroom';

/** A task of Windows that runs when its person logs on: Task Scheduler Schema, [MS-TSCH] 2.5. */
export function scheduledTask({ program, args }: ServiceCommand, home: string, user: string): ServiceFile {
  const path = join(home, 'clothroom-task.xml');
  const text = `\ufeff<?xml version="1.0" encoding="UTF-16"?>
<Task version="1.2" xmlns="http://schemas.microsoft.com/windows/2004/02/mit/task">
  <RegistrationInfo>
    <Description>Serves the book of the workroom. ${WRITTEN_BY}</Description>
  </RegistrationInfo>
  <Triggers>
    <LogonTrigger>
      <Enabled>true</Enabled>
      <UserId>${escapeXml(user)}</UserId>
    </LogonTrigger>
  </Triggers>
  <Principals>
    <Principal id="Author">
      <UserId>${escapeXml(user)}</UserId>
      <LogonType>InteractiveToken</LogonType>
      <RunLevel>LeastPrivilege</RunLevel>
    </Principal>
  </Principals>
  <Settings>
    <MultipleInstancesPolicy>IgnoreNew</MultipleInstancesPolicy>
    <DisallowStartIfOnBatteries>false</DisallowStartIfOnBatteries>
    <StopIfGoingOnBatteries>false</StopIfGoingOnBatteries>
    <StartWhenAvailable>true</StartWhenAvailable>
    <ExecutionTimeLimit>PT0S</ExecutionTimeLimit>
    <RestartOnFailure>
      <Interval>PT1M</Interval>
      <Count>5</Count>
    </RestartOnFailure>
  </Settings>
  <Actions Context="Author">
    <Exec>
      <Command>${escapeXml(program)}</Command>
      <Arguments>${escapeXml(args.map(quoted).join(' '))}</Arguments>
    </Exec>
  </Actions>
</Task>
`;
  return {
    path,
    text,
    encoding: 'utf16le',
    toStart: [`schtasks /Create /TN ${NAME} /XML "${path}"`, `schtasks /Run /TN ${NAME}`],
    toLook: [`schtasks /Query /TN ${NAME} /V /FO LIST`],
    toRemove: [`schtasks /End /TN ${NAME}`, `schtasks /Delete /TN ${NAME} /F`, `del "${path}"`],
    notes: [
      'It starts when you log on, and its window stays open.',
      'For phones, set the network to Private, and allow Node.js in the firewall when Windows asks.',
      'It is written after the documentation and was not tried on Windows.',
    ],
  };
}

/** A word as programs of Windows take their line apart (CommandLineToArgvW): backslashes count before a quote only. */
function quoted(word: string): string {
  if (/^[\w:=./\\-]+$/.test(word) && !word.endsWith('\\')) return word;
  return `"${word.replace(/(\\*)"/g, '$1$1\\"').replace(/(\\+)$/, '$1$1')}"`;
}

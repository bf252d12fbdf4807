import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

// The workroom's network as it is: two network namespaces joined by a virtual cable, one the machine of the book and one
// a tablet. Making them needs Linux, root and iproute2.

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const MACHINE = `clothroom-srv-${process.pid}`;
export const TABLET = `clothroom-tab-${process.pid}`;
/** the machine's end of the cable */
export const CABLE = `crs${process.pid}`;
export const MACHINE_ADDRESS = '10.77.0.1';
export const TABLET_ADDRESS = '10.77.0.2';
/** Of a machine behind the tablet: reachable, and no neighbour. */
export const ROUTED_ADDRESS = '10.99.0.2';
export const PASSPHRASE = 'velvet canal onion drift';

export function ip(...args: string[]): void {
  execFileSync('ip', args, { stdio: 'pipe' });
}

/** Why no network can be made here, told once; '' where it can. Where everything is tried, nothing is passed over. */
export const noNetwork = whyNoNetwork();

function whyNoNetwork(): string {
  const made = spawnSync('ip', ['netns', 'add', MACHINE], { encoding: 'utf8' });
  if (made.status === 0) {
    ip('netns', 'del', MACHINE);
    return '';
  }
  const reason = made.error?.message ?? made.stderr.trim();
  if (process.env.CLOTHROOM_TRIES_ALL) throw new Error(`no network namespaces: ${reason}`);
  process.stdout.write(`The workroom's network is not tried: no namespaces can be made (${reason}).\n`);
  return reason;
}

/** Joins the two machines. */
export function joinMachines(): void {
  const theirs = `crt${process.pid}`;
  for (const space of [MACHINE, TABLET]) ip('netns', 'add', space);
  ip('link', 'add', CABLE, 'type', 'veth', 'peer', 'name', theirs);
  for (const [space, device, address] of [
    [MACHINE, CABLE, MACHINE_ADDRESS],
    [TABLET, theirs, TABLET_ADDRESS],
  ] as const) {
    ip('link', 'set', 'dev', device, 'netns', space);
    ip('-n', space, 'addr', 'add', `${address}/24`, 'dev', device);
    // An address that the device gives itself a second after it is up would break off a page that is being loaded. Where
    // the machine knows none of that kind, there is nothing to turn off.
    spawnSync('ip', ['-n', space, 'link', 'set', 'dev', device, 'addrgenmode', 'none']);
    ip('-n', space, 'link', 'set', 'dev', device, 'up');
    ip('-n', space, 'link', 'set', 'dev', 'lo', 'up');
  }
  ip('-n', TABLET, 'addr', 'add', `${ROUTED_ADDRESS}/32`, 'dev', 'lo');
  routeBack();
}

/** The way to the machine behind the tablet, which goes with the address of the cable. */
export function routeBack(): void {
  ip('-n', MACHINE, 'route', 'replace', `${ROUTED_ADDRESS}/32`, 'via', TABLET_ADDRESS);
}

const children = new Set<ChildProcess>();

/** Ends all that runs on the two machines, and takes them away. */
export function partMachines(): void {
  for (const child of children) child.kill('SIGKILL');
  children.clear();
  for (const space of [MACHINE, TABLET]) spawnSync('ip', ['netns', 'del', space]);
}

/** Runs a script of the project, or of a copy of it, on one of the machines. */
export function runOn(
  space: string,
  command: readonly string[],
  { folder = ROOT, home = process.env.HOME } = {},
): ChildProcess {
  const env = { ...process.env, HOME: home, NODE_COMPILE_CACHE: undefined };
  const child = spawn('ip', ['netns', 'exec', space, process.execPath, ...command], { cwd: folder, env });
  children.add(child);
  return child;
}

/** Runs a command of the program at the machine's terminal; what it said. */
export async function atTerminal(typed: string, ...args: string[]): Promise<string> {
  const child = runOn(MACHINE, ['server/start.js', ...args]);
  child.stdin?.end(typed);
  const said = await Promise.all(
    [child.stdout, child.stderr].map((stream) => stream?.setEncoding('utf8').toArray()),
  );
  return said.flat().join('');
}

/** Serves a book on the machine; done once it says where it is open, on the network too where that is asked for. */
export async function serveOnMachine(args: readonly string[], program = ROOT): Promise<ChildProcess> {
  const child = runOn(MACHINE, ['server/start.js', ...args], { folder: program });
  const isOpen = args.includes('--network')
    ? /^On the network it is open at https?:\S+\n/m
    : /^Clothroom is open/;
  let said = '';
  child.stderr?.on('data', (text) => {
    said += text;
  });
  for await (const chunk of child.stdout as NodeJS.ReadableStream) {
    said += String(chunk);
    if (isOpen.test(said)) return child;
  }
  throw new Error(said);
}

/** Carries out a step of `namespace.child.ts` there and gives what it says. */
export type Asked = (...step: string[]) => Promise<unknown>;

/** Starts a browser on one of the machines. @param home where it keeps what it trusts, if not with everything else */
export function browserOn(space: string, switches: readonly string[] = [], home?: string): Asked {
  const child = runOn(space, ['tests/browser/namespace.child.ts', ...switches], { home });
  const lines = createInterface({ input: child.stdout as NodeJS.ReadableStream });
  const answers = lines[Symbol.asyncIterator]();
  let told = '';
  child.stderr?.on('data', (text) => {
    told += text;
  });
  return async (...step) => {
    child.stdin?.write(`${JSON.stringify(step)}\n`);
    const { value, done } = await answers.next();
    if (done) throw new Error(told);
    const { said, failed } = JSON.parse(value) as { said: unknown; failed?: string };
    if (failed) throw new Error(`${step.join(' ')}: ${failed}`);
    return said;
  };
}

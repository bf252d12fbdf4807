import { type ChildProcess, execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COPIES, copiesIn, PHOTOS } from '../../server/database/folder.ts';
import { openBook } from '../../server/database/open.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { length, newKey } from '../server/support.ts';
import type { AskedPlainly } from './namespace.child.ts';
import { putSceneBook, type SceneBook } from './scene-book.ts';
import { homeThatTrusts, noStore } from './trust.ts';
import {
  type Asked,
  atTerminal,
  browserOn,
  CABLE,
  ip,
  joinMachines,
  MACHINE,
  MACHINE_ADDRESS,
  noNetwork,
  PASSPHRASE,
  partMachines,
  routeBack,
  serveOnMachine,
  TABLET,
} from './two-machines.ts';

// A day of the workroom's network from the first code to last night's copy, with a real browser on both machines.

const BOOK = `http://${MACHINE_ADDRESS}:8737`;
const CERTIFIED = `https://${MACHINE_ADDRESS}:8738`;
const AT_MACHINE = 'http://127.0.0.1:8737';
/** A page of somebody's on another port of the machine, and a name that leads to the book by now. */
const OTHER_PORT = `http://${MACHINE_ADDRESS}:9001`;
const REBOUND = 'http://evil.example:8737';
const PHOTO_COUNT = 300;
/** Only what hangs is ended: it opens three browsers, on a machine that may be busy. */
const PATIENCE_MS = 900_000;

const ROUTES = readFileSync(new URL('../server/web/rules.txt', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .map((line) => line.split(/\s+/) as [rule: string, method: string, path: string]);

type Came = [status: number, url: string, text: string];
const open = (who: Asked, url: string) => who('open', url) as Promise<Came>;

let folder: string;
let data: string;
let serving: ChildProcess;
let keeper: Asked;
let phone: Asked;
let book: SceneBook;

describe.skipIf(noNetwork !== '' || noStore !== '')('the workroom’s network, through a day', () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'clothroom-scene-'));
    data = join(folder, 'book');
    const ofHands = ROUTES.filter(([rule, method]) => rule === 'hand' && method === 'GET');
    book = await putSceneBook(
      data,
      ofHands.map(([, , path]) => path),
      PHOTO_COUNT,
    );
    joinMachines();
    await serve();
    keeper = browserOn(MACHINE);
    phone = browserOn(TABLET, [
      `--kept=${join(folder, 'phone')}`,
      // What newer browsers keep from a page by themselves is a help, and nothing that the gate counts on.
      '--disable-features=LocalNetworkAccessChecks',
      `--host-resolver-rules=MAP evil.example ${MACHINE_ADDRESS}`,
    ]);
    await keeper('open', `${AT_MACHINE}/who/keeper?back=/setup/devices`);
    await keeper('fill', '#f-passphrase', PASSPHRASE);
    await keeper('pressTo', 'main button.main', `${AT_MACHINE}/setup/devices`);
  });
  afterAll(() => {
    partMachines();
    rmSync(folder, { recursive: true, force: true });
  });

  it('has a phone cut each lay once, tells of conflicts, keeps the others out, and loses nothing', {
    timeout: PATIENCE_MS,
  }, async () => {
    await letInByTheCode();
    await cutThreeLaysAcrossSilenceAndDeath();
    await cutWhatSomebodyElseHasCut();
    await findNoPrice();
    await giveNothingToOthers();
    await sendAKeeperAway();
    await pullTheDriveDuringACopy();
  });
});

async function serve(): Promise<void> {
  serving = await serveOnMachine(['--data', data, '--port', '8737', '--network']);
}

async function stop(): Promise<void> {
  const stopped = once(serving, 'exit');
  serving.kill('SIGTERM');
  await stopped;
}

async function exported(place: string): Promise<string> {
  const said = await atTerminal('', 'export', '--data', place);
  expect(said.slice(0, 30)).toMatch(/^\{"clothroom":/);
  return said;
}

/** The phone reads the code's image off the keeper's screen. */
async function letInByTheCode(): Promise<void> {
  expect((await open(phone, `${BOOK}/shelf`))[0]).toBe(401);
  await phone('open', await linkFor(`${book.hand}’s phone`, `${book.hand}’s own`));
  const today = (await phone('pressTo', 'main button.main', `${BOOK}/`)) as string;
  expect(today).toMatch(new RegExp(`${book.hand}\\s+on ${book.hand}’s phone`));
  await phone('putAway');
}

/** Lets a device in at the machine; gives the link that its code leads to. */
async function linkFor(device: string, whose: string): Promise<string> {
  await keeper('open', `${AT_MACHINE}/setup/devices`);
  await keeper('fill', '#f-device_name', device);
  await keeper('choose', '#f-person_id', whose);
  await keeper('press', 'main button.main');
  const picture = join(folder, 'code.png');
  await keeper('picture', '.scan', picture);
  return readCode(picture);
}

const CUT = 'button:has-text("It is cut")';
const silence = () => ip('-n', MACHINE, 'addr', 'del', `${MACHINE_ADDRESS}/24`, 'dev', CABLE);
async function voice(): Promise<void> {
  ip('-n', MACHINE, 'addr', 'add', `${MACHINE_ADDRESS}/24`, 'dev', CABLE);
  routeBack();
  // Where the silence was long the book looks for its addresses again within a minute.
  await expect.poll(() => phone('ask', `${BOOK}/ping`), { timeout: 120_000 }).toBe(204);
}

async function cutThreeLaysAcrossSilenceAndDeath(): Promise<void> {
  await phone('open', `${BOOK}${book.bench}`);
  await phone('pressUntil', CUT, 'Lay 1 cut from');
  silence();
  for (const kept of ['1', '2']) {
    await phone('press', CUT);
    await phone('waitFor', '#unsent li', kept);
  }
  await phone('kill');
  await phone('startAgain');
  await voice();
  expect((await open(phone, `${BOOK}${book.bench}`))[0]).toBe(200);
  await phone('waitFor', '#unsent b:text-is("Sent")');
  const [, , text] = await open(phone, `${BOOK}${book.bench}`);
  expect(text).toContain('Lay 4 of 4');
  expect(await laysCut()).toBe(3);
}

/** How many lays were cut off the bolt, by what the keeper is told is left of it. */
async function laysCut(): Promise<number> {
  const { piece } = (await keeper('data', `${AT_MACHINE}/shelf/pieces/${book.bolt}`)) as {
    piece: { onHandTicks: number };
  };
  return (length('5 m') - piece.onHandTicks) / length('32 cm');
}

async function cutWhatSomebodyElseHasCut(): Promise<void> {
  silence();
  await phone('press', CUT);
  await phone('waitFor', '#unsent li');
  await keeper('open', `${AT_MACHINE}${book.bench}`);
  await keeper('pressUntil', CUT, 'Lay 4 cut from');
  await voice();
  await phone('open', `${BOOK}${book.bench}`);
  await phone('waitFor', '#unsent button:has-text("What happened?")');
  const [, , text] = await open(phone, `${BOOK}${book.bench}`);
  await phone('waitFor', '#unsent button:has-text("What happened?")');
  expect(text).toContain(book.bolt);
  expect(await phone('textOf', '#unsent')).toMatch(
    new RegExp(`Not saved.*was cut already by ${book.keeper}.*Nothing was entered\\.`, 's'),
  );
  expect(await laysCut()).toBe(4);
}

async function findNoPrice(): Promise<void> {
  expect(book.pages.length).toBeGreaterThan(150);
  const asked = (origin: string) => JSON.stringify(book.pages.map((path) => `${origin}${path}`));
  const [found, read] = (await phone('prices', asked(BOOK))) as [string[], number];
  expect(found).toEqual([]);
  expect(read).toBeGreaterThan(book.pages.length);
  // The control: the keeper finds them on the same pages.
  const [toKeeper] = (await keeper('prices', asked(AT_MACHINE))) as [string[], number];
  expect(toKeeper.length).toBeGreaterThan(10);
}

async function giveNothingToOthers(): Promise<void> {
  const asked = ROUTES.filter(([rule]) => rule !== 'open').map(
    ([, method, path]): AskedPlainly => ({
      method,
      url: `${BOOK}${path.replaceAll(/:\w+/g, '1')}`,
      headers: method === 'GET' ? {} : { origin: BOOK },
    }),
  );
  const came = (await phone('askAll', JSON.stringify(asked))) as number[];
  expect(new Set(came)).toEqual(new Set([401]));
  await keeper('elsewhere', MACHINE_ADDRESS, '9001');
  const piece = `/shelf/pieces/${book.bolt}`;
  const use = { doing: 'hold', length: '1 m', kind: 'repair', garment: '', note: 'Not ours' };
  // It holds the phone's own cookie, since cookies know no ports.
  for (const kind of ['script', 'beacon', 'form']) {
    await phone('open', OTHER_PORT);
    const fields = String(new URLSearchParams({ request_key: newKey(), ...use }));
    const [status] = (await phone('deed', kind, `${BOOK}${piece}/uses`, fields)) as [unknown];
    expect(String(status)).toMatch(/^403$|^net::ERR_BLOCKED_BY_RESPONSE/);
  }
  await phone('open', OTHER_PORT);
  expect(await phone('deed', 'read', `${BOOK}${piece}`)).toEqual([
    expect.anything(),
    'TypeError: Failed to fetch',
  ]);
  await phone('rebound', `${REBOUND}/elsewhere`);
  const [status, text] = (await phone('deed', 'read', `${REBOUND}${piece}`)) as [number, string];
  expect([status, text]).toEqual([421, expect.stringMatching(/^Clothroom answers .* only\.$/)]);
  const [, , now] = await open(keeper, `${AT_MACHINE}${piece}`);
  expect(now).not.toContain('Not ours');
}

/** What hangs on the wall: the address in words and as a code, and the name of the Wi-Fi. */
async function readThePoster(): Promise<void> {
  const [, , text] = await open(keeper, `${AT_MACHINE}/setup/network/poster`);
  expect(text).toContain(CERTIFIED);
  expect(text).toContain('Lantern loft');
  const picture = join(folder, 'poster.png');
  await keeper('picture', '.poster svg', picture);
  expect(readCode(picture)).toBe(CERTIFIED.toUpperCase());
}

/** The decoder is of another hand than the encoder: zbarimg, from Debian's zbar-tools. */
function readCode(picture: string): string {
  return execFileSync('zbarimg', ['--nodbus', '-q', '--raw', picture], { encoding: 'utf8' }).trim();
}

/** Over its own certificate a keeper works on a tablet, until it is sent away. */
async function sendAKeeperAway(): Promise<void> {
  await keeper('open', `${AT_MACHINE}/setup/network`);
  await keeper('press', '#f-own_certificate');
  await keeper('fill', '#f-wifi_name', 'Lantern loft');
  await keeper('fill', '#f-passphrase', PASSPHRASE);
  await keeper('pressUntil', 'form[action="/setup/network/on"] button.main', 'The network is on.');
  await readThePoster();
  const tablet = browserOn(TABLET, [], homeThatTrusts(folder, join(data, 'certificate', 'root.crt')));
  const name = `${book.keeper}’s tablet`;
  await tablet('open', await linkFor(name, `${book.keeper}’s own`));
  await tablet('pressTo', 'main button.main', `${CERTIFIED}/`);
  await tablet('open', `${CERTIFIED}/who/keeper?back=/orders`);
  await tablet('fill', '#f-passphrase', PASSPHRASE);
  expect(await tablet('pressTo', 'main button.main', `${CERTIFIED}/orders`)).toContain('Orders');
  await keeper('open', `${AT_MACHINE}/setup/devices`);
  await keeper('pressUntil', `tr:has-text("${name}") button`, `${name} was sent away.`);
  const [status, , text] = await open(tablet, `${CERTIFIED}/orders`);
  expect([status, text]).toEqual([401, expect.stringContaining('This device was not let in.')]);
}

/** The drive of the second place lies elsewhere and is found in a folder of the machine alone. */
async function pullTheDriveDuringACopy(): Promise<void> {
  const [drive, found] = [join(folder, 'drive'), join(folder, 'media')];
  for (const path of [drive, found]) mkdirSync(path);
  const onMachine = (...command: string[]) =>
    execFileSync('nsenter', [`--mount=/proc/${serving.pid}/ns/mnt`, ...command], { stdio: 'pipe' });
  const plugIn = () => onMachine('mount', '--bind', drive, found);
  plugIn();
  // The book makes its first copy by itself, half a minute after it was opened: what follows is about the next.
  await expect.poll(() => copiesIn(join(data, COPIES)).length).toBeGreaterThan(0);
  await expect.poll(saysOfCopies).not.toBe('still');
  await keeper('open', `${AT_MACHINE}/setup/copies`);
  await keeper('fill', '#f-second', found);
  await keeper('pressUntil', 'form[action="/setup/copies"] button', 'The rules of the copies are changed.');
  const makeCopy = async () => {
    await keeper('press', 'form[action="/setup/copies/made"] button');
    return saysOfCopies;
  };
  const photosOn = (place: string) => {
    try {
      return readdirSync(join(place, PHOTOS)).filter((name) => name.endsWith('.jpg')).length;
    } catch {
      return 0;
    }
  };

  // A busy machine may have carried all before it is stopped in the midst of it: then it is tried anew.
  let broken: Awaited<ReturnType<typeof makeCopy>>;
  let copying: number[];
  for (let tries = 1; ; tries++) {
    broken = await makeCopy();
    await expect.poll(() => photosOn(drive), { interval: 1 }).toBeGreaterThan(0);
    copying = childrenOf(serving);
    signal(copying, 'SIGSTOP');
    if (photosOn(drive) < PHOTO_COUNT) break;
    expect(tries).toBeLessThan(20);
    signal(copying, 'SIGCONT');
    await expect.poll(broken).not.toBe('still');
    for (const name of readdirSync(join(drive, PHOTOS))) rmSync(join(drive, PHOTOS, name));
  }
  onMachine('umount', '--lazy', found);
  signal(copying, 'SIGCONT');
  await expect.poll(broken).toContain('The last try failed: the drive or folder is not there');
  // Nothing was written in the drive's stead, and at home the copy is whole.
  expect(readdirSync(found)).toEqual([]);
  expect(photosOn(join(data, COPIES))).toBe(PHOTO_COUNT);

  plugIn();
  const whole = await makeCopy();
  await expect.poll(whole).not.toMatch(/^still$|The last try failed/);
  expect(photosOn(drive)).toBe(PHOTO_COUNT);
  await putBackLastNightsCopy(drive);
}

/** What the page of the copies says, once none is being made. */
async function saysOfCopies(): Promise<string> {
  await keeper('open', `${AT_MACHINE}/setup/copies`);
  const text = (await keeper('textOf', 'main')) as string;
  return text.includes('A copy is being made') ? 'still' : text;
}

function signal(pids: readonly number[], name: NodeJS.Signals): void {
  for (const pid of pids) process.kill(pid, name);
}

/** The processes that a program has started, as proc(5) tells them. */
function childrenOf({ pid }: ChildProcess): number[] {
  const told = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8');
  return told.split(' ').filter(Boolean).map(Number);
}

async function putBackLastNightsCopy(drive: string): Promise<void> {
  await stop();
  const [copy] = copiesIn(drive);
  const lastNight = await exported(data);
  // The next day.
  await serve();
  await keeper('open', `${AT_MACHINE}/setup/people`);
  await keeper('fill', '#f-name', 'Somebody of today');
  await keeper('pressUntil', 'main button.main', 'Somebody of today works here now.');
  await stop();
  expect(await exported(data)).toContain('Somebody of today');

  const elsewhere = join(folder, 'put back');
  const said = await atTerminal('', 'restore', join(drive, copy?.name ?? ''), '--data', elsewhere);
  expect(said).toMatch(/^The copy is proven and is /);
  // Told apart by what they come to: they are too long to be shown beside each other.
  const sum = (text: string) => createHash('sha256').update(text).digest('hex');
  expect(sum(await exported(elsewhere))).toBe(sum(lastNight));
  expect(readdirSync(join(elsewhere, PHOTOS)).sort()).toEqual(readdirSync(join(data, PHOTOS)).sort());

  // And the book itself has each cut once: three of the phone, one of the keeper.
  const opened = await openBook(data, { clock: () => new Date() });
  const { db } = opened;
  const cuts = opened.all(
    db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('request', 'request.key', 'entry.request_key')
      .innerJoin('person', 'person.id', 'request.person_id')
      .select(['person.name', 'entry.strips'])
      .where('piece.code', '=', book.bolt)
      .where('entry.kind', '=', 'cut')
      .orderBy('entry.id'),
  );
  const { findings } = checkBook(opened);
  opened.close();
  expect(findings).toEqual([]);
  expect(cuts).toEqual([
    ...[1, 2, 3].map(() => ({ name: book.hand, strips: 2 })),
    { name: book.keeper, strips: 2 },
  ]);
}

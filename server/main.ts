import { once } from 'node:events';
import { existsSync, readFileSync } from 'node:fs';
import { getCompileCacheDir } from 'node:module';
import { homedir } from 'node:os';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildApp } from './app.ts';
import { readWorkroomPlan } from './by-when/plan.ts';
import { type Command, HELP, Misused, readCommand } from './command-line.ts';
import { copierOf } from './copies/copier.ts';
import { exportTo } from './copies/export-to.ts';
import { backUp } from './copies/from-terminal.ts';
import { carryPhotos, checkPhotos } from './copies/photos.ts';
import { putBack } from './copies/put-back.ts';
import type { Book } from './database/book.ts';
import { isDamage } from './database/driver-errors.ts';
import { CannotOpen } from './database/folder.ts';
import { openBook } from './database/open.ts';
import { type BookCopy, openCopy } from './database/open-copy.ts';
import { photosNamedIn } from './database/photo-files.ts';
import { sayTrouble } from './database/trouble.ts';
import { dayOf } from './kit/when.ts';
import { countOf } from './kit/words.ts';
import { checkBalances, checkBook } from './ledger/check.ts';
import { exportWorkroom, importWorkroom, NotTaken } from './ledger/whole-workroom.ts';
import { someKeeperHasPassphrase } from './let-in/secrets.ts';
import { inviteInTerminal, type TerminalInvitation } from './network/invite-in-terminal.ts';
import { readSecretLine, resetPassphrase } from './setup/reset-passphrase.ts';
import { ENGINE_FLAGS } from './setup/service/command.ts';
import { installService } from './setup/service/install.ts';
import { keptNeedsOf } from './short/kept.ts';
import { closer, closeWhenAsked } from './stopping.ts';

const clock = () => new Date();

try {
  process.exitCode = await run(readCommand(process.argv.slice(2), process.env, process.platform));
} catch (error) {
  process.exitCode = fail(error);
}

async function run(command: Command): Promise<number> {
  switch (command.name) {
    case 'help':
      process.stdout.write(HELP);
      return 0;
    case 'version':
      process.stdout.write(`${readVersion()}\n`);
      return 0;
    case 'check':
      return check(openCopy(command.folder, { clock }));
    case 'export':
      return writeOut(openCopy(command.folder, { clock }), command.to);
    case 'import':
      return takeIn(await open(command.folder), command.file);
    case 'backup':
      return backup(command.folder, command.to);
    case 'restore':
      return restore(command.folder, command.file);
    case 'serve':
      return serve(await open(command.folder), command, (book) => copierOf(book).begin());
    case 'passphrase':
      return setPassphrase(await open(command.folder), command.person);
    case 'invite':
      return invite(command);
    case 'install-service':
      return installIt(command);
    case 'demo': {
      // Nobody who serves a workroom of their own waits for the invented one.
      const { seedDemo } = await import('../seed-demo/seed.ts');
      const book = await open(command.folder);
      if (!book.trouble) seedDemo(book, clock());
      return serve(book, command);
    }
  }
}

function open(folder: string): Promise<Book> {
  return openBook(folder, { clock, prove: checkBalances, say: (sentence) => tell(sentence, 0) });
}

function check(copy: BookCopy): number {
  try {
    const { findings, read } = checkBook(copy.book);
    // Of an older book that is damaged only this is sure: it has not the form that the rest is proved by.
    const told = copy.damage.length > 0 ? copy.damage : [...findings, ...checkPhotos(copy.book)];
    for (const finding of told) process.stderr.write(`${finding}\n`);
    const counts = `${read.entries} entries of ${read.pieces} pieces, ${read.holds} holds, ${read.requests} requests read`;
    process.stdout.write(
      `${counts}: ${told.length === 0 ? 'everything agrees' : `${told.length} findings`}\n`,
    );
    return told.length === 0 ? 0 : 1;
  } finally {
    copy.close();
  }
}

/** Waits whenever whoever reads falls behind, so that a large book is never held whole. */
async function writeOut(copy: BookCopy, to: string | null): Promise<number> {
  try {
    if (to !== null) {
      const { path, photos, wrong } = exportTo(copy.book, to);
      for (const one of wrong) tell(one, 0);
      process.stdout.write(`The workroom is in ${path}, with ${countOf(photos, 'photo', 'photos')}\n`);
      return 0;
    }
    for (const part of exportWorkroom(copy.book)) {
      if (!process.stdout.write(part)) await once(process.stdout, 'drain');
    }
    const photos = photosNamedIn(copy.book.connection).length;
    if (photos > 0)
      tell(`${countOf(photos, 'photo', 'photos')} not written: "export --to FOLDER" takes photos along`, 0);
    return 0;
  } finally {
    copy.close();
  }
}

function takeIn(book: Book, file: string): number {
  try {
    if (book.trouble) throw new CannotOpen(book.trouble.said);
    const text = readFileSync(file, 'utf8');
    carryPhotos(dirname(resolve(file)), dirname(book.file), { mends: true });
    importWorkroom(book, text);
    for (const wrong of checkPhotos(book)) tell(wrong, 0);
    process.stdout.write(`The workroom of ${file} is in ${book.file}\n`);
    return 0;
  } finally {
    book.close();
  }
}

async function backup(folder: string, to: string | null): Promise<number> {
  const { path, bytes } = await backUp(folder, to, clock().toISOString());
  process.stdout.write(`A proven copy of ${(bytes / 1e6).toFixed(1)} MB is ${path}\n`);
  return 0;
}

function restore(folder: string, file: string): number {
  const { file: book, setAside, photos } = putBack(file, folder, clock().toISOString());
  for (const wrong of photos) tell(wrong, 0);
  const former = setAside === null ? '' : `; what lay there is in ${setAside}`;
  process.stdout.write(`The copy is proven and is ${book}${former}\n`);
  return 0;
}

/** Recovery is here and nowhere else: whoever sits at the machine may stop the program and set a passphrase anew. */
async function setPassphrase(book: Book, name: string): Promise<number> {
  try {
    if (book.trouble) throw new CannotOpen(book.trouble.said);
    const said = await resetPassphrase(book, name, () =>
      readSecretLine(process.stdin, process.stderr, 'New passphrase'),
    );
    process.stdout.write(`${said}\n`);
    return 0;
  } finally {
    book.close();
  }
}

async function invite(asked: TerminalInvitation): Promise<number> {
  const said = await inviteInTerminal(asked, (keeper) =>
    readSecretLine(process.stdin, process.stderr, `Passphrase of ${keeper}`),
  );
  process.stdout.write(said);
  return 0;
}

/** What a person types as "npm start", with every path whole. */
function installIt({ folder, port, network }: Serving & { readonly folder: string }): number {
  const machine = {
    platform: process.platform,
    env: process.env,
    home: homedir(),
    isAdministrator: process.getuid?.() === 0,
    hasSystemd: existsSync('/run/systemd/system'),
  };
  const script = fileURLToPath(new URL('start.js', import.meta.url));
  const where = ['--data', resolve(folder), '--port', String(port), ...(network ? ['--network'] : [])];
  const command = { program: process.execPath, args: [...ENGINE_FLAGS, script, 'serve', ...where] };
  process.stdout.write(installService(machine, command));
  return 0;
}

interface Serving {
  readonly port: number;
  readonly network: boolean;
}

async function serve(
  book: Book,
  { port, network }: Serving,
  begin: (book: Book) => void = () => undefined,
): Promise<number> {
  // Processes of ours read what was compiled before only from a folder that the environment names.
  const compiled = getCompileCacheDir();
  if (compiled !== undefined) process.env.NODE_COMPILE_CACHE = dirname(compiled);
  if (book.trouble) tell(sayTrouble(book.trouble, book.file), 0);
  if (network && !someKeeperHasPassphrase(book)) {
    book.close();
    throw new CannotOpen(
      'no keeper has a passphrase yet: open Setup, Network at this computer first, or run "passphrase NAME"',
    );
  }
  foresee(book);
  const app = buildApp(book, { level: 'warn', stream: process.stderr }, { always: network });
  const close = closer(app, book);
  closeWhenAsked(process, close, process.env.npm_lifecycle_event !== undefined);
  try {
    process.stdout.write(`Clothroom is open at ${await app.listen({ host: '127.0.0.1', port })}\n`);
    await app.network.look();
    const { isOn, origin, addresses, failure } = app.network.state;
    if (isOn && addresses.length > 0) process.stdout.write(`On the network it is open at ${origin}\n`);
    else if (isOn) tell(failure || 'this computer is not on the workroom’s network: no phone reaches it', 0);
    begin(book);
  } catch (error) {
    await close();
    throw error;
  }
  return 0;
}

/** Works out what the first page asks, before anybody else can wait for it. */
function foresee(book: Book): void {
  try {
    // It asks what is needed first; where that is not all at once, the rest goes on between requests.
    readWorkroomPlan(book, dayOf(book.now()));
    keptNeedsOf(book)?.begin();
  } catch {
    // Nobody asked: whoever does meets it again, and is told.
  }
}

/** Tells in one line what failed, and gives the exit status. */
function fail(error: unknown): number {
  if (error instanceof Misused) return tell(`${error.message}; see --help`, 2);
  if (error instanceof CannotOpen || error instanceof NotTaken) return tell(error.message, 1);
  if (isDamage(error))
    return tell(`the book is damaged: ${(error as Error).message}; run "check" for all of it`, 1);
  if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return tell(error.message, 1);
  if (error instanceof Error && 'code' in error && error.code === 'EADDRINUSE') {
    return tell('the port is taken: choose another with --port, or 0 for any', 1);
  }
  return tell(error instanceof Error ? (error.stack ?? error.message) : String(error), 1);
}

function tell(message: string, status: number): number {
  process.stderr.write(`clothroom: ${message}\n`);
  return status;
}

function readVersion(): string {
  const text = readFileSync(new URL('../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}

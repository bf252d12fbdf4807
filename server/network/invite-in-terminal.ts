import { z } from 'zod';
import { CannotOpen } from '../database/folder.ts';
import { mintKey } from '../kit/request-key.ts';

/** A device that is let in from a terminal of the machine. */
export interface TerminalInvitation {
  readonly device: string;
  /** whose own it is; null where it is shared */
  readonly person: string | null;
  /** who lets it in; null where there is one keeper only */
  readonly keeper: string | null;
  /** where Clothroom is open */
  readonly port: number;
}

const PEOPLE = z.object({ people: z.array(z.object({ id: z.number(), name: z.string() })) });
const INVITATION = z.object({ code: z.string(), href: z.string(), origin: z.string(), minutes: z.number() });
const ERROR = z.object({
  error: z.object({ message: z.string(), problems: z.array(z.object({ message: z.string() })) }),
});

/**
 * Lets a device in as a keeper does on the page, for machines that nobody sits at: asks the Clothroom that is open there,
 * by its own rules. What is to be told at the terminal.
 *
 * @param readPassphrase asks the keeper of this name for it
 * @throws {CannotOpen} with a sentence for the terminal where no device is let in
 */
export async function inviteInTerminal(
  { device, person, keeper, port }: TerminalInvitation,
  readPassphrase: (keeper: string) => Promise<string>,
): Promise<string> {
  const machine = new Machine(port);
  const keepers = await machine.ask('/who/keeper', PEOPLE);
  const asking = keeper === null ? onlyOne(keepers.people) : named(keepers.people, keeper, 'keeper');
  const personId =
    person === null ? '' : named((await machine.ask('/who', PEOPLE)).people, person, 'person').id;
  const passphrase = await readPassphrase(asking.name);
  await machine.send('/who/keeper', { person_id: asking.id, passphrase });
  try {
    const fields = { request_key: mintKey(), device_name: device, person_id: personId };
    const { href, code, origin, minutes } = INVITATION.parse(
      await machine.send('/setup/devices/invitations', fields),
    );
    return `${device} is let in by this link, once, for ${minutes} minutes:\n${href}\nOr open ${origin}/join there and type\n${code}\n`;
  } finally {
    await machine.send('/who/done', {});
  }
}

interface Named {
  readonly id: number;
  readonly name: string;
}

function onlyOne(keepers: readonly Named[]): Named {
  const [first, second] = keepers;
  if (first && !second) return first;
  throw new CannotOpen(
    `say which keeper lets it in: --as ${keepers.map(({ name }) => `"${name}"`).join(' or ')}`,
  );
}

function named(people: readonly Named[], name: string, what: 'keeper' | 'person'): Named {
  const found = people.find((one) => one.name === name);
  if (found) return found;
  const known = people.map((one) => one.name).join(', ');
  throw new CannotOpen(`there is no ${what} of the name ${name}, only ${known}`);
}

/** The Clothroom that is open on this machine, asked as a browser asks it. */
class Machine {
  readonly #origin: string;
  #cookie = '';

  constructor(port: number) {
    this.#origin = `http://127.0.0.1:${port}`;
  }

  async ask<T>(path: string, shape: z.ZodType<T>): Promise<T> {
    const { status, data } = await this.#fetch(path, {});
    // Without the network nobody says who they are.
    if (status === 303)
      throw new CannotOpen('the network is off: switch it on under Setup, Network, or start with --network');
    const read = shape.safeParse(data);
    if (read.success) return read.data;
    throw new CannotOpen(`what answers at ${this.#origin} is not this Clothroom`);
  }

  async send(path: string, fields: Readonly<Record<string, string | number>>): Promise<unknown> {
    const { status, data } = await this.#fetch(path, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(fields),
    });
    if (status < 400) return data;
    const refused = ERROR.safeParse(data);
    throw new CannotOpen(
      refused.data?.error.problems[0]?.message ?? refused.data?.error.message ?? `refused (${status})`,
    );
  }

  async #fetch(path: string, asked: RequestInit): Promise<{ status: number; data: unknown }> {
    const own = {
      accept: 'application/json',
      origin: this.#origin,
      ...(this.#cookie && { cookie: this.#cookie }),
    };
    let answer: Response;
    try {
      answer = await fetch(`${this.#origin}${path}`, {
        ...asked,
        redirect: 'manual',
        headers: { ...own, ...asked.headers },
      });
    } catch {
      throw new CannotOpen(
        `Clothroom is not open at ${this.#origin}: start it, or name its port with --port`,
      );
    }
    const [cookie] = answer.headers.getSetCookie();
    if (cookie !== undefined) this.#cookie = cookie.split(';')[0] ?? '';
    const text = await answer.text();
    return { status: answer.status, data: readJson(text) };
  }
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

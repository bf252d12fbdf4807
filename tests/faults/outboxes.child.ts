import '../../views/assets/unsent-rules.js';
import { setTimeout as wait } from 'node:timers/promises';
import type { Outbox, Sent } from './outbox.ts';
import { seededChance } from './scale.ts';

// People at their devices, each of whom sends one piece of work after another as the outbox of a page does: under a key of
// person, device and book, and again until the book has answered it. It runs on the other machine of a network. Each
// answer is a line; once its input ends, each sees the last through and it says how often something was sent again.

const { verdictOf } = (globalThis as unknown as { unsentRules: { verdictOf(status: number): string } })
  .unsentRules;
const [origin = '', given = '[]', ...pieces] = process.argv.slice(2);
const outboxes = JSON.parse(given) as Outbox[];

const tell = (told: object) => process.stdout.write(`${JSON.stringify(told)}\n`);
let sentAgain = 0;
let isOver = false;
process.stdin.resume().once('end', () => {
  isOver = true;
});

await Promise.all(outboxes.map(work));
tell({ sentAgain });

async function work(outbox: Outbox, lane: number): Promise<void> {
  const chance = seededChance(lane);
  const answered: Sent[] = [];
  for (let at = 0; !isOver; at += 1) {
    const sent = formOf(outbox, lane, at);
    const status = await untilAnswered(outbox, sent);
    if (status === 200) answered.push(sent);
    tell(status === 200 ? sent : { wrong: `${sent.path} was answered with ${status}` });
    // Now and then somebody sends a form that was answered once more, as from a page gone back to.
    const earlier = answered[Math.floor(chance() * answered.length)];
    if (earlier && chance() < 0.2) {
      const again = await untilAnswered(outbox, earlier);
      if (again !== 200) tell({ wrong: `${earlier.path}, sent again, was answered with ${again}` });
    }
    await wait(5);
  }
}

function formOf({ prefix }: Outbox, lane: number, at: number): Sent {
  const key = `${prefix}${lane}-form-${at}-${process.pid}`;
  const path = `/shelf/pieces/${pieces[(lane + at) % pieces.length]}`;
  const use = { all: '', kind: 'repair', garment: '', note: `${lane} ${at}` };
  switch (at % 4) {
    case 0:
      return { key, path: `${path}/splits`, fields: { length: '1 cm', place_id: '', why: '' }, entries: 2 };
    case 1:
      return {
        key,
        path: `${path}/write-offs`,
        fields: { length: '2 mm', why: `${lane} ${at}` },
        entries: 1,
      };
    case 2:
      return { key, path: `${path}/uses`, fields: { ...use, length: '3 mm', doing: 'hold' }, entries: 1 };
    default:
      return { key, path: `${path}/uses`, fields: { ...use, length: '4 mm', doing: 'cut' }, entries: 1 };
  }
}

async function untilAnswered({ cookie }: Outbox, { key, path, fields }: Sent): Promise<number> {
  const begun = Date.now();
  for (;;) {
    const status = await send(cookie, key, path, fields, begun);
    if (verdictOf(status) !== 'later') return status;
    // Nobody answered, or only half: whether it was saved is not known.
    sentAgain += 1;
    await wait(50);
  }
}

async function send(
  cookie: string,
  key: string,
  path: string,
  fields: Readonly<Record<string, string>>,
  begun: number,
): Promise<number> {
  try {
    const reply = await fetch(`${origin}${path}`, {
      method: 'POST',
      headers: {
        accept: 'application/json',
        'content-type': 'application/x-www-form-urlencoded;charset=UTF-8',
        'clothroom-waited': String(Math.floor((Date.now() - begun) / 1000)),
        cookie,
        origin,
      },
      body: new URLSearchParams({ request_key: key, ...fields }),
      redirect: 'manual',
      signal: AbortSignal.timeout(8000),
    });
    await reply.text();
    return reply.status;
  } catch {
    return 0;
  }
}

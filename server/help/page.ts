import { unknown } from '../refusal.ts';
import type { Page } from '../web/page-frame.ts';
import { ROOMS } from '../web/shell-data.ts';
import { KEYS, PRESSED_WITH } from './keys.ts';
import { ROOM_HELP } from './rooms.ts';

export const HELP_PATH = '/help';

/** The help of a room: its words, its sums, and the keys of every page. @throws {Refusal} unknown */
export function helpPage(key: string) {
  const room = ROOMS.find((each) => each.key === key);
  if (!room) throw unknown('help for such a room');
  const data = {
    room: { name: room.name, href: room.href },
    ...ROOM_HELP[room.key],
    others: ROOMS.filter((each) => each !== room).map(({ key: other, name }) => ({
      name,
      href: `${HELP_PATH}/${other}`,
    })),
    keys: KEYS,
    pressedWith: PRESSED_WITH,
  };
  return { title: `Help: ${room.name}`, room: room.key, view: '/help/help', data } satisfies Page;
}

import type { FastifyInstance } from 'fastify';
import { Refusal } from '../refusal.ts';
import { answering } from '../web/answering.ts';
import { TOLD } from '../web/bench-work.ts';
import type { House } from '../web/house.ts';
import { toldForm } from './form.ts';
import { TOLD_PATH, whatHappenedPage } from './page.ts';
import { readSentWork, refuseSaved } from './sent.ts';
import { tellWhatHappened } from './telling.ts';

/** Work that a device kept and the book refused: a person says what really happened, and that is entered. */
export function unsentRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { takeForm } = answering(app, house);

  // The device hands over what it kept; nothing is written yet.
  takeForm('/unsent', ({ asker, typed, show }) =>
    show({ ...whatHappenedPage(book, readSentWork(typed, book.now()), asker), saves: false }),
  );

  takeForm(TOLD_PATH, ({ asker, typed, save }) => {
    const sent = readSentWork(typed, book.now());
    // Under one key for each, so that each is told once.
    if (typed.request_key !== `${sent.key}${TOLD}`)
      throw new Refusal('malformed', 'This is told under the key of what was sent, with -told behind it.');
    return save({
      schema: toldForm(asker.units),
      doneAt: sent.doneAt,
      write: (tx, form) => {
        refuseSaved(book.answerOf(sent.key));
        return tellWhatHappened(tx, sent, form, asker);
      },
      redraw: (again) => whatHappenedPage(book, sent, asker, again),
    });
  });
}

import type { FastifyInstance } from 'fastify';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { readOpenTiers, type TakeTold, tierHoldForm } from './hold.ts';
import { takePage } from './page.ts';

/**
 * The question stands in its address alone, so that it can be kept. What is taken is taken of the piece; a tier's hold is
 * the cutting table's, which says what stands against it, too.
 */
export function takeRoutes(app: FastifyInstance, house: House, { holdForTier, holdPage }: TakeTold): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  showPage('/take', ({ asker, typedInAddress }) => takePage(book, asker, typedInAddress));
  takeForm('/take/holds', ({ asker, typed, typedInAddress, save }) => {
    const chosen = readOpenTiers(book).find(({ tierId }) => String(tierId) === typed.tier);
    return save({
      schema: tierHoldForm(book, asker.units),
      write: (tx, { tier, ...form }) =>
        holdForTier(tx, chosen?.garmentCode ?? '', tier, { ...form, lots_meet: false }, asker),
      redraw: ({ tier: _, ...again }) =>
        chosen
          ? holdPage(book, chosen.garmentCode, chosen.tierId, asker, {
              piece: again.piece ?? '',
              typed: again,
            })
          : takePage(book, asker, typedInAddress),
    });
  });
}

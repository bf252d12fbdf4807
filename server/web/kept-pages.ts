import { randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { Refusal } from '../refusal.ts';
import type { House } from './house.ts';
import { keyOf, type Page, sendPage } from './page.ts';

/** A page that answered a form, and the status that it was answered with. */
export interface KeptPage {
  readonly page: Page;
  readonly status: number;
}

/** So many forms may be open at once in a workroom; the one answered longest ago is dropped. */
const MOST_KEPT = 100;

/**
 * Pages that answered a form without saving it. A browser is sent on to them, so that its history holds no page that
 * was reached by POST: Back never asks to resend a form.
 */
export class KeptPages {
  readonly #pages = new Map<string, KeptPage>();

  /** Where the page can be seen from now on. */
  keep(kept: KeptPage): string {
    const [oldest] = this.#pages.keys();
    if (this.#pages.size >= MOST_KEPT && oldest !== undefined) this.#pages.delete(oldest);
    const token = randomUUID();
    this.#pages.set(token, kept);
    return `/forms/${token}`;
  }

  /** @throws {Refusal} unknown once it is no longer kept */
  read(token: string): KeptPage {
    const kept = this.#pages.get(token);
    if (kept) return kept;
    throw new Refusal('unknown', 'This page is no longer kept. Go back to the form and send it again.');
  }
}

export function keptPageRoutes(app: FastifyInstance, house: House): void {
  app.get<{ Params: { token: string } }>('/forms/:token', (request, reply) => {
    const { page, status } = house.keptPages.read(request.params.token);
    const key = keyOf(page);
    const savedSince = !page.savedBefore && key !== null && house.book.answerOf(key) !== undefined;
    if (savedSince) return sendPage(house, request, reply, { ...page, problems: [] }, 200);
    return sendPage(house, request, reply, page, status);
  });
}
